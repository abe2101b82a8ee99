/*
 * Pin-free conformal map: among all maps the one with the least conformal energy for its size on the border,
 *   min zᴴ K z  with  Σ_border s_v |z_v|² = 1 and Σ_border s_v z_v = 0,   i.e. K z = λ B z, smallest λ but the constants' 0,
 * K = L − 2i·F as in `conformal`. No vertex is special, so a jagged rim or a pin on one of its teeth cannot pull the map.
 * Departs from the source in B: there every border vertex weighs 1; here its share s_v of the border's length, so that a border that is
 * dense in one half does not pull the map to that half.
 * Solved by inverse iteration with one Hermitian factorisation of K + δB; the start is the border wound round a circle by arc length.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { spectralTolerance } from '../base/tolerance.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import { multiply } from '../linalg/sparse.ts';
import type { OwnVector } from '../linalg/sparse.ts';
import { edgePattern } from '../mesh/cotangent.ts';
import type { EdgePattern } from '../mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../mesh/navigate.ts';
import { checkFlattenable } from './check.ts';
import { circleByLength } from './circle-border.ts';
import { conformalMatrix, conformalWeights, scaleToArea, unknownPositions } from './conformal.ts';
import type { FlattenMethod, FlattenOptions, PlaneMap } from './flatten-method.ts';
import { farthestBoundaryPair } from './pins.ts';
import { createStopwatch } from './stopwatch.ts';

/**
 * The spectral conformal map of a patch with any number of borders, scaled to equal total area, turned so that the two border vertices
 * farthest apart in space lie level, the lower index at the left.
 * @param mesh one connected, oriented patch with an open edge; positions in any unit, shape 3·n
 * @returns plane positions in the same unit, shape 2·n
 * @throws those of `checkFlattenable`; flatten/collapsed; linalg/*
 * @source [mullen2008] §3. Cost: one sparse Hermitian factorisation of n unknowns and about ten solves.
 */
export async function spectralMap(mesh: HalfEdgeMesh, options: FlattenOptions, run: Run): Promise<PlaneMap> {
  const watch = createStopwatch(options.clock);
  checkFlattenable(mesh);
  const vertexTotal = mesh.positions.length / 3;
  const weights = conformalWeights(mesh);
  const pattern = edgePattern(weights, vertexTotal, []);
  const matrix = conformalMatrix(weights, pattern, weights.half);
  const share = borderShares(mesh, pattern);
  const shifted = Float64Array.from(matrix.real);
  for (let i = 0; i < pattern.size; i++)
    shifted[pattern.columnStart[i]] += spectralTolerance.shift * (share[i] * borderCount(share) + 1 / pattern.size);
  watch.lap('assemble');
  const solver = await prepareSolver(matrix, { positions: unknownPositions(mesh, pattern), dimension: 3 }, run);
  watch.lap('order');
  await solver.factor({ ...matrix, real: shifted }, run);
  watch.lap('factor');
  const vector = startVector(mesh, pattern);
  normaliseInto(vector, share);
  let [iterations, converged, last] = [0, false, Infinity];
  while (iterations < spectralTolerance.stepLimit && !converged) {
    await run.breathe();
    iterations++;
    const right = { real: vector.real.map((x, i) => x * share[i]), imaginary: vector.imaginary.map((x, i) => x * share[i]) };
    solver.solveInto(vector, right);
    normaliseInto(vector, share);
    const product = multiply(matrix, vector);
    const value = dot(product.real, vector.real) + dot(product.imaginary, vector.imaginary);
    converged = Math.abs(last - value) <= spectralTolerance.settled * Math.abs(value) + spectralTolerance.flat;
    last = value;
  }
  solver.dispose();
  const plane = new Float64Array(2 * vertexTotal);
  for (let i = 0; i < pattern.size; i++) {
    plane[2 * pattern.unknownVertex[i]] = vector.real[i];
    plane[2 * pattern.unknownVertex[i] + 1] = vector.imaginary[i];
  }
  const positions = level(scaleToArea(mesh, plane), farthestBoundaryPair(mesh));
  watch.lap('solve');
  return { positions, iterations, converged, pins: [], seconds: watch.seconds() };
}

/** Share of the border's length at each unknown: half of its two border edges; sums to 1. */
function borderShares(mesh: HalfEdgeMesh, pattern: EdgePattern): Float64Array {
  const { positions: p, faces, twin } = mesh;
  const share = new Float64Array(pattern.size);
  let total = 0;
  for (let h = 0; h < faces.length; h++) {
    if (twin[h] !== -1) continue;
    const a = faces[h];
    const b = faces[h % 3 === 2 ? h - 2 : h + 1];
    const length = Math.hypot(p[3 * b] - p[3 * a], p[3 * b + 1] - p[3 * a + 1], p[3 * b + 2] - p[3 * a + 2]);
    share[pattern.vertexUnknown[a]] += length / 2;
    share[pattern.vertexUnknown[b]] += length / 2;
    total += length;
  }
  for (let i = 0; i < share.length; i++) share[i] /= total;
  return share;
}

function borderCount(share: F64): number {
  let count = 0;
  for (let i = 0; i < share.length; i++) if (share[i] > 0) count++;
  return count;
}

function startVector(mesh: HalfEdgeMesh, pattern: EdgePattern): OwnVector {
  const circle = circleByLength(mesh, boundaryLoops(mesh)[0]);
  const vector = { real: new Float64Array(pattern.size), imaginary: new Float64Array(pattern.size) };
  for (let i = 0; i < pattern.size; i++) {
    vector.real[i] = circle[2 * pattern.unknownVertex[i]];
    vector.imaginary[i] = circle[2 * pattern.unknownVertex[i] + 1];
  }
  return vector;
}

/** Border mean to 0, border size to 1. */
function normaliseInto(vector: OwnVector, share: F64): void {
  const x = dot(vector.real, share);
  const y = dot(vector.imaginary, share);
  let size = 0;
  for (let i = 0; i < share.length; i++) {
    vector.real[i] -= x;
    vector.imaginary[i] -= y;
    size += share[i] * (vector.real[i] * vector.real[i] + vector.imaginary[i] * vector.imaginary[i]);
  }
  const scale = 1 / Math.sqrt(size);
  for (let i = 0; i < share.length; i++) {
    vector.real[i] *= scale;
    vector.imaginary[i] *= scale;
  }
}

function dot(a: F64, b: F64): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** The map turned about the first vertex of the pair, put at the origin, so that the second lies level to its right. */
export function level(plane: F64, pair: readonly [number, number]): Float64Array {
  const [left, right] = [2 * pair[0], 2 * pair[1]];
  const x = plane[right] - plane[left];
  const y = plane[right + 1] - plane[left + 1];
  const length = Math.sqrt(x * x + y * y) || 1;
  const [cosine, sine] = [x / length, y / length];
  const turned = new Float64Array(plane.length);
  for (let i = 0; i < plane.length; i += 2) {
    const u = plane[i] - plane[left];
    const v = plane[i + 1] - plane[left + 1];
    turned[i] = cosine * u + sine * v;
    turned[i + 1] = cosine * v - sine * u;
  }
  return turned;
}

export const spectral: FlattenMethod = {
  name: 'spectral',
  title: 'Keeps angles without pins: spectral conformal map',
  rescaled: true,
  flatten: spectralMap,
};
