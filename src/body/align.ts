/*
 * A new scan laid onto an old one of the same wearer: first by landmarks, then by shape. The turn that fits pairs of points best comes from the
 * eigenvector of largest eigenvalue of a 4 × 4 matrix of their products, a unit quaternion [horn1987]; by shape, pairs are sample points and
 * the nearest points of the other surface [besl1992], those far apart counting less.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { symmetricEigen } from '../linalg/dense.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import { samplePoints } from './symmetry.ts';

/** A rigid motion: x ↦ R x + t, R row by row. */
export interface Motion {
  readonly rotation: readonly number[];
  readonly translation: Vec3;
}

export interface Alignment {
  readonly motion: Motion;
  /** Distance of the landmarks after the landmarks' own fit, root mean square, mm. */
  readonly landmarkMm: number;
  /** Distance between the surfaces after all, median and 95 in a hundred, mm. */
  readonly medianMm: number;
  readonly p95Mm: number;
  readonly rounds: number;
  readonly converged: boolean;
}

const samples = 3000;
const mostRounds = 80;
/** Pairs further apart than this weigh half, mm; it shrinks to the last value. */
const reachMm = { first: 40, last: 4 } as const;
/** Motion between rounds below which the fit rests, mm. */
const restMm = 1 / 512;

/** Applies a motion to a point. */
export function move({ rotation: r, translation: t }: Motion, [x, y, z]: Vec3): Vec3 {
  return [r[0] * x + r[1] * y + r[2] * z + t[0], r[3] * x + r[4] * y + r[5] * z + t[1], r[6] * x + r[7] * y + r[8] * z + t[2]];
}

/** The motion that undoes another. */
export function inverseMotion({ rotation: r, translation: t }: Motion): Motion {
  const rotation = [r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]];
  const back = move({ rotation, translation: [0, 0, 0] }, t);
  return { rotation, translation: [-back[0], -back[1], -back[2]] };
}

/**
 * The motion that lays `from` onto `to`.
 * @param landmarks pairs of the same place on both, three or more, not on one line (four are asked for on the page)
 * @throws body/too-few-landmarks
 */
export async function alignMeshes(
  from: HalfEdgeMesh,
  to: HalfEdgeMesh,
  landmarks: readonly { readonly from: Vec3; readonly to: Vec3 }[],
  run: Run,
): Promise<Alignment> {
  if (landmarks.length < 3)
    throw new Failure(
      'body/too-few-landmarks',
      `${landmarks.length} landmarks do not fix how the new scan lies on the old one.`,
      { stage: 'body' },
      'Pick four places that you find again on both: the pit of the neck, the navel, both shoulder points.',
    );
  let motion = fitMotion(
    landmarks.map((pair) => pair.from),
    landmarks.map((pair) => pair.to),
    landmarks.map(() => 1),
  );
  const landmarkMm = Math.sqrt(
    landmarks.reduce((sum, pair) => sum + square(apart(move(motion, pair.from), pair.to)), 0) / landmarks.length,
  );
  const points = samplePoints(from, samples);
  const index = createSpatialIndex(to);
  let rounds = 0;
  let converged = false;
  for (; rounds < mostRounds && !converged; rounds++) {
    const reach = Math.max(reachMm.last, reachMm.first / (1 + rounds / 4));
    const moved = points.map((point) => move(motion, point));
    const hits = moved.map((point) => index.nearest(point));
    const next = fitMotion(
      points,
      hits.map((hit, i) => hit?.at ?? moved[i]),
      hits.map((hit) => 1 / (1 + square((hit?.distance ?? 0) / reach))),
    );
    converged = reach === reachMm.last && Math.max(...points.map((point) => apart(move(motion, point), move(next, point)))) < restMm;
    motion = next;
    await run.breathe();
  }
  const sorted = Float64Array.from(points, (point) => index.nearest(move(motion, point))?.distance ?? 0).sort();
  return {
    motion,
    landmarkMm,
    medianMm: sorted[Math.floor(sorted.length / 2)],
    p95Mm: sorted[Math.floor(0.95 * sorted.length)],
    rounds,
    converged,
  };
}

const square = (x: number): number => x * x;
const apart = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/**
 * The rigid motion that takes points nearest to their partners, by weighted least squares.
 * @source [horn1987] §4
 */
export function fitMotion(from: readonly Vec3[], to: readonly Vec3[], weights: readonly number[]): Motion {
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = (points: readonly Vec3[]): number[] =>
    [0, 1, 2].map((k) => points.reduce((sum, p, i) => sum + weights[i] * p[k], 0) / total);
  const [a, b] = [mean(from), mean(to)];
  const s = new Float64Array(9);
  from.forEach((p, i) => {
    for (let j = 0; j < 3; j++) for (let k = 0; k < 3; k++) s[3 * j + k] += weights[i] * (p[j] - a[j]) * (to[i][k] - b[k]);
  });
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = s;
  const matrix = Float64Array.from([
    xx + yy + zz,
    yz - zy,
    zx - xz,
    xy - yx,
    yz - zy,
    xx - yy - zz,
    xy + yx,
    zx + xz,
    zx - xz,
    xy + yx,
    yy - xx - zz,
    yz + zy,
    xy - yx,
    zx + xz,
    yz + zy,
    zz - xx - yy,
  ]);
  const { vectors } = symmetricEigen(matrix, 4);
  const [w, x, y, z] = vectors.slice(12, 16);
  const rotation = [
    w * w + x * x - y * y - z * z,
    2 * (x * y - w * z),
    2 * (x * z + w * y),
    2 * (x * y + w * z),
    w * w - x * x + y * y - z * z,
    2 * (y * z - w * x),
    2 * (x * z - w * y),
    2 * (y * z + w * x),
    w * w - x * x - y * y + z * z,
  ];
  const turned = move({ rotation, translation: [0, 0, 0] }, [a[0], a[1], a[2]]);
  return { rotation, translation: [b[0] - turned[0], b[1] - turned[1], b[2] - turned[2]] };
}
