import { describe, expect, it } from 'vitest';
import { flattenCurve, mapCurve, polylineCurve, segmentsOf } from '../../src/draft/curve.ts';
import type { Curve } from '../../src/draft/drawing.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';
import { cubicAt } from '../../src/plane/curve-fit.ts';

const chain = Float64Array.of(0, 0, 20, 50, 80, -50, 100, 0, 110, 5, 120, 10, 130, 15);
const curve: Curve = { start: [0, 0], segments: segmentsOf(chain), closed: false };

describe('segmentsOf', () => {
  it('draws a piece whose handles lie on its chord as a line [closed form]', () => {
    expect(curve.segments.map(({ kind }) => kind)).toEqual(['cubic', 'line']);
    expect(curve.segments[1].to).toEqual([130, 15]);
  });
});

describe('flattenCurve', () => {
  it('stays within its tolerance of the curve [closed form: chord error h²·|B″|/8]', () => {
    for (const tolerance of [1, 0.1, 0.01]) {
      const points = flattenCurve(curve, tolerance);
      let worst = 0;
      for (let i = 0; i <= 2000; i++) worst = Math.max(worst, distanceToPolyline(points, false, ...cubicAt(chain, 0, i / 2000)));
      expect(worst).toBeLessThanOrEqual(tolerance);
      expect(worst).toBeGreaterThan(tolerance / 20);
    }
  });

  it('does not repeat the first point of a closed curve [invariant]', () => {
    const square = polylineCurve(Float64Array.of(0, 0, 1, 0, 1, 1, 0, 1), true);
    expect(square.segments.length).toBe(4);
    expect([...flattenCurve(square, 0.1)]).toEqual([0, 0, 1, 0, 1, 1, 0, 1]);
  });
});

describe('mapCurve', () => {
  it('commutes with flattening under a rigid motion [invariant]', () => {
    const turn = ([x, y]: readonly [number, number]) => [-y + 3, x - 2] as const;
    const [before, after] = [flattenCurve(curve, 0.05), flattenCurve(mapCurve(curve, turn), 0.05)];
    expect(after.length).toBe(before.length);
    for (let i = 0; i < before.length; i += 2) {
      const [x, y] = turn([before[i], before[i + 1]]);
      expect(Math.hypot(after[i] - x, after[i + 1] - y)).toBeLessThan(1e-9);
    }
  });
});
