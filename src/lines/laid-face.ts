/*
 * One face laid in the plane, and points of it seen from its edges.
 */
import type { Vec2, Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';

/** A face's corners in its own plane, counter-clockwise, shape 6. */
export function layFace(mesh: HalfEdgeMesh, f: number): Float64Array {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[3 * f], 3 * mesh.faces[3 * f + 1], 3 * mesh.faces[3 * f + 2]];
  const u: Vec3 = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const v: Vec3 = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const base = Math.sqrt(u[0] * u[0] + u[1] * u[1] + u[2] * u[2]);
  const height = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / base;
  return Float64Array.of(0, 0, base, 0, (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / base, height);
}

/** The place of barycentric weights in a laid face. */
export const mix = (flat: Float64Array, [u, v, w]: Vec3): Vec2 => [
  u * flat[0] + v * flat[2] + w * flat[4],
  u * flat[1] + v * flat[3] + w * flat[5],
];

/** A point of a face in the frame of its edge i: along from the edge's end to its start, and the distance from the edge (inside positive). */
export function seenFrom(flat: Float64Array, i: number, at: Vec2): Vec2 {
  const j = nextHalfEdge(i);
  const [ex, ey] = [flat[2 * i] - flat[2 * j], flat[2 * i + 1] - flat[2 * j + 1]];
  const length = Math.hypot(ex, ey);
  const [dx, dy] = [at[0] - flat[2 * j], at[1] - flat[2 * j + 1]];
  return [(dx * ex + dy * ey) / length, (dx * ey - dy * ex) / length];
}
