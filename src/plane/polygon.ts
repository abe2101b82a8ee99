/*
 * Polygons of the plane: 2·n, mm, x right, y up, the last point is joined to the first. Counter-clockwise is positive; holes are clockwise.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { segmentsMeet } from './predicates.ts';
import { distanceToPolyline } from './polyline.ts';

/** Area with its sign: positive counter-clockwise, mm². */
export function signedArea(points: F64): number {
  let twice = 0;
  const n = points.length;
  // Differences to the first point keep the sum exact far from the origin.
  for (let i = 2; i + 3 < n; i += 2)
    twice += (points[i] - points[0]) * (points[i + 3] - points[1]) - (points[i + 2] - points[0]) * (points[i + 1] - points[1]);
  return twice / 2;
}

/** Centre of gravity of the area. */
export function centroidOf(points: F64): Vec2 {
  let [twice, sumX, sumY] = [0, 0, 0];
  for (let i = 2; i + 3 < points.length; i += 2) {
    const [ax, ay] = [points[i] - points[0], points[i + 1] - points[1]];
    const [bx, by] = [points[i + 2] - points[0], points[i + 3] - points[1]];
    const cross = ax * by - bx * ay;
    twice += cross;
    sumX += cross * (ax + bx);
    sumY += cross * (ay + by);
  }
  return twice === 0 ? [points[0], points[1]] : [points[0] + sumX / (3 * twice), points[1] + sumY / (3 * twice)];
}

/** Length of the border, mm. */
export function perimeterOf(points: F64): number {
  let sum = 0;
  const n = points.length;
  for (let i = 0; i < n; i += 2) sum += Math.hypot(points[(i + 2) % n] - points[i], points[(i + 3) % n] - points[i + 1]);
  return sum;
}

/** Axis-parallel box around points. */
export function boxOf(points: F64): { readonly min: Vec2; readonly max: Vec2 } {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    minX = Math.min(minX, points[i]);
    maxX = Math.max(maxX, points[i]);
    minY = Math.min(minY, points[i + 1]);
    maxY = Math.max(maxY, points[i + 1]);
  }
  return { min: [minX, minY], max: [maxX, maxY] };
}

/** True if the point lies inside (even-odd rule); on the border either answer may come. */
export function containsPoint(points: F64, x: number, y: number): boolean {
  let inside = false;
  const n = points.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    if (points[i + 1] > y === points[j + 1] > y) continue;
    const crossing = points[i] + ((y - points[i + 1]) / (points[j + 1] - points[i + 1])) * (points[j] - points[i]);
    if (x < crossing) inside = !inside;
  }
  return inside;
}

/** Distance to the nearest border of a polygon with holes, mm: positive inside, negative outside. */
export function depthInside(outer: F64, holes: readonly F64[], x: number, y: number): number {
  const inside = containsPoint(outer, x, y) && !holes.some((hole) => containsPoint(hole, x, y));
  let distance = distanceToPolyline(outer, true, x, y);
  for (const hole of holes) distance = Math.min(distance, distanceToPolyline(hole, true, x, y));
  return inside ? distance : -distance;
}

/**
 * True if two edges that are not neighbours meet. Exact. Edges are hashed into a grid about as fine as the mean edge, so that the cost is
 * near linear for outlines.
 */
export function crossesItself(polygon: F64): boolean {
  const points = withoutRepeats(polygon);
  const n = points.length / 2;
  if (n < 4) return false;
  const { min, max } = boxOf(points);
  const cell = Math.max(perimeterOf(points) / n, Math.max(max[0] - min[0], max[1] - min[1]) / 1024, Number.MIN_VALUE);
  const columns = Math.floor((max[0] - min[0]) / cell) + 1;
  const buckets = new Map<number, number[]>();
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [ax, ay, bx, by] = [points[2 * i], points[2 * i + 1], points[2 * j], points[2 * j + 1]];
    const column = (x: number): number => Math.floor((x - min[0]) / cell);
    const row = (y: number): number => Math.floor((y - min[1]) / cell);
    for (let r = row(Math.min(ay, by)); r <= row(Math.max(ay, by)); r++)
      for (let c = column(Math.min(ax, bx)); c <= column(Math.max(ax, bx)); c++) {
        const key = r * columns + c;
        const bucket = buckets.get(key);
        if (bucket === undefined) {
          buckets.set(key, [i]);
          continue;
        }
        for (const k of bucket) if (meets(points, n, i, k)) return true;
        bucket.push(i);
      }
  }
  return false;
}

/** The polygon without points that repeat the one before: edges of no length would meet both their neighbours. */
function withoutRepeats(polygon: F64): F64 {
  const kept: number[] = [];
  const n = polygon.length;
  for (let i = 0; i < n; i += 2)
    if (polygon[i] !== polygon[(i + n - 2) % n] || polygon[i + 1] !== polygon[(i + n - 1) % n]) kept.push(polygon[i], polygon[i + 1]);
  return kept.length === n ? polygon : Float64Array.from(kept);
}

function meets(points: F64, n: number, i: number, k: number): boolean {
  if (i === k || (i + 1) % n === k || (k + 1) % n === i) return false;
  const [j, l] = [(i + 1) % n, (k + 1) % n];
  return segmentsMeet(
    points[2 * i],
    points[2 * i + 1],
    points[2 * j],
    points[2 * j + 1],
    points[2 * k],
    points[2 * k + 1],
    points[2 * l],
    points[2 * l + 1],
  );
}
