/*
 * Numbers that the picture of a mesh needs beside its places: smooth normals, and how hollow the surface is at each vertex.
 */
import type { F64, U32 } from '../../src/base/arrays.ts';
import { vertexNormals } from '../../src/mesh/measure.ts';

interface Triangles {
  readonly positions: F64;
  readonly faces: U32;
}

/** Unit normals of the vertices, weighted by face area; shape 3·n. */
export const smoothNormals = (mesh: Triangles): Float32Array => Float32Array.from(vertexNormals(mesh));

/**
 * Light that reaches a vertex, 1 on ridges down to about 0.6 in hollows: the mean height of the neighbours above the tangent plane over
 * their distance, smoothed once over the mesh so that it shows form rather than triangles.
 */
export function hollowLight({ positions: p, faces }: Triangles, normals: Float32Array): Float32Array {
  const total = p.length / 3;
  let hollow = new Float32Array(total);
  const weight = new Float32Array(total);
  forEachEdge(faces, (v, w) => {
    const [x, y, z] = [p[3 * w] - p[3 * v], p[3 * w + 1] - p[3 * v + 1], p[3 * w + 2] - p[3 * v + 2]];
    const length = Math.hypot(x, y, z) || 1;
    hollow[v] += (x * normals[3 * v] + y * normals[3 * v + 1] + z * normals[3 * v + 2]) / length;
    weight[v] += 1;
  });
  for (let v = 0; v < total; v++) hollow[v] /= weight[v] || 1;
  for (let round = 0; round < 3; round++) {
    const next = hollow.slice();
    forEachEdge(faces, (v, w) => (next[v] += hollow[w]));
    for (let v = 0; v < total; v++) next[v] /= 1 + weight[v];
    hollow = next;
  }
  for (let v = 0; v < total; v++) hollow[v] = Math.min(1.08, Math.max(0.62, 1 - 3.2 * hollow[v]));
  return hollow;
}

/** Each half-edge as (start, end): on a closed mesh every neighbour once. */
function forEachEdge(faces: U32, visit: (v: number, w: number) => void): void {
  for (let h = 0; h < faces.length; h += 3) for (let i = 0; i < 3; i++) visit(faces[h + i], faces[h + ((i + 1) % 3)]);
}
