/*
 * Curves of a drawing: made from fitted chains and polylines, and turned back into polylines. mm, x right, y up.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { straightMm } from '../base/tolerance.ts';
import { cubicAt } from '../plane/curve-fit.ts';
import type { Curve, Segment } from './drawing.ts';

/** Segments of a chain of cubics; a piece whose control points lie on its chord becomes a line. */
export function segmentsOf(chain: F64): Segment[] {
  const segments: Segment[] = [];
  for (let k = 0; k + 7 < chain.length; k += 6) {
    const to: Vec2 = [chain[k + 6], chain[k + 7]];
    if (isStraight(chain, k)) segments.push({ kind: 'line', to });
    else segments.push({ kind: 'cubic', c1: [chain[k + 2], chain[k + 3]], c2: [chain[k + 4], chain[k + 5]], to });
  }
  return segments;
}

function isStraight(chain: F64, k: number): boolean {
  const [ux, uy] = [chain[k + 6] - chain[k], chain[k + 7] - chain[k + 1]];
  const length = Math.hypot(ux, uy);
  if (!(length > 0)) return true;
  for (let i = 2; i <= 4; i += 2) {
    const [wx, wy] = [chain[k + i] - chain[k], chain[k + i + 1] - chain[k + 1]];
    // The curve itself strays at most 3/4 as far as its control points.
    if (Math.abs(ux * wy - uy * wx) / length > straightMm) return false;
    const along = (ux * wx + uy * wy) / length;
    if (along < 0 || along > length) return false;
  }
  return true;
}

/** The curve that runs straight through the points. */
export function polylineCurve(points: F64, closed: boolean): Curve {
  const segments: Segment[] = [];
  for (let i = 2; i < points.length; i += 2) segments.push({ kind: 'line', to: [points[i], points[i + 1]] });
  if (closed) segments.push({ kind: 'line', to: [points[0], points[1]] });
  return { start: [points[0], points[1]], segments, closed };
}

/** A straight line as a curve. */
export const lineCurve = (from: Vec2, to: Vec2): Curve => ({ start: from, segments: [{ kind: 'line', to }], closed: false });

/**
 * Polyline through points of a curve, nowhere further from it than the tolerance: a cubic is cut into n equal parameter steps with
 * n = √(¾·max(|P₀ − 2P₁ + P₂|, |P₁ − 2P₂ + P₃|)/tolerance), since the chord error of a step h is at most h²·max|B″|/8 and |B″| ≤ 6·that maximum.
 * The last point of a closed curve is not repeated.
 */
export function flattenCurve(curve: Curve, toleranceMm: number): Float64Array {
  const points: number[] = [...curve.start];
  let from = curve.start;
  for (const segment of curve.segments) {
    if (segment.kind === 'cubic') {
      const { c1, c2, to } = segment;
      const bend = Math.max(
        Math.hypot(from[0] - 2 * c1[0] + c2[0], from[1] - 2 * c1[1] + c2[1]),
        Math.hypot(c1[0] - 2 * c2[0] + to[0], c1[1] - 2 * c2[1] + to[1]),
      );
      const steps = Math.max(1, Math.ceil(Math.sqrt((0.75 * bend) / toleranceMm)));
      const chain = Float64Array.of(...from, ...c1, ...c2, ...to);
      for (let i = 1; i < steps; i++) points.push(...cubicAt(chain, 0, i / steps));
    }
    points.push(...segment.to);
    from = segment.to;
  }
  const n = points.length;
  if (curve.closed && n > 2 && points[n - 2] === points[0] && points[n - 1] === points[1]) points.length = n - 2;
  return Float64Array.from(points);
}

/** The curve with every point mapped; the map must be affine. */
export function mapCurve(curve: Curve, map: (point: Vec2) => Vec2): Curve {
  return {
    start: map(curve.start),
    segments: curve.segments.map((segment) =>
      segment.kind === 'line'
        ? { kind: 'line', to: map(segment.to) }
        : { kind: 'cubic', c1: map(segment.c1), c2: map(segment.c2), to: map(segment.to) },
    ),
    closed: curve.closed,
  };
}
