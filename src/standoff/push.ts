/*
 * The simple standoff: each vertex moves outward so that the planes of its faces move by the distance (a mitre at a crease, the normal on a
 * smooth surface). Connectivity stays that of the body, so marks stay exact. Whether it may be kept is for `checkPush` to say.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { pushSlackMm, stayWithMeanShare } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceCross, faceNormals } from '../mesh/measure.ts';
import type { NearestFace } from './nearest-face.ts';
import { cornerAngle } from './angle-normals.ts';
import { selfHits } from './self-hits.ts';

/** Longest mitre, in distances: the corner of a fold of 120°. */
const longestMitre = 2;

/**
 * Displacement of each vertex for a unit distance: n with n·n_f = 1 for its faces' normals n_f, in the least-squares sense weighted by corner
 * angle: minimises Σ θ_f (n·n_f − 1)² + λ|n − m|², m the mean normal scaled so that the first sum is least along it.
 * @returns shape 3·vertexCount; zero where a vertex has no face
 */
export function offsetDirections(mesh: HalfEdgeMesh): Float64Array {
  const normals = faceNormals(mesh);
  const sums = new Float64Array(9 * (mesh.positions.length / 3));
  for (let h = 0; h < mesh.faces.length; h++) addCornerInto(sums, mesh, h, normals);
  const directions = new Float64Array(mesh.positions.length);
  for (let v = 0; v < directions.length / 3; v++) directions.set(mitre(sums.subarray(9 * v, 9 * v + 9)), 3 * v);
  return directions;
}

/** Adds a corner to its vertex's sums: θ·n (3 numbers), then θ·n nᵀ as xx xy xz yy yz zz. */
function addCornerInto(sums: Float64Array, mesh: HalfEdgeMesh, h: number, normals: F64): void {
  const angle = cornerAngle(mesh, h);
  const f = 3 * Math.floor(h / 3);
  const [x, y, z] = [normals[f], normals[f + 1], normals[f + 2]];
  const s = 9 * mesh.faces[h];
  const terms = [x, y, z, x * x, x * y, x * z, y * y, y * z, z * z];
  for (let i = 0; i < 9; i++) sums[s + i] += angle * terms[i];
}

/** Solves the 3×3 system of `offsetDirections` for one vertex. */
function mitre(sums: F64): Vec3 {
  const [bx, by, bz, xx, xy, xz, yy, yz, zz] = [0, 1, 2, 3, 4, 5, 6, 7, 8].map((i) => sums[i]);
  const size = Math.hypot(bx, by, bz);
  const trace = xx + yy + zz;
  if (!(size > 0) || !(trace > 0)) return [0, 0, 0];
  const mean: Vec3 = [bx / size, by / size, bz / size];
  // Best length along the mean normal: Σθ(m·n)/Σθ(m·n)².
  const square =
    mean[0] * (xx * mean[0] + 2 * (xy * mean[1] + xz * mean[2])) + mean[1] * (yy * mean[1] + 2 * yz * mean[2]) + zz * mean[2] * mean[2];
  const best = size / square;
  const stay = stayWithMeanShare * trace;
  const n = solveSymmetric(xx + stay, xy, xz, yy + stay, yz, zz + stay, [
    bx + stay * best * mean[0],
    by + stay * best * mean[1],
    bz + stay * best * mean[2],
  ]);
  const length = Math.hypot(...n);
  const cut = length > longestMitre ? longestMitre / length : 1;
  return [n[0] * cut, n[1] * cut, n[2] * cut];
}

/** Cramer's rule for a symmetric positive definite 3×3 system. */
function solveSymmetric(xx: number, xy: number, xz: number, yy: number, yz: number, zz: number, b: Vec3): Vec3 {
  const a = yy * zz - yz * yz;
  const c = xz * yz - xy * zz;
  const d = xy * yz - xz * yy;
  const e = xx * zz - xz * xz;
  const f = xy * xz - xx * yz;
  const g = xx * yy - xy * xy;
  const determinant = xx * a + xy * c + xz * d;
  return [
    (a * b[0] + c * b[1] + d * b[2]) / determinant,
    (c * b[0] + e * b[1] + f * b[2]) / determinant,
    (d * b[0] + f * b[1] + g * b[2]) / determinant,
  ];
}

/** Positions of the vertices after each has moved by its own distance, mm. */
export function pushedPositions(mesh: HalfEdgeMesh, directions: F64, distance: F64): Float64Array {
  return Float64Array.from(mesh.positions, (x, i) => x + distance[Math.floor(i / 3)] * directions[i]);
}

/** What `checkPush` found. */
export interface PushCheck {
  readonly isSound: boolean;
  /** Up to 20 faces that turned over, cut the surface or came too near to the body. */
  readonly faces: readonly number[];
  /** Largest amount by which a face's middle lies nearer to the body than it should, mm. */
  readonly tooNearMm: number;
}

/**
 * Whether a push is the true offset surface. It is when no face turned over, no two faces cross, and every point lies as far from the whole body as
 * it was moved: a point whose foot is its nearest point is not beyond the medial axis, where sheets meet. (t·κ_max < 1 is the local half of
 * this; where it fails, faces turn over.) Measured at the faces' middles.
 * @param distance by which each vertex was moved, mm
 * Cost: one nearest-point query a face.
 */
export function checkPush(body: HalfEdgeMesh, nearest: NearestFace, pushed: F64, distance: F64): PushCheck {
  const moved = { positions: pushed, faces: body.faces };
  const faces = new Set<number>();
  const lacking = new Float64Array(body.faces.length / 3);
  for (let f = 0; f < lacking.length; f++) {
    const before = faceCross(body, f);
    const after = faceCross(moved, f);
    if (before[0] * after[0] + before[1] * after[1] + before[2] * after[2] <= 0) faces.add(f);
    const [a, b, c] = [body.faces[3 * f], body.faces[3 * f + 1], body.faces[3 * f + 2]];
    const middle = (k: number): number => (pushed[3 * a + k] + pushed[3 * b + k] + pushed[3 * c + k]) / 3;
    const wanted = (distance[a] + distance[b] + distance[c]) / 3;
    lacking[f] = wanted - (nearest.foot(middle(0), middle(1), middle(2))?.distance ?? Infinity);
    if (lacking[f] > pushSlackMm.least) faces.add(f);
  }
  const sorted = lacking.slice().sort();
  const most = sorted[Math.floor(0.95 * (sorted.length - 1))];
  if (faces.size === 0) for (const f of selfHits(moved, 20)) faces.add(f);
  return {
    isSound: faces.size === 0 && most <= pushSlackMm.most,
    faces: [...faces].sort((a, b) => a - b).slice(0, 20),
    tooNearMm: sorted[sorted.length - 1],
  };
}
