/*
 * From a refinement back to plain numbers: places in space, computed last from exact coordinates, and better-shaped triangles inside each face below.
 */
import type { Vec3 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import { nodePlace } from '../lines/surface-path.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Refinement } from './refinement.ts';

/** Place of a vertex in space, mm. */
export function placeOf(refinement: Refinement, v: number): Vec3 {
  return nodePlace(refinement.base, refinement.place[v]);
}

/** Places of all vertices, mm, shape 3·vertices. */
export function placesOf(refinement: Refinement): Float64Array {
  const places = new Float64Array(3 * refinement.place.length);
  for (let v = 0; v < refinement.place.length; v++) places.set(placeOf(refinement, v), 3 * v);
  return places;
}

/**
 * Flips edges inside faces below until no angle pair opposite one sums to more than π (constrained Delaunay); cuts and area borders stay.
 * @param refinement is changed: it belongs to the caller
 */
export function improveShapes(refinement: Refinement): void {
  const { corner, twin, origin, cut, label } = refinement;
  const places = placesOf(refinement);
  const queue: number[] = [];
  for (let h = 0; h < corner.length; h++) if (h < twin[h]) queue.push(h);
  let patience = 40 * queue.length;
  while (queue.length > 0 && patience-- > 0) {
    const h = queue.pop() ?? 0;
    const g = twin[h];
    if (g === -1 || cut[h] !== 0) continue;
    const [f, e] = [Math.floor(h / 3), Math.floor(g / 3)];
    if (origin[f] !== origin[e] || label[f] !== label[e]) continue;
    const [a, b, c, d] = [corner[h], corner[g], corner[previousHalfEdge(h)], corner[previousHalfEdge(g)]];
    if (cotangent(places, c, a, b) + cotangent(places, d, a, b) >= -roundOff) continue;
    if (!(refinement.orient(origin[f], a, d, c) > 0 && refinement.orient(origin[f], d, b, c) > 0)) continue;
    refinement.flip(h);
    queue.push(nextHalfEdge(h), previousHalfEdge(h), nextHalfEdge(g), previousHalfEdge(g));
  }
}

/** Cotangent of the angle at vertex v between a and b. */
function cotangent(p: Float64Array, v: number, a: number, b: number): number {
  const [x, y, z] = [p[3 * a] - p[3 * v], p[3 * a + 1] - p[3 * v + 1], p[3 * a + 2] - p[3 * v + 2]];
  const [s, t, u] = [p[3 * b] - p[3 * v], p[3 * b + 1] - p[3 * v + 1], p[3 * b + 2] - p[3 * v + 2]];
  const [i, j, k] = [y * u - z * t, z * s - x * u, x * t - y * s];
  return (x * s + y * t + z * u) / Math.sqrt(i * i + j * j + k * k);
}
