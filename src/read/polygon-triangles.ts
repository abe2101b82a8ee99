/*
 * Polygons of a file to triangles. A convex polygon becomes a fan (a quad is cut along its shorter diagonal); a concave one is cut by
 * ears in the plane of its Newell normal. Corners keep their order, so orientation is kept.
 */
import type { F64 } from '../base/arrays.ts';

/**
 * Triangles of polygons.
 * @param positions shape 3·n
 * @param corners vertex of each corner, polygon after polygon
 * @param sizes corners of each polygon; polygons of fewer than three corners give nothing
 * @returns shape 3·m; the corner array itself where every polygon is a triangle. Cost: linear for convex polygons, cubic in the corners of a concave one.
 */
export function trianglesOfPolygons(positions: F64, corners: Uint32Array, sizes: Uint32Array): Uint32Array {
  let triangleTotal = 0;
  let isAllTriangles = true;
  for (let i = 0; i < sizes.length; i++) {
    if (sizes[i] !== 3) isAllTriangles = false;
    if (sizes[i] > 2) triangleTotal += sizes[i] - 2;
  }
  if (isAllTriangles) return corners;
  const triangles = new Uint32Array(3 * triangleTotal);
  let fill = 0;
  let first = 0;
  for (let i = 0; i < sizes.length; i++) {
    if (sizes[i] === 3) {
      for (let k = 0; k < 3; k++) triangles[fill++] = corners[first + k];
    } else if (sizes[i] > 3) {
      fill = polygonInto(triangles, fill, positions, corners, first, sizes[i]);
    }
    first += sizes[i];
  }
  return triangles;
}

function polygonInto(triangles: Uint32Array, fill: number, positions: F64, corners: Uint32Array, first: number, size: number): number {
  const flat = flattenPolygon(positions, corners, first, size);
  let isConvex = true;
  for (let i = 0; i < size && isConvex; i++) isConvex = turn(flat, (i + size - 1) % size, i, (i + 1) % size) >= 0;
  const order = isConvex ? fan(flat, size) : ears(flat, size);
  for (const corner of order) triangles[fill++] = corners[first + corner];
  return fill;
}

/** The polygon seen along its Newell normal, counter-clockwise: drop the axis in which the normal is largest. */
function flattenPolygon(positions: F64, corners: Uint32Array, first: number, size: number): Float64Array {
  const normal = [0, 0, 0];
  for (let i = 0; i < size; i++) {
    const a = 3 * corners[first + i];
    const b = 3 * corners[first + ((i + 1) % size)];
    for (let k = 0; k < 3; k++) {
      const [u, w] = [(k + 1) % 3, (k + 2) % 3];
      normal[k] += (positions[a + u] - positions[b + u]) * (positions[a + w] + positions[b + w]);
    }
  }
  let dropped = 0;
  for (let k = 1; k < 3; k++) if (Math.abs(normal[k]) > Math.abs(normal[dropped])) dropped = k;
  const u = (dropped + 1) % 3;
  const w = (dropped + 2) % 3;
  const isFlipped = normal[dropped] < 0;
  const flat = new Float64Array(2 * size);
  for (let i = 0; i < size; i++) {
    const v = 3 * corners[first + i];
    flat[2 * i] = positions[v + (isFlipped ? w : u)];
    flat[2 * i + 1] = positions[v + (isFlipped ? u : w)];
  }
  return flat;
}

/** Twice the signed area of the triangle i j k in the plane. */
function turn(flat: Float64Array, i: number, j: number, k: number): number {
  return (
    (flat[2 * j] - flat[2 * i]) * (flat[2 * k + 1] - flat[2 * i + 1]) - (flat[2 * j + 1] - flat[2 * i + 1]) * (flat[2 * k] - flat[2 * i])
  );
}

function fan(flat: Float64Array, size: number): number[] {
  const distance = (i: number, j: number): number => Math.hypot(flat[2 * i] - flat[2 * j], flat[2 * i + 1] - flat[2 * j + 1]);
  const apex = size === 4 && distance(1, 3) < distance(0, 2) ? 1 : 0;
  const order: number[] = [];
  for (let i = 1; i + 1 < size; i++) order.push(apex, (apex + i) % size, (apex + i + 1) % size);
  return order;
}

/** Ear clipping, the ear with the best shape (largest area over longest side squared) first. A polygon that crosses itself ends as a fan. */
function ears(flat: Float64Array, size: number): number[] {
  const ring = Array.from({ length: size }, (_, i) => i);
  const order: number[] = [];
  while (ring.length > 3) {
    let best = -1;
    let bestShape = 0;
    for (let i = 0; i < ring.length; i++) {
      const [a, b, c] = [ring[(i + ring.length - 1) % ring.length], ring[i], ring[(i + 1) % ring.length]];
      const shape = turn(flat, a, b, c) / longestSideSquared(flat, a, b, c);
      if (shape > bestShape && isEmpty(flat, ring, a, b, c)) {
        best = i;
        bestShape = shape;
      }
    }
    if (best === -1) break;
    order.push(ring[(best + ring.length - 1) % ring.length], ring[best], ring[(best + 1) % ring.length]);
    ring.splice(best, 1);
  }
  for (let i = 1; i + 1 < ring.length; i++) order.push(ring[0], ring[i], ring[i + 1]);
  return order;
}

function longestSideSquared(flat: Float64Array, a: number, b: number, c: number): number {
  let longest = 0;
  for (const [i, j] of [
    [a, b],
    [b, c],
    [c, a],
  ]) {
    const x = flat[2 * j] - flat[2 * i];
    const y = flat[2 * j + 1] - flat[2 * i + 1];
    longest = Math.max(longest, x * x + y * y);
  }
  return longest;
}

function isEmpty(flat: Float64Array, ring: readonly number[], a: number, b: number, c: number): boolean {
  for (const p of ring) {
    if (p === a || p === b || p === c) continue;
    if (turn(flat, a, b, p) >= 0 && turn(flat, b, c, p) >= 0 && turn(flat, c, a, p) >= 0) return false;
  }
  return true;
}
