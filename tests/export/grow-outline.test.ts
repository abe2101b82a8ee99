import { describe, expect, it } from 'vitest';
import { growOutline } from '../../src/export/grow-outline.ts';
import { boxOf, signedArea } from '../../src/export/curve.ts';

describe('growOutline', () => {
  const square = Float64Array.of(0, 0, 100, 0, 100, 100, 0, 100);
  it('moves every side of a square out by the distance, corners kept square [closed form]', () => {
    expect(Array.from(growOutline(square, 0.4))).toEqual([-0.4, -0.4, 100.4, -0.4, 100.4, 100.4, -0.4, 100.4]);
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
    expect(Math.abs(signedArea(growOutline(points, d)) - wanted)).toBeLessThan(1e-9);
  });
  it('keeps an inside corner square [closed form]', () => {
    const ell = Float64Array.of(0, 0, 60, 0, 60, 20, 20, 20, 20, 60, 0, 60);
    expect(Array.from(growOutline(ell, 0.5)).map((x) => Math.round(x * 1e9) / 1e9)).toEqual([
      -0.5, -0.5, 60.5, -0.5, 60.5, 20.5, 20.5, 20.5, 20.5, 60.5, -0.5, 60.5,
    ]);
  });
  it('does not let a needle-sharp corner run away [closed form]', () => {
    const needle = Float64Array.of(0, 0, 100, -1, 100, 1);
    expect(boxOf(growOutline(needle, 0.5)).minX).toBeGreaterThan(-4.1);
  });
});
