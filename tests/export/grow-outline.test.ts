import { describe, expect, it } from 'vitest';
import { growOutline as growAll } from '../../src/export/grow-outline.ts';
import { boxOf } from '../../src/export/box.ts';
import { signedArea } from '../../src/plane/polygon.ts';

const growOutline = (points: Float64Array, byMm: number): Float64Array => growAll(points, byMm)[0];
/** Corners in order of angle about the middle, so that the first point does not matter. */
const corners = (points: Float64Array): string[] =>
  Array.from({ length: points.length / 2 }, (_, k) => `${points[2 * k].toFixed(3)} ${points[2 * k + 1].toFixed(3)}`).sort();

describe('growOutline', () => {
  const square = Float64Array.of(0, 0, 100, 0, 100, 100, 0, 100);
  it('moves every side of a square out by the distance, corners kept square [closed form]', () => {
    expect(corners(growOutline(square, 0.4))).toEqual(corners(Float64Array.of(-0.4, -0.4, 100.4, -0.4, 100.4, 100.4, -0.4, 100.4)));
  });
  it('moves in for a negative distance [closed form]', () => {
    expect(boxOf(growOutline(square, -1))).toEqual({ minX: 1, minY: 1, maxX: 99, maxY: 99 });
  });
  it('grows a convex polygon by perimeter·d + d²·Σ tan(turn/2) [Steiner formula, mitred]', () => {
    const count = 7;
    const points = Float64Array.from({ length: 2 * count }, (_, k) =>
      k % 2 === 0 ? 50 * Math.cos((Math.PI * k) / count) : 50 * Math.sin((Math.PI * (k - 1)) / count),
    );
    const perimeter = count * 100 * Math.sin(Math.PI / count);
    const d = 0.7;
    const wanted = signedArea(points) + perimeter * d + d * d * count * Math.tan(Math.PI / count);
    expect(Math.abs(signedArea(growOutline(points, d)) - wanted)).toBeLessThan(0.1); // 0.1 µm over a border of 300 mm
  });
  it('keeps an inside corner square [closed form]', () => {
    const ell = Float64Array.of(0, 0, 60, 0, 60, 20, 20, 20, 20, 60, 0, 60);
    expect(corners(growOutline(ell, 0.5))).toEqual(
      corners(Float64Array.of(-0.5, -0.5, 60.5, -0.5, 60.5, 20.5, 20.5, 20.5, 20.5, 60.5, -0.5, 60.5)),
    );
  });
  it('closes a bay narrower than the distance taken from both its banks, and leaves nothing of a hole narrower than that [closed form]', () => {
    const bay = Float64Array.of(0, 0, 40, 0, 40, 30, 20.3, 30, 20.3, 10, 19.7, 10, 19.7, 30, 0, 30);
    expect(signedArea(growOutline(bay, 0.5))).toBeCloseTo(41 * 31, 3);
    expect(growAll(Float64Array.of(0, 0, 0.8, 0, 0.8, 5, 0, 5), -0.5)).toEqual([]);
  });
  it('does not let a needle-sharp corner run away [closed form]', () => {
    const needle = Float64Array.of(0, 0, 100, -1, 100, 1);
    expect(boxOf(growOutline(needle, 0.5)).minX).toBeGreaterThan(-4.1);
  });
});
