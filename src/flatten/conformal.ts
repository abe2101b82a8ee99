/*
 * Least-squares conformal map in its Hermitian form: n complex unknowns instead of 2n real ones.
 * With z = x + iy, E(z) = ½ Σ A (σ₁ − σ₂)² = ½ ∫|∇z|² − area = ½ zᴴ (L − 2i·F) z, where L is the cotangent Laplacian and the plane area is
 * zᴴ(iF)z with F_ab = −¼, F_ba = +¼ for every half-edge a → b. On an inner edge the two half-edges cancel, so F lives on the borders alone:
 *   K_ab = −w_ab + i/2 and K_ba = −w_ab − i/2 for an open half-edge a → b (face to its left), K_ab = −w_ab inside, K_aa = Σ w.
 * K is positive semi-definite, its kernel holds the constants; two pinned vertices take that and the similarity away.
 * These are the weights of the paper: a face's residual r = Σ W_j U_j (W_j its edge vectors) enters as |r|²/(2·2A), rows scaled by 1/√(2A).
 * Rows that are not scaled weigh each face by A², and on meshes that are dense in one half only put vertices 10 mm away on a 100 mm cap.
 */
import type { F64, I32, U32 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { poorCotangent } from '../base/tolerance.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import type { SparseMatrix } from '../linalg/sparse.ts';
import type { EdgePattern } from '../mesh/cotangent.ts';
import { edgePattern, halfCotangents, laplacianValues } from '../mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { intrinsicDelaunay, intrinsicHalfCotangents } from '../mesh/intrinsic-delaunay.ts';
import { checkFlattenable } from './check.ts';
import { planeArea } from './distortion.ts';
import { faceFrames, frameArea } from './face-frames.ts';
import type { FlattenMethod, FlattenOptions, PlaneMap } from './flatten-method.ts';
import { farthestBoundaryPair } from './pins.ts';
import { createStopwatch } from './stopwatch.ts';

/**
 * The Hermitian matrix K = L − 2i·F on a pattern.
 * @param mesh a triangulation with the patch's borders; its own, or an intrinsic one (then `half` are the intrinsic half cotangents)
 * @param half half cotangents, shape of `faces`
 * @source [levy2002] §2 the energy; [mullen2008] §2 Dirichlet energy minus area form
 */
export function conformalMatrix(mesh: Pick<HalfEdgeMesh, 'faces' | 'twin'>, pattern: EdgePattern, half: F64): SparseMatrix {
  const { faces, twin } = mesh;
  const imaginary = new Float64Array(pattern.row.length);
  for (let h = 0; h < faces.length; h++) {
    if (twin[h] !== -1 || pattern.halfEdgeEntry[h] === -1) continue;
    const a = faces[h];
    const b = faces[h % 3 === 2 ? h - 2 : h + 1];
    // The entry of the lower triangle is K_ab where a is the row (a > b), else K_ba.
    imaginary[pattern.halfEdgeEntry[h]] += a > b ? 0.5 : -0.5;
  }
  const { size, columnStart, row } = pattern;
  return { size, columnStart, row, real: laplacianValues(mesh, pattern, half), imaginary };
}

/** A triangulation and its half cotangents, from which `conformalMatrix` is built. */
export interface ConformalWeights {
  readonly faces: U32;
  readonly twin: I32;
  /** Shape of `faces`. */
  readonly half: F64;
}

/**
 * The weights of a patch: its own, or those of its intrinsic Delaunay triangulation where a face is so flat that its cotangents (above
 * 5,000) swallow the digits of all others. Only there: the faces that are cut are the patch's own, and measured on 11 patches cut from
 * bodies intrinsic weights left more of them turned over or squeezed flat (one face of a 20,000-face cup: ratio 77 instead of 1.8).
 */
export function conformalWeights(mesh: HalfEdgeMesh): ConformalWeights {
  const half = halfCotangents(mesh);
  let largest = 0;
  for (let h = 0; h < half.length; h++) if (Math.abs(half[h]) > largest) largest = Math.abs(half[h]);
  if (largest < poorCotangent / 2) return { faces: mesh.faces, twin: mesh.twin, half };
  const intrinsic = intrinsicDelaunay(mesh);
  return { faces: intrinsic.faces, twin: intrinsic.twin, half: intrinsicHalfCotangents(intrinsic) };
}

/** The conformal energy of a map as the quadratic form ½ zᴴ K z, squared unit of the plane. */
export function conformalForm(mesh: Pick<HalfEdgeMesh, 'faces' | 'twin'>, half: F64, plane: F64): number {
  const { faces, twin } = mesh;
  let energy = 0;
  for (let h = 0; h < faces.length; h++) {
    const a = 2 * faces[h];
    const b = 2 * faces[h % 3 === 2 ? h - 2 : h + 1];
    const x = plane[a] - plane[b];
    const y = plane[a + 1] - plane[b + 1];
    energy += 0.5 * half[h] * (x * x + y * y);
    if (twin[h] === -1) energy -= 0.5 * (plane[a] * plane[b + 1] - plane[a + 1] * plane[b]);
  }
  return energy;
}

/**
 * −K_fp z_p for the pinned vertices p.
 * @param pinned plane positions of the pinned vertices, others ignored; shape 2·n
 * @returns real and imaginary part, shape `pattern.size`
 */
function rightSide(
  mesh: Pick<HalfEdgeMesh, 'faces' | 'twin'>,
  pattern: EdgePattern,
  half: F64,
  pinned: F64,
): { real: Float64Array; imaginary: Float64Array } {
  const { faces, twin } = mesh;
  const real = new Float64Array(pattern.size);
  const imaginary = new Float64Array(pattern.size);
  for (let h = 0; h < faces.length; h++) {
    if (pattern.halfEdgeEntry[h] !== -1) continue;
    const va = faces[h];
    const vb = faces[h % 3 === 2 ? h - 2 : h + 1];
    const a = pattern.vertexUnknown[va];
    const b = pattern.vertexUnknown[vb];
    if (a < 0 === b < 0) continue;
    // Free a, pinned b: entry K_ab = −w + i/2. Free b, pinned a: K_ba = −w − i/2. The imaginary part on open half-edges only.
    const free = a < 0 ? b : a;
    const fixed = a < 0 ? va : vb;
    const turn = twin[h] === -1 ? (a < 0 ? -0.5 : 0.5) : 0;
    const x = pinned[2 * fixed];
    const y = pinned[2 * fixed + 1];
    real[free] += half[h] * x + turn * y;
    imaginary[free] += half[h] * y - turn * x;
  }
  return { real, imaginary };
}

/**
 * Least-squares conformal map of a patch with any number of borders, two of its vertices pinned, scaled to equal total area.
 * @param mesh one connected, oriented patch with an open edge; positions in any unit, shape 3·n
 * @param options.pins two vertices; without it the two border vertices farthest apart in space (`farthestBoundaryPair`)
 * @returns plane positions in the same unit, shape 2·n, the lower pin at the origin, the other to its right; faces counter-clockwise but
 * for flips, which this energy does not forbid: see `overlap`
 * @throws flatten/bad-pins, flatten/collapsed, those of `checkFlattenable`, linalg/*
 * @source [levy2002]. Cost: one sparse Hermitian factorisation of n unknowns.
 */
export async function conformalMap(mesh: HalfEdgeMesh, options: FlattenOptions, run: Run): Promise<PlaneMap> {
  const watch = createStopwatch(options.clock);
  checkFlattenable(mesh);
  const pins = choosePins(mesh, options.pins);
  const vertexTotal = mesh.positions.length / 3;
  const weights = conformalWeights(mesh);
  const pattern = edgePattern(weights, vertexTotal, pins);
  const matrix = conformalMatrix(weights, pattern, weights.half);
  const plane = new Float64Array(2 * vertexTotal);
  plane[2 * pins[1]] = distanceBetween(mesh, pins);
  const right = rightSide(weights, pattern, weights.half, plane);
  watch.lap('assemble');
  run.report('flatten', 0.1);
  const solver = await prepareSolver(matrix, { positions: unknownPositions(mesh, pattern), dimension: 3 }, run);
  watch.lap('order');
  await solver.factor(matrix, run);
  watch.lap('factor');
  run.report('flatten', 0.8);
  solver.solveInto(right, right);
  solver.dispose();
  for (let i = 0; i < pattern.size; i++) {
    plane[2 * pattern.unknownVertex[i]] = right.real[i];
    plane[2 * pattern.unknownVertex[i] + 1] = right.imaginary[i];
  }
  const positions = scaleToArea(mesh, plane);
  watch.lap('solve');
  return { positions, iterations: 1, converged: true, pins, seconds: watch.seconds() };
}

/** Positions in space of the unknowns of a pattern, shape 3·size: what the ordering goes by. */
export function unknownPositions(mesh: Pick<HalfEdgeMesh, 'positions'>, pattern: EdgePattern): Float64Array {
  const positions = new Float64Array(3 * pattern.size);
  for (let i = 0; i < pattern.size; i++)
    for (let k = 0; k < 3; k++) positions[3 * i + k] = mesh.positions[3 * pattern.unknownVertex[i] + k];
  return positions;
}

/**
 * The map scaled so that its plane area equals the surface area.
 * @throws flatten/collapsed if the plane area is not positive
 */
export function scaleToArea(mesh: HalfEdgeMesh, plane: F64): Float64Array {
  const flat = planeArea(mesh, plane);
  const scale = Math.sqrt(frameArea(faceFrames(mesh)) / flat);
  if (!(flat > 0) || !Number.isFinite(scale))
    throw new Failure(
      'flatten/collapsed',
      'The piece collapses to nothing when it is laid flat.',
      { stage: 'flatten' },
      'Draw a seam along it so that it can open.',
    );
  return Float64Array.from(plane, (value) => value * scale);
}

function choosePins(mesh: HalfEdgeMesh, asked: readonly [number, number] | undefined): readonly [number, number] {
  if (asked === undefined) return farthestBoundaryPair(mesh);
  const total = mesh.positions.length / 3;
  const pins = [Math.min(...asked), Math.max(...asked)] as const;
  const isUsed = (v: number): boolean => Number.isInteger(v) && v >= 0 && v < total && mesh.vertexHalfEdge[v] !== -1;
  if (!isUsed(pins[0]) || !isUsed(pins[1]) || pins[0] === pins[1] || !(distanceBetween(mesh, pins) > 0))
    throw new Failure(
      'flatten/bad-pins',
      `Vertices ${asked[0]} and ${asked[1]} cannot be the two pins.`,
      { stage: 'flatten' },
      `Name two different vertices from 0 to ${total - 1} that lie apart and belong to the piece, or leave the choice to Plastron.`,
    );
  return pins;
}

function distanceBetween(mesh: HalfEdgeMesh, pins: readonly [number, number]): number {
  const p = mesh.positions;
  const [a, b] = [3 * pins[0], 3 * pins[1]];
  return Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
}

export const conformal: FlattenMethod = {
  name: 'conformal',
  title: 'Keeps angles: least-squares conformal map',
  rescaled: true,
  flatten: conformalMap,
};
