/*
 * A border wound round the unit circle by its length in space, counter-clockwise: convex, no two vertices together.
 */
import type { U32 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { halfEdgeLength } from '../mesh/navigate.ts';

/**
 * @param loop half-edges of one border in order, faces to the left
 * @returns plane positions of the loop's vertices on the unit circle, all others at the origin; shape 2·n
 */
export function circleByLength(mesh: HalfEdgeMesh, loop: U32): Float64Array {
  const plane = new Float64Array((mesh.positions.length / 3) * 2);
  let total = 0;
  for (let i = 0; i < loop.length; i++) total += halfEdgeLength(mesh, loop[i]);
  let along = 0;
  for (let i = 0; i < loop.length; i++) {
    const v = mesh.faces[loop[i]];
    const angle = (2 * Math.PI * along) / total;
    plane[2 * v] = cos(angle);
    plane[2 * v + 1] = sin(angle);
    along += halfEdgeLength(mesh, loop[i]);
  }
  return plane;
}
