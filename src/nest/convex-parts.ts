/*
 * A simple polygon as convex parts: ears are clipped, then diagonals whose removal keeps both ends convex are taken out.
 * At most four times as many parts as the least possible.
 * @source [hertel-mehlhorn1983]; ears [meisters1975]
 */
import type { F64 } from '../base/arrays.ts';
import { orientation } from '../plane/predicates.ts';

/**
 * @param polygon counter-clockwise, 2·n; simple, or touching itself along slits (a hole joined to the outline)
 * @returns convex counter-clockwise polygons with the polygon's own vertices; their union is the polygon
 */
export function convexParts(polygon: F64): Float64Array[] {
  const parts = clipEars(polygon);
  let merged = true;
  while (merged) {
    merged = false;
    for (let a = 0; a < parts.length && !merged; a++) {
      for (let b = a + 1; b < parts.length && !merged; b++) {
        const joined = joinConvex(polygon, parts[a], parts[b]);
        if (!joined) continue;
        parts[a] = joined;
        parts.splice(b, 1);
        merged = true;
      }
    }
  }
  return parts.map((part) => Float64Array.from(part.flatMap((v) => [polygon[2 * v], polygon[2 * v + 1]])));
}

const turn = (polygon: F64, a: number, b: number, c: number): number =>
  orientation(polygon[2 * a], polygon[2 * a + 1], polygon[2 * b], polygon[2 * b + 1], polygon[2 * c], polygon[2 * c + 1]);

function clipEars(polygon: F64): number[][] {
  const open = Array.from({ length: polygon.length / 2 }, (_, v) => v);
  const triangles: number[][] = [];
  while (open.length > 3) {
    let ear = open.findIndex((_, i) => isEar(polygon, open, i));
    // Rounding can leave a chain without a clean ear; a flat corner then goes first.
    if (ear === -1)
      ear = open.findIndex((v, i) => turn(polygon, open[(i + open.length - 1) % open.length], v, open[(i + 1) % open.length]) >= 0);
    if (ear === -1) ear = 0;
    const [before, v, after] = around(open, ear);
    if (turn(polygon, before, v, after) > 0) triangles.push([before, v, after]);
    open.splice(ear, 1);
  }
  if (turn(polygon, open[0], open[1], open[2]) > 0) triangles.push([...open]);
  return triangles;
}

const around = (open: readonly number[], i: number): [number, number, number] => [
  open[(i + open.length - 1) % open.length],
  open[i],
  open[(i + 1) % open.length],
];

function isEar(polygon: F64, open: readonly number[], i: number): boolean {
  const [a, b, c] = around(open, i);
  if (turn(polygon, a, b, c) <= 0) return false;
  return !open.some(
    (v) => v !== a && v !== b && v !== c && turn(polygon, a, b, v) >= 0 && turn(polygon, b, c, v) >= 0 && turn(polygon, c, a, v) >= 0,
  );
}

/** Both parts as one convex polygon if they share an edge and the two new corners turn left; undefined otherwise. */
function joinConvex(polygon: F64, first: readonly number[], second: readonly number[]): number[] | undefined {
  for (let i = 0; i < first.length; i++) {
    const from = first[i];
    const to = first[(i + 1) % first.length];
    const j = second.indexOf(to);
    if (j === -1 || second[(j + 1) % second.length] !== from) continue;
    const joined = [...first.slice(i + 1), ...first.slice(0, i + 1)].slice(0, -1);
    const other = [...second.slice(j + 1), ...second.slice(0, j + 1)].slice(0, -1);
    const all = [...joined, ...other];
    const isConvex = all.every((v, k) => turn(polygon, all[(k + all.length - 1) % all.length], v, all[(k + 1) % all.length]) >= 0);
    return isConvex ? all : undefined;
  }
  return undefined;
}
