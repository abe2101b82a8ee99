/*
 * The plane of symmetry of a body: found from a few starts (the middle plane of the wearer's left and right, the principal axes, and turns about up) by
 * reflecting sample points, pairing each with the nearest point of the surface, and taking the plane that fits the pairs best, until it rests.
 * For pairs p, q with s = p + q − mean, δ = q − p, the best normal is the eigenvector of Σ w (s sᵀ − δ δᵀ) with the least eigenvalue, and the plane
 * goes through mean(p + q)/2. Pairs far apart count less, w = 1/(1 + (r/ρ)²), so that a lifted arm does not turn the plane.
 */
import type { Vec3 } from '../base/arrays.ts';
import { createRandom } from '../base/random.ts';
import type { Run } from '../base/run.ts';
import { cos, sin } from '../base/elementary.ts';
import { symmetricEigen } from '../linalg/dense.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds, faceAreas } from '../mesh/measure.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import { directionOf, leftOf } from './axes.ts';
import type { Axis, Plane } from './body.ts';

export interface SymmetryFit {
  readonly plane: Plane;
  /** Distance from the mirrored body to the body: half of it lies within this, mm. */
  readonly medianMm: number;
  /** 95 in a hundred lie within this, mm. */
  readonly p95Mm: number;
  readonly rounds: number;
  readonly converged: boolean;
}

/** Sample points for the search, and for the last fit. */
const fewSamples = 600;
const manySamples = 3000;
/** ρ as a share of the size of the body, first and last; it shrinks from round to round. */
const reach = { first: 0.05, last: 0.005 } as const;
const mostRounds = 60;
/** A plane rests when a round moves it by less than this share of the size. */
const restShare = 1 / 65536;

/**
 * Finds the plane of symmetry.
 * @param up @param front to know left from right; the normal points to the wearer's left
 * Cost: about 60 rounds of nearest points for a few thousand samples (0.5 s on 25,000 faces).
 */
export async function findSymmetry(mesh: HalfEdgeMesh, up: Axis, front: Axis, run: Run): Promise<SymmetryFit> {
  const index = createSpatialIndex(mesh);
  const few = samplePoints(mesh, fewSamples);
  const size = sizeOf(mesh);
  const middle = meanOf(few);
  let best: { plane: Plane; misfit: number } | undefined;
  for (const normal of starts(few, middle, up, front)) {
    let plane: Plane = { point: middle, normal };
    for (let round = 0; round < 8; round++) plane = fitPlane(few, index, plane, size * reach.first) ?? plane;
    await run.breathe();
    const misfit = misfitOf(few, index, plane, size * reach.first);
    if (best === undefined || misfit < best.misfit) best = { plane, misfit };
  }
  const left = leftOf(up, front);
  const many = samplePoints(mesh, manySamples);
  let plane = best?.plane ?? { point: middle, normal: left };
  let rounds = 0;
  let converged = false;
  for (; rounds < mostRounds && !converged; rounds++) {
    const share = Math.max(reach.last, reach.first / (1 + rounds));
    const next = fitPlane(many, index, plane, size * share) ?? plane;
    converged = share === reach.last && movement(plane, next, size) < restShare * size;
    plane = next;
    await run.breathe();
  }
  const toLeft = plane.normal[0] * left[0] + plane.normal[1] * left[1] + plane.normal[2] * left[2] < 0 ? -1 : 1;
  const normal: Vec3 = [toLeft * plane.normal[0], toLeft * plane.normal[1], toLeft * plane.normal[2]];
  return { plane: { point: plane.point, normal }, ...spread(many, index, plane), rounds, converged };
}

/** The mirror image of a point. */
export function reflect(plane: Plane, [x, y, z]: Vec3): Vec3 {
  const { point, normal: n } = plane;
  const twice = 2 * ((x - point[0]) * n[0] + (y - point[1]) * n[1] + (z - point[2]) * n[2]);
  return [x - twice * n[0], y - twice * n[1], z - twice * n[2]];
}

/** Points of the surface, as many to an area everywhere; the same for the same mesh. */
export function samplePoints(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, count: number): Vec3[] {
  const areas = faceAreas(mesh);
  const total = areas.reduce((sum, area) => sum + area, 0);
  const random = createRandom(17);
  const points: Vec3[] = [];
  let due = 0;
  for (let f = 0; f < areas.length; f++) {
    due += (areas[f] / total) * count;
    for (; due >= 1; due--) {
      let [a, b] = [random(), random()];
      if (a + b > 1) [a, b] = [1 - a, 1 - b];
      const corners = [0, 1, 2].map((i) => 3 * mesh.faces[3 * f + i]);
      points.push(
        [0, 1, 2].map(
          (k) => (1 - a - b) * mesh.positions[corners[0] + k] + a * mesh.positions[corners[1] + k] + b * mesh.positions[corners[2] + k],
        ) as unknown as Vec3,
      );
    }
  }
  return points;
}

