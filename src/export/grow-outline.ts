/*
 * A closed outline moved sideways by a constant distance with mitred corners: what half a kerf does to a cut line.
 */
import type { F64 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';

/** Longest mitre, in distances: corners sharper than 2·asin(1/8) = 14° are cut square at this reach. */
const mitreLimit = 8;

/**
 * @param points a counter-clockwise polygon, 2·n, mm
 * @param byMm distance, mm; positive outward
 * @returns the moved polygon, counter-clockwise, 2·m, mm
 */
export function growOutline(points: F64, byMm: number): Float64Array {
  const corners = withoutRepeats(points);
  const count = corners.length / 2;
  const moved: number[] = [];
  for (let k = 0; k < count; k++) {
    const [before, here, after] = [(k + count - 1) % count, k, (k + 1) % count];
    const [ux, uy] = unit(corners, before, here);
    const [vx, vy] = unit(corners, here, after);
    // Outward normals of a counter-clockwise polygon: (u_y, −u_x). The mitre point lies at here + by·(n + m)/(1 + n·m).
    const [sumX, sumY] = [uy + vy, -ux - vx];
    const span = 1 + ux * vx + uy * vy;
    const [x, y] = [corners[2 * here], corners[2 * here + 1]];
    if (2 > span * mitreLimit * mitreLimit) {
      const reach = mitreLimit * Math.abs(byMm);
      moved.push(x + byMm * uy + reach * ux, y - byMm * ux + reach * uy, x + byMm * vy - reach * vx, y - byMm * vx - reach * vy);
    } else moved.push(x + (byMm * sumX) / span, y + (byMm * sumY) / span);
  }
  return Float64Array.from(moved);
}

function unit(points: F64, from: number, to: number): readonly [number, number] {
  const [dx, dy] = [points[2 * to] - points[2 * from], points[2 * to + 1] - points[2 * from + 1]];
  const length = Math.hypot(dx, dy);
  return [dx / length, dy / length];
}

function withoutRepeats(points: F64): Float64Array {
  const kept: number[] = [];
  for (let k = 0; k < points.length; k += 2) {
    const j = k === 0 ? points.length - 2 : k - 2;
    if (Math.hypot(points[k] - points[j], points[k + 1] - points[j + 1]) > roundOff * 1000) kept.push(points[k], points[k + 1]);
  }
  return Float64Array.from(kept);
}
