/*
 * Preview of a stroke: for each vertex the brush radius minus its distance from the nearest place that the brush has been over. The level
 * line at 0 is the edge; between vertices the picture interpolates, so it does not follow the triangulation. The walk spreads over
 * neighbouring faces, so the far side of a thin place is not painted through.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';

const nowhere = -1e4;

export const forgetReach = (reach: Float32Array): Float32Array => reach.fill(nowhere);

/** Grows the reach by one sample. Cost: linear in the faces within reach. */
export function reachInto(
  reach: Float32Array,
  mesh: HalfEdgeMesh,
  sample: { readonly at: Vec3; readonly face: number },
  radiusMm: number,
): void {
  const { positions: p, faces, twin } = mesh;
  const [x, y, z] = sample.at;
  const distance = (v: number): number => Math.hypot(p[3 * v] - x, p[3 * v + 1] - y, p[3 * v + 2] - z);
  const seen = new Set([sample.face]);
  const stack = [sample.face];
  for (let f = stack.pop(); f !== undefined; f = stack.pop()) {
    let nearest = Infinity;
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const v = faces[h];
      const d = distance(v);
      nearest = Math.min(nearest, d);
      reach[v] = Math.max(reach[v], radiusMm - d);
    }
    // A large face may hold the circle without a vertex inside it: the sample's own face always spreads.
    if (nearest > radiusMm && f !== sample.face) continue;
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const neighbour = twin[h] === -1 ? -1 : Math.floor(twin[h] / 3);
      if (neighbour === -1 || seen.has(neighbour)) continue;
      seen.add(neighbour);
      stack.push(neighbour);
    }
  }
}
