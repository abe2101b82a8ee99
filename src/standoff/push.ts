/*
 * The simple standoff: each vertex moves outward so that the planes of its faces move by the distance (a mitre at a crease, the normal on a
 * smooth surface). Connectivity stays that of the body, so marks stay exact. Whether it may be kept is for `checkPush` to say.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { acos } from '../base/elementary.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceCross, faceNormals } from '../mesh/measure.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';

/** Weight of staying with the mean normal against meeting every face plane: small, so that creases win and near-flat stars are well posed. */
const stayWithMean = 1e-3;
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

/** Unit angle-weighted normal of each vertex [baerentzen2005]; shape 3·vertexCount. */
export function angleNormals(mesh: HalfEdgeMesh): Float64Array {
  const normals = faceNormals(mesh);
  const sums = new Float64Array(mesh.positions.length);
  for (let h = 0; h < mesh.faces.length; h++) {
    const angle = cornerAngle(mesh, h);
    for (let k = 0; k < 3; k++) sums[3 * mesh.faces[h] + k] += angle * normals[3 * Math.floor(h / 3) + k];
  }
  for (let v = 0; v < sums.length; v += 3) {
    const size = Math.hypot(sums[v], sums[v + 1], sums[v + 2]);
    if (size > 0) for (let k = 0; k < 3; k++) sums[v + k] /= size;
  }
  return sums;
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

/** Angle of the corner at the start of half-edge h, rad. */
function cornerAngle(mesh: HalfEdgeMesh, h: number): number {
  const p = mesh.positions;
  const a = 3 * mesh.faces[h];
  const b = 3 * mesh.faces[nextHalfEdge(h)];
  const c = 3 * mesh.faces[previousHalfEdge(h)];
  let [uu, vv, uv] = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const u = p[b + k] - p[a + k];
    const v = p[c + k] - p[a + k];
    uu += u * u;
    vv += v * v;
    uv += u * v;
  }
  const product = Math.sqrt(uu * vv);
  return product > 0 ? acos(Math.max(-1, Math.min(1, uv / product))) : 0;
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
  const stay = stayWithMean * trace;
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
  /** Up to 20 faces that turned over or came too near to the body. */
  readonly faces: readonly number[];
  /** Largest amount by which a face centre lies nearer to the body than it should, mm. */
  readonly tooNearMm: number;
}

/**
 * Whether a push is the true offset surface. It is when no face turned over and every point of it lies as far from the whole body as it was
 * moved: the foot of a point at its full distance is its nearest point, so no two sheets can cross (a crossing has points beyond the medial
 * axis, nearer to the body than they were moved). t·κ_max < 1 is the local half of the same test. Tested at face centres.
 * @param slack how much nearer a centre may lie than the mean of its corners' distances, mm
 * Cost: one nearest-point query a face.
 */
export function checkPush(body: HalfEdgeMesh, pushed: F64, distance: F64, slack: number): PushCheck {
  const index = createSpatialIndex(body);
  const moved = { positions: pushed, faces: body.faces };
  const faces: number[] = [];
  let tooNearMm = 0;
  for (let f = 0; f < body.faces.length / 3; f++) {
    const before = faceCross(body, f);
    const after = faceCross(moved, f);
    const turned = before[0] * after[0] + before[1] * after[1] + before[2] * after[2] <= 0;
    const corners = [body.faces[3 * f], body.faces[3 * f + 1], body.faces[3 * f + 2]];
    const centre = [0, 1, 2].map((k) => (pushed[3 * corners[0] + k] + pushed[3 * corners[1] + k] + pushed[3 * corners[2] + k]) / 3);
    const wanted = (distance[corners[0]] + distance[corners[1]] + distance[corners[2]]) / 3;
    const lacking = wanted - (index.nearest([centre[0], centre[1], centre[2]])?.distance ?? Infinity);
    tooNearMm = Math.max(tooNearMm, lacking);
    if ((turned || lacking > slack) && faces.length < 20) faces.push(f);
  }
  return { isSound: faces.length === 0, faces, tooNearMm };
}
