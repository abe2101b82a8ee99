/*
 * What the writers need of curves: polylines within a stated distance, motions of the plane, boxes and signed areas.
 * Curves as in `draft/drawing.ts`: mm, x right, y up. Polylines are 2·n; of a closed curve the first point is not repeated.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import type { Curve, Segment } from '../draft/drawing.ts';

/**
 * The polyline of a curve, through points of the curve, nowhere further from it than `toleranceMm`.
 * A cubic is cut into n equal parts of its parameter; the chord of a part is off by at most max|B″|/(8 n²) [closed form: linear
 * interpolation], and |B″| ≤ 6·max(|p₀ − 2c₁ + c₂|, |c₁ − 2c₂ + p₃|), so n = ⌈√(¾·max/tolerance)⌉.
 * @returns 2·n, mm
 */
export function polylineOf(curve: Curve, toleranceMm: number): Float64Array {
  const points: number[] = [curve.start[0], curve.start[1]];
  let from = curve.start;
  for (const segment of curve.segments) {
    if (segment.kind === 'line') points.push(segment.to[0], segment.to[1]);
    else pushCubic(points, from, segment, toleranceMm);
    from = segment.to;
  }
  if (curve.closed && points.length > 2 && from[0] === curve.start[0] && from[1] === curve.start[1]) points.length -= 2;
  return Float64Array.from(points);
}

function pushCubic(points: number[], from: Vec2, cubic: Extract<Segment, { kind: 'cubic' }>, toleranceMm: number): void {
  const { c1, c2, to } = cubic;
  const bend = Math.max(
    Math.hypot(from[0] - 2 * c1[0] + c2[0], from[1] - 2 * c1[1] + c2[1]),
    Math.hypot(c1[0] - 2 * c2[0] + to[0], c1[1] - 2 * c2[1] + to[1]),
  );
  const count = Math.max(1, Math.ceil(Math.sqrt((0.75 * bend) / toleranceMm)));
  for (let k = 1; k < count; k++) {
    const [x, y] = cubicPoint(from, cubic, k / count);
    points.push(x, y);
  }
  points.push(to[0], to[1]);
}

/** The point of a cubic Bézier at parameter t in 0…1. */
export function cubicPoint(from: Vec2, cubic: Extract<Segment, { kind: 'cubic' }>, t: number): Vec2 {
  const s = 1 - t;
  const [w0, w1, w2, w3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  const { c1, c2, to } = cubic;
  return [w0 * from[0] + w1 * c1[0] + w2 * c2[0] + w3 * to[0], w0 * from[1] + w1 * c1[1] + w2 * c2[1] + w3 * to[1]];
}

/** The curve with every point taken through `move`; exact for affine maps. */
export function mapCurve(curve: Curve, move: (point: Vec2) => Vec2): Curve {
  return {
    start: move(curve.start),
    closed: curve.closed,
    segments: curve.segments.map((segment) =>
      segment.kind === 'line'
        ? { kind: 'line', to: move(segment.to) }
        : { kind: 'cubic', c1: move(segment.c1), c2: move(segment.c2), to: move(segment.to) },
    ),
  };
}

/** The curve that runs straight through the points. */
export function curveOfPolyline(points: F64, closed: boolean): Curve {
  const segments: Segment[] = [];
  for (let k = 2; k < points.length; k += 2) segments.push({ kind: 'line', to: [points[k], points[k + 1]] });
  const start: Vec2 = [points[0], points[1]];
  if (closed) segments.push({ kind: 'line', to: start });
  return { start, segments, closed };
}

/** An axis-parallel box, mm. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The box of a polyline, or of several. Infinite and inside out when there is no point. */
export function boxOf(...polylines: readonly F64[]): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const points of polylines)
    for (let k = 0; k < points.length; k += 2) {
      minX = Math.min(minX, points[k]);
      maxX = Math.max(maxX, points[k]);
      minY = Math.min(minY, points[k + 1]);
      maxY = Math.max(maxY, points[k + 1]);
    }
  return { minX, minY, maxX, maxY };
}

/** True when two boxes share a point. */
export const boxesMeet = (a: Box, b: Box): boolean => a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

/** Signed area of a polygon, mm²; positive when counter-clockwise. */
export function signedArea(points: F64): number {
  let twice = 0;
  for (let k = 0, j = points.length - 2; k < points.length; j = k, k += 2) twice += points[j] * points[k + 1] - points[k] * points[j + 1];
  return twice / 2;
}
