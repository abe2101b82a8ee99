/*
 * Normals of vertices weighted by corner angles: independent of how a surface is cut into triangles, and the normals whose signs tell inside from
 * outside [baerentzen2005].
 */
import { acos } from '../base/elementary.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { faceNormals } from '../mesh/measure.ts';

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

/** Angle of the corner at the start of half-edge h, rad. */
export function cornerAngle(mesh: HalfEdgeMesh, h: number): number {
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
