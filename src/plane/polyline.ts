/*
 * Polylines of the plane: arc length, points along, distances. Points are 2·n (x0 y0 x1 y1 …), mm, x right, y up.
 */
import type { F64, Vec2 } from '../base/arrays.ts';

/** Arc length from the first point to each point, mm; shape n. */
export function arcLengths(points: F64): Float64Array {
  const lengths = new Float64Array(points.length / 2);
  for (let i = 1; i < lengths.length; i++)
    lengths[i] = lengths[i - 1] + Math.hypot(points[2 * i] - points[2 * i - 2], points[2 * i + 1] - points[2 * i - 1]);
  return lengths;
}

/**
 * Index of the piece that holds arc length `along`, and the share of it that lies before: `along` = lengths[i] + share·(lengths[i+1] − lengths[i]).
 * @param lengths ascending, at least two; values outside are clamped.
 */
export function locate(lengths: F64, along: number): { readonly index: number; readonly share: number } {
  let [low, high] = [0, lengths.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (lengths[middle] <= along) low = middle;
    else high = middle;
  }
  const span = lengths[high] - lengths[low];
  return { index: low, share: span > 0 ? Math.min(1, Math.max(0, (along - lengths[low]) / span)) : 0 };
}

/** The point at arc length `along`, clamped to the ends. */
export function pointAlong(points: F64, lengths: F64, along: number): Vec2 {
  const { index: i, share } = locate(lengths, along);
  return [points[2 * i] + share * (points[2 * i + 2] - points[2 * i]), points[2 * i + 1] + share * (points[2 * i + 3] - points[2 * i + 1])];
}

/** Value of a piecewise linear function given by ascending abscissae and values, clamped to the ends. */
export function interpolate(abscissae: F64, values: F64, at: number): number {
  const { index, share } = locate(abscissae, at);
  return values[index] + share * (values[index + 1] - values[index]);
}

/** The same polyline, run the other way. */
export function reversed(points: F64): Float64Array {
  const turned = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    turned[i] = points[points.length - 2 - i];
    turned[i + 1] = points[points.length - 1 - i];
  }
  return turned;
}

/** Distance from a point to segment ab, mm. */
export function distanceToSegment(x: number, y: number, ax: number, ay: number, bx: number, by: number): number {
  const [ux, uy] = [bx - ax, by - ay];
  const square = ux * ux + uy * uy;
  const share = square > 0 ? Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / square)) : 0;
  return Math.hypot(ax + share * ux - x, ay + share * uy - y);
}

/** Distance from a point to a polyline (`closed`: its last point is joined to its first), mm. Cost: linear. */
export function distanceToPolyline(points: F64, closed: boolean, x: number, y: number): number {
  let least = points.length === 2 ? Math.hypot(points[0] - x, points[1] - y) : Infinity;
  for (let i = 2; i < points.length; i += 2)
    least = Math.min(least, distanceToSegment(x, y, points[i - 2], points[i - 1], points[i], points[i + 1]));
  const n = points.length;
  if (closed && n > 2) least = Math.min(least, distanceToSegment(x, y, points[n - 2], points[n - 1], points[0], points[1]));
  return least;
}

/** Largest distance from the points of one polyline to another polyline (one-sided Hausdorff distance of its vertices), mm. */
export function furthestFrom(points: F64, other: F64, otherClosed: boolean): number {
  let furthest = 0;
  for (let i = 0; i < points.length; i += 2)
    furthest = Math.max(furthest, distanceToPolyline(other, otherClosed, points[i], points[i + 1]));
  return furthest;
}