function sizeOf(mesh: HalfEdgeMesh): number {
  const { min, max } = bounds(mesh);
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

function meanOf(points: readonly Vec3[]): Vec3 {
  return [0, 1, 2].map((k) => points.reduce((sum, p) => sum + p[k], 0) / points.length) as unknown as Vec3;
}

/** Normals to start from: left, left turned about up by multiples of 22.5°, and the principal axes. */
function starts(points: readonly Vec3[], middle: Vec3, up: Axis, front: Axis): Vec3[] {
  const left = leftOf(up, front);
  const forward = directionOf(front);
  const turned = Array.from({ length: 8 }, (_, i): Vec3 => {
    const [c, s] = [cos((i * Math.PI) / 8), sin((i * Math.PI) / 8)];
    return [c * left[0] + s * forward[0], c * left[1] + s * forward[1], c * left[2] + s * forward[2]];
  });
  const spreadMatrix = new Float64Array(9);
  for (const p of points)
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) spreadMatrix[3 * i + j] += (p[i] - middle[i]) * (p[j] - middle[j]);
  const { vectors } = symmetricEigen(spreadMatrix, 3);
  return [...turned, ...[0, 1, 2].map((k): Vec3 => [vectors[3 * k], vectors[3 * k + 1], vectors[3 * k + 2]])];
}

/** The plane that fits the pairs of this one best. */
function fitPlane(points: readonly Vec3[], index: SpatialIndex, plane: Plane, rho: number): Plane | undefined {
  const pairs: { p: Vec3; q: Vec3; w: number }[] = [];
  for (const p of points) {
    const hit = index.nearest(reflect(plane, p));
    if (hit === undefined) continue;
    const ratio = hit.distance / rho;
    pairs.push({ p, q: hit.at, w: 1 / (1 + ratio * ratio) });
  }
  const total = pairs.reduce((sum, { w }) => sum + w, 0);
  if (!(total > 0)) return undefined;
  const middle = [0, 1, 2].map((k) => pairs.reduce((sum, { p, q, w }) => sum + (w * (p[k] + q[k])) / 2, 0) / total);
  const matrix = new Float64Array(9);
  for (const { p, q, w } of pairs) {
    const s = [0, 1, 2].map((k) => p[k] + q[k] - 2 * middle[k]);
    const d = [0, 1, 2].map((k) => q[k] - p[k]);
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) matrix[3 * i + j] += w * (s[i] * s[j] - d[i] * d[j]);
  }
  const { vectors } = symmetricEigen(matrix, 3);
  return { point: [middle[0], middle[1], middle[2]], normal: [vectors[0], vectors[1], vectors[2]] };
}

/** Mean of r²/(r² + ρ²): 0 for a perfect mirror, 1 for none. */
function misfitOf(points: readonly Vec3[], index: SpatialIndex, plane: Plane, rho: number): number {
  let sum = 0;
  for (const p of points) {
    const distance = index.nearest(reflect(plane, p))?.distance ?? Infinity;
    sum += Number.isFinite(distance) ? (distance * distance) / (distance * distance + rho * rho) : 1;
  }
  return sum / points.length;
}

/** How far a change of plane moves the body, about. */
function movement(a: Plane, b: Plane, size: number): number {
  const dot = a.normal[0] * b.normal[0] + a.normal[1] * b.normal[1] + a.normal[2] * b.normal[2];
  const shift = [0, 1, 2].reduce((sum, k) => sum + (b.point[k] - a.point[k]) * b.normal[k], 0);
  return Math.abs(shift) + size * Math.sqrt(Math.max(0, 1 - dot * dot));
}

function spread(points: readonly Vec3[], index: SpatialIndex, plane: Plane): { medianMm: number; p95Mm: number } {
  const sorted = Float64Array.from(points, (p) => index.nearest(reflect(plane, p))?.distance ?? 0).sort();
  return { medianMm: sorted[Math.floor(0.5 * sorted.length)], p95Mm: sorted[Math.floor(0.95 * sorted.length)] };
}
