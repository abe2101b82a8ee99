import { describe, expect, it } from 'vitest';
import { singularValuesDense, solveDense, symmetricEigen } from '../../src/linalg/dense.ts';

describe('solveDense', () => {
  it('solves a square system and fits a line by least squares [closed form]', () => {
    expect([...solveDense(Float64Array.of(2, 1, 1, 3), Float64Array.of(4, 7))].map((x) => Math.round(1e12 * x) / 1e12)).toEqual([1, 2]);
    // y = 1 + 2t with residuals that sum to nought against 1 and t.
    const fit = solveDense(Float64Array.of(1, -1, 1, 0, 1, 1), Float64Array.of(-1 + 0.5, 1 - 1, 3 + 0.5));
    expect(Math.abs(fit[0] - 1) + Math.abs(fit[1] - 2)).toBeLessThan(1e-14);
  });

  it('refuses shapes that do not fit [closed form]', () => {
    expect(() => solveDense(Float64Array.of(1, 2, 3), Float64Array.of(1, 2))).toThrow(RangeError);
  });
});

describe('symmetricEigen', () => {
  it('gives 1 and 3 with diagonal vectors for (2 1; 1 2), reading the lower triangle only [closed form]', () => {
    const { values, vectors } = symmetricEigen(Float64Array.of(2, 99, 1, 2), 2);
    expect(Math.abs(values[0] - 1) + Math.abs(values[1] - 3)).toBeLessThan(1e-14);
    expect(Math.abs(vectors[2] - Math.SQRT1_2) + Math.abs(vectors[3] - Math.SQRT1_2)).toBeLessThan(1e-14);
    expect(Math.abs(vectors[0] + vectors[1])).toBeLessThan(1e-14);
  });
});

describe('singularValuesDense', () => {
  it('gives the lengths of orthogonal rows, largest first [closed form]', () => {
    const values = singularValuesDense(Float64Array.of(0, 3, 0, 4, 0, 0), 2, 3);
    expect(Math.abs(values[0] - 4) + Math.abs(values[1] - 3)).toBeLessThan(1e-14);
  });
});
