import { describe, expect, it } from 'vitest';
import { alongChain, measureChain, reverseChain } from '../../src/plane/chain.ts';
import { fitTogether } from '../../src/plane/curve-fit.ts';

const quarter = (() => {
  const points = Float64Array.from({ length: 402 }, (_, i) => {
    const angle = (Math.floor(i / 2) / 200) * (Math.PI / 2);
    return 100 * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
  return fitTogether([{ points, fractions: Float64Array.from({ length: 201 }, (_, i) => i / 200) }])[0];
})();

describe('measureChain', () => {
  it('measures a parabola arc exactly [closed form: ∫√(1 + x²) dx]', () => {
    // y = x²/2 from 0 to 1 as a cubic: control points (0,0), (1/3,0), (2/3,1/6), (1,1/2).
    const chain = Float64Array.of(0, 0, 1 / 3, 0, 2 / 3, 1 / 6, 1, 1 / 2);
    const exact = (Math.SQRT2 + Math.asinh(1)) / 2;
    expect(measureChain({ chain, knots: Float64Array.of(0, 1) }).lengthMm).toBeCloseTo(exact, 9);
  });

  it('measures a fitted quarter circle as π·R/2 [closed form]', () => {
    expect(measureChain(quarter).lengthMm).toBeCloseTo(50 * Math.PI, 1);
  });
});

describe('alongChain', () => {
  it('gives point and direction by arc length [closed form: circle]', () => {
    const measured = measureChain(quarter);
    for (const share of [0, 0.25, 0.5, 0.9, 1]) {
      const { at, direction, fraction } = alongChain(measured, share * measured.lengthMm);
      const angle = (share * Math.PI) / 2;
      expect(Math.hypot(at[0] - 100 * Math.cos(angle), at[1] - 100 * Math.sin(angle))).toBeLessThan(0.06);
      expect(Math.hypot(direction[0] + Math.sin(angle), direction[1] - Math.cos(angle))).toBeLessThan(0.005);
      expect(fraction).toBeCloseTo(share, 2);
    }
  });
});

describe('reverseChain', () => {
  it('runs the same curve from its end and undoes itself [invariant]', () => {
    const turned = reverseChain(quarter);
    expect(turned.chain[0]).toBe(quarter.chain[quarter.chain.length - 2]);
    expect(measureChain(turned).lengthMm).toBeCloseTo(measureChain(quarter).lengthMm, 9);
    expect([...reverseChain(turned).chain]).toEqual([...quarter.chain]);
  });
});
