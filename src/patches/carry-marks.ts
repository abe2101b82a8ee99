/*
 * Drawn and reference lines, fittings and names go with the patches: each straight stretch of a line is clipped to the faces that it
 * crosses, so that its points lie in patch faces and it stays straight in each.
 */
import { pathSnapShare } from '../base/tolerance.ts';
import { commonFace, weightsIn } from '../lines/surface-path.ts';
import type { SurfacePoint } from '../mesh/surface-point.ts';
import { facesInside, localWeights } from './imprint.ts';
import type { PatchMark } from './patch.ts';
import type { Refinement } from './refinement.ts';
import type { TracedLine } from './trace-lines.ts';

/** Where a face of the refinement ended up. */
export type FaceHome = (face: number) => { readonly piece: number; readonly face: number } | undefined;

/** The face and weights of a surface point in its piece; undefined where no piece has it. */
export function homeOf(
  refinement: Refinement,
  home: FaceHome,
  point: SurfacePoint,
): { readonly piece: number; readonly face: number; readonly weights: readonly [number, number, number] } | undefined {
  let best: { piece: number; face: number; weights: readonly [number, number, number] } | undefined;
  let most = -Infinity;
  for (const f of facesInside(refinement, point.face)) {
    const [u, v, w] = localWeights(refinement, point.face, f, point.weights[1], point.weights[2]);
    const place = home(f);
    const least = Math.min(u, v, w);
    if (!place || least <= most || least < -pathSnapShare) continue;
    most = least;
    best = { ...place, weights: clamped(u, v, w) };
  }
  return best;
}

function clamped(u: number, v: number, w: number): readonly [number, number, number] {
  const [a, b, c] = [Math.max(0, u), Math.max(0, v), Math.max(0, w)];
  const sum = a + b + c;
  return [a / sum, b / sum, c / sum];
}

interface Run {
  readonly piece: number;
  readonly faces: number[];
  readonly weights: number[];
  /** Place of the run's last point along the line, in stretches. */
  end: number;
}

/** The parts of a line in each piece. */
export function carryLine(
  refinement: Refinement,
  home: FaceHome,
  line: TracedLine,
): { readonly piece: number; readonly mark: PatchMark }[] {
  const { mark, path, id } = line;
  if (mark.kind !== 'drawn' && mark.kind !== 'reference') return [];
  const kind = mark.kind;
  const nodes = path.closed ? [...path.nodes, path.nodes[0]] : path.nodes;
  const runs: Run[] = [];
  for (let i = 1; i < nodes.length; i++) {
    const f = commonFace(refinement.base, nodes[i - 1], nodes[i]);
    const [a, b] = [weightsIn(refinement.base, nodes[i - 1], f), weightsIn(refinement.base, nodes[i], f)];
    const clips = facesInside(refinement, f).flatMap((face) => {
      const place = home(face);
      if (!place) return [];
      const [from, to] = [localWeights(refinement, f, face, a[1], a[2]), localWeights(refinement, f, face, b[1], b[2])];
      const [low, high] = insideShare(from, to);
      return high - low > pathSnapShare ? [{ ...place, low, high, from, to }] : [];
    });
    clips.sort((p, q) => p.low - q.low);
    for (const clip of clips) appendInto(runs, clip, i - 1);
  }
  return runs.map((run) => ({
    piece: run.piece,
    mark: {
      line: id,
      kind,
      closed: path.closed && runs.length === 1 && run.end >= nodes.length - 1 - pathSnapShare,
      points: { face: Uint32Array.from(run.faces), weights: Float64Array.from(run.weights) },
    },
  }));
}

interface Clip {
  readonly piece: number;
  readonly face: number;
  readonly low: number;
  readonly high: number;
  readonly from: readonly number[];
  readonly to: readonly number[];
}

function appendInto(runs: Run[], clip: Clip, stretch: number): void {
  let run = runs.at(-1);
  if (run?.piece !== clip.piece || Math.abs(run.end - stretch - clip.low) > 2 * pathSnapShare) {
    run = { piece: clip.piece, faces: [], weights: [], end: 0 };
    runs.push(run);
    pushInto(run, clip, clip.low);
  }
  pushInto(run, clip, clip.high);
  run.end = stretch + clip.high;
}

function pushInto(run: Run, clip: Clip, share: number): void {
  const [u, v, w] = [0, 1, 2].map((k) => (1 - share) * clip.from[k] + share * clip.to[k]);
  run.faces.push(clip.face);
  run.weights.push(...clamped(u, v, w));
}

/** The shares of a stretch, given by weights at its ends, for which all three weights are positive. */
function insideShare(from: readonly number[], to: readonly number[]): readonly [number, number] {
  let [low, high] = [0, 1];
  for (let k = 0; k < 3; k++) {
    const [a, b] = [from[k], to[k]];
    if (a < 0 && b < 0) return [1, 0];
    if (a < 0) low = Math.max(low, a / (a - b));
    else if (b < 0) high = Math.min(high, a / (a - b));
  }
  return [low, high];
}
