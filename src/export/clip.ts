/*
 * What of a polyline lies in a box: the pieces inside, in order, cut at the edges [liang1984]. Points on the edge count as inside.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { Box } from './box.ts';

/** The pieces of an open polyline that lie in the box; an untouched polyline comes back as it is. */
export function clipPolyline(points: readonly Vec2[], box: Box): readonly (readonly Vec2[])[] {
  if (points.every(([x, y]) => x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY)) return points.length > 1 ? [points] : [];
  const pieces: Vec2[][] = [];
  let open: Vec2[] | undefined;
  for (let k = 1; k < points.length; k++) {
    const [from, to] = [points[k - 1], points[k]];
    const span = clipSegment(from, to, box);
    if (span === undefined) {
      open = undefined;
      continue;
    }
    const [t0, t1] = span;
    if (open === undefined || t0 > 0) pieces.push((open = [along(from, to, t0)]));
    open.push(along(from, to, t1));
    if (t1 < 1) open = undefined;
  }
  return pieces.filter((piece) => piece.length > 1);
}

const along = (from: Vec2, to: Vec2, t: number): Vec2 =>
  t === 0 ? from : t === 1 ? to : [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];

/** Parameters at which a segment enters and leaves the box. */
function clipSegment(from: Vec2, to: Vec2, box: Box): readonly [number, number] | undefined {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [t0, t1] = [0, 1];
  const bounds: readonly (readonly [number, number])[] = [
    [-dx, from[0] - box.minX],
    [dx, box.maxX - from[0]],
    [-dy, from[1] - box.minY],
    [dy, box.maxY - from[1]],
  ];
  for (const [p, q] of bounds) {
    if (p === 0 && q < 0) return undefined;
    if (p < 0) t0 = Math.max(t0, q / p);
    if (p > 0) t1 = Math.min(t1, q / p);
  }
  return t0 < t1 ? [t0, t1] : undefined;
}
