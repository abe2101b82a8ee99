import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { singularValuesDense } from '../../src/linalg/dense.ts';
import { nearestRotations, signedSingularValues } from '../../src/linalg/singular-values.ts';

// Below 1e-100 squares underflow; the function's precondition leaves such numbers out.
const entry = fc.double({ min: -100, max: 100, noNaN: true }).map((x) => (Math.abs(x) < 1e-100 ? 0 : x));
const jacobian = fc.tuple(entry, entry, entry, entry);

describe('signedSingularValues', () => {
  it('agrees in absolute value with a dense decomposition [ml-matrix]', () => {
    fc.assert(
      fc.property(jacobian, (j) => {
        const { first, second } = signedSingularValues(Float64Array.from(j));
        const [s1, s2] = singularValuesDense(Float64Array.from(j), 2, 2);
        expect(Math.abs(first[0] - s1)).toBeLessThanOrEqual(1e-13 * s1);
        expect(Math.abs(Math.abs(second[0]) - s2)).toBeLessThanOrEqual(1e-13 * s1);
      }),
    );
  });

  it('has the determinant as product, sign included, and σ₁ ≥ |σ₂| [invariant]', () => {
    fc.assert(
      fc.property(jacobian, (j) => {
        const { first, second } = signedSingularValues(Float64Array.from(j));
        const determinant = j[0] * j[3] - j[1] * j[2];
        expect(Math.abs(first[0] * second[0] - determinant)).toBeLessThanOrEqual(1e-14 * first[0] * first[0]);
        expect(Math.abs(second[0])).toBeLessThanOrEqual(first[0] * (1 + 1e-15));
      }),
    );
  });

  it('puts the Jacobian together again from unit rotations [invariant]', () => {
    fc.assert(
      fc.property(jacobian, (j) => {
        const { first, second, left, right } = signedSingularValues(Float64Array.from(j));
        const [c, s] = left;
        const [p, q] = right;
        expect(Math.abs(c * c + s * s - 1)).toBeLessThan(1e-14);
        expect(Math.abs(p * p + q * q - 1)).toBeLessThan(1e-14);
        const again = [
          c * first[0] * p + s * second[0] * q,
          c * first[0] * q - s * second[0] * p,
          s * first[0] * p - c * second[0] * q,
          s * first[0] * q + c * second[0] * p,
        ];
        for (let k = 0; k < 4; k++) expect(Math.abs(again[k] - j[k])).toBeLessThanOrEqual(1e-13 * first[0]);
      }),
    );
  });

  it('keeps a second value far below the rounding of the first [closed form]', () => {
    const { first, second } = signedSingularValues(Float64Array.of(1, 0, 0, 1e-20, 0, 3, -3e-18, 0, 1, 0, 0, -1e-20));
    expect([...first]).toEqual([1, 3, 1]);
    expect([...second]).toEqual([1e-20, 3e-18, -1e-20]);
  });

  it('takes nought, rotations and reflections [closed form]', () => {
    const { first, second, left, right } = signedSingularValues(Float64Array.of(0, 0, 0, 0, 0, -2, 2, 0, 1, 0, 0, -1));
    expect([...first]).toEqual([0, 2, 1]);
    expect([...second]).toEqual([0, 2, -1]);
    expect([...left.slice(2, 4), ...right.slice(2, 4)]).toEqual([0, 1, 1, 0]);
  });
});

describe('nearestRotations', () => {
  it('is U Vᵀ of the decomposition [invariant]', () => {
    fc.assert(
      fc.property(jacobian, (j) => {
        const { first, second, left, right } = signedSingularValues(Float64Array.from(j));
        fc.pre(first[0] + second[0] > 1e-6 * first[0]);
        const [c, s] = nearestRotations(Float64Array.from(j));
        const [a, b] = [left[0] * right[0] + left[1] * right[1], left[1] * right[0] - left[0] * right[1]];
        expect(Math.hypot(c - a, s - b)).toBeLessThan((1e-13 * first[0]) / (first[0] + second[0]));
      }),
    );
  });

  it('is nearer than any other of 360 rotations [second route]', () => {
    const j = [1.3, 0.4, -0.7, 0.2];
    const [c, s] = nearestRotations(Float64Array.from(j));
    const gap = (x: number, y: number): number => Math.hypot(j[0] - x, j[1] + y, j[2] - y, j[3] - x);
    for (let k = 0; k < 360; k++) {
      const angle = (k * Math.PI) / 180;
      expect(gap(Math.cos(angle), Math.sin(angle))).toBeGreaterThanOrEqual(gap(c, s) - 1e-15);
    }
  });
});
