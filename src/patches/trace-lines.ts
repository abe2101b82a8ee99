/*
 * Lines traced on one layer's surface, with their ends joined: an end near another line takes a place of that line's path, so that both share
 * one vertex; an end just inside an area runs on to its border.
 */
import type { Finding } from '../base/failure.ts';
import { Failure, finding } from '../base/failure.ts';
import { lineSnapMm } from '../base/tolerance.ts';
import type { PaintField } from '../areas/paint-field.ts';
import type { LineMark } from '../lines/line.ts';
import { linePath } from '../lines/line-path.ts';
import { snapCandidates } from '../lines/snap.ts';
import { gradientAt, walkStraight } from '../lines/straight-walk.ts';
import { joinPaths, nodePlace, pathOf, pointOf } from '../lines/surface-path.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import type { Surface } from '../standoff/surface.ts';
import type { Ground } from './land-marks.ts';
import type { LandedLine } from './resolve-lines.ts';

export interface TracedLine {
  readonly id: string;
  readonly mark: LineMark;
  readonly path: SurfacePath;
  /** Whether its first and its last end were joined to another line. */
  readonly isJoined: readonly [boolean, boolean];
}

/** Lines that cut; drawn and reference lines only mark. */
export const isCutting = (mark: LineMark): boolean => mark.kind !== 'drawn' && mark.kind !== 'reference';

interface Draft {
  readonly line: LandedLine;
  points: SurfacePoint[];
  path: SurfacePath;
  readonly isJoined: [boolean, boolean];
}

/** Traces lines on a surface and joins their ends; a line that cannot be traced is a finding. */
export function traceLines(
  ground: Ground,
  surface: Surface,
  lines: readonly LandedLine[],
): { readonly traced: TracedLine[]; readonly findings: Finding[] } {
  const findings: Finding[] = [];
  const trace = (line: LandedLine, points: readonly SurfacePoint[]): SurfacePath =>
    linePath(surface.mesh, line.mark, points, ground.indexOf(surface));
  const drafts = lines.flatMap((line): Draft[] => {
    try {
      const points = line.points.map((point) => ground.onSurface(surface, point));
      return [{ line, points, path: trace(line, points), isJoined: [false, false] }];
    } catch (error) {
      if (!(error instanceof Failure)) throw error;
      findings.push(finding('severe', error.code, error.what, { ...error.where, stage: 'draw', item: line.id }, error.mend));
      return [];
    }
  });
  // Two rounds: first to lines before, which stand by then, and to the middles of lines after; what a later join moved is caught in the second.
  for (let round = 0; round < 2; round++)
    for (const [i, draft] of drafts.entries())
      if (isCutting(draft.line.mark) && !draft.line.mark.closed) joinEndsOf(surface.mesh, drafts, i, trace);
  return { traced: drafts.map(({ line, path, isJoined }) => ({ id: line.id, mark: line.mark, path, isJoined })), findings };
}

function joinEndsOf(
  mesh: HalfEdgeMesh,
  drafts: readonly Draft[],
  i: number,
  trace: (line: LandedLine, points: readonly SurfacePoint[]) => SurfacePath,
): void {
  const draft = drafts[i];
  let moved = false;
  for (const end of [0, 1] as const) {
    const at = nodePlace(mesh, draft.path.nodes[end === 0 ? 0 : draft.path.nodes.length - 1]);
    const others = drafts.flatMap((other, j) => {
      if (j === i || !isCutting(other.line.mark)) return [];
      // Of two ends that nearly meet the later line's gives way.
      return snapCandidates(mesh, other.path, at, lineSnapMm).filter((candidate) => j < i || !candidate.isEnd);
    });
    others.sort((a, b) => Number(b.isEnd) - Number(a.isEnd) || a.distanceMm - b.distanceMm);
    const best = others.at(0);
    if (!best) continue;
    draft.isJoined[end] = true;
    draft.points[end === 0 ? 0 : draft.points.length - 1] = best.point;
    moved = true;
  }
  if (moved) draft.path = trace(draft.line, draft.points);
}

/** How far past a border a line that reaches for it runs, mm. */
const pastBorderMm = 0.5;

/** The lines with ends that lie inside an area, within `lineSnapMm` of its border, led straight on past the border. */
export function reachBorders(mesh: HalfEdgeMesh, lines: readonly TracedLine[], fields: readonly PaintField[]): TracedLine[] {
  return lines.map((line) => {
    if (!isCutting(line.mark) || line.path.closed) return line;
    const ends = [line.path.nodes[0], line.path.nodes[line.path.nodes.length - 1]] as const;
    const tails = ends.map((node, end) => (line.isJoined[end] ? undefined : tailFrom(mesh, pointOf(mesh, node), fields)));
    if (!tails[0] && !tails[1]) return line;
    const first = tails[0] && pathOf(mesh, [...tails[0].nodes].reverse(), false);
    const parts = [first, line.path, tails[1]].filter((part) => part !== undefined);
    return { ...line, path: joinPaths(mesh, parts, false) };
  });
}

function tailFrom(mesh: HalfEdgeMesh, end: SurfacePoint, fields: readonly PaintField[]): SurfacePath | undefined {
  for (const field of fields) {
    const value = field.at(end);
    if (value >= 0 || value < -lineSnapMm) continue;
    const tail = walkStraight(
      mesh,
      end,
      gradientAt(mesh, (point) => field.at(point), end),
      pastBorderMm - value,
    );
    if (field.at(pointOf(mesh, tail.nodes[tail.nodes.length - 1])) > 0) return tail;
  }
  return undefined;
}
