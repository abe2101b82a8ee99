import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { multiply, permuteSymmetric, residual } from '../../src/linalg/sparse.ts';
import { denseOf, randomHermitian, randomVector } from '../support/random-matrix.ts';

const seeds = fc.integer({ min: 0, max: 1e6 });

describe('multiply', () => {
  it('is the dense product with both triangles, the upper one conjugated [second route]', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 12 }), fc.boolean(), (seed, size, isComplex) => {
        const matrix = randomHermitian({ seed, size, isComplex });
        const x = randomVector(seed + 1, size);
        const y = multiply(matrix, x);
        const { real, imaginary } = denseOf(matrix);
        for (let i = 0; i < size; i++) {
          let a = 0;
          let b = 0;
          for (let j = 0; j < size; j++) {
            a += real[i * size + j] * x.real[j] - imaginary[i * size + j] * x.imaginary[j];
            b += real[i * size + j] * x.imaginary[j] + imaginary[i * size + j] * x.real[j];
          }
          expect(Math.abs(y.real[i] - a) + Math.abs(y.imaginary[i] - b)).toBeLessThan(1e-12 * size);
        }
      }),
    );
  });

  it('makes xᴴ A x real [invariant]', () => {
    const matrix = randomHermitian({ seed: 5, size: 30, isComplex: true });
    const x = randomVector(6, 30);
    const y = multiply(matrix, x);
    let imaginary = 0;
    for (let i = 0; i < 30; i++) imaginary += x.real[i] * y.imaginary[i] - x.imaginary[i] * y.real[i];
    expect(Math.abs(imaginary)).toBeLessThan(1e-12);
  });
});

describe('residual', () => {
  it('is nought for the product itself and 1 for no solution [closed form]', () => {
    const matrix = randomHermitian({ seed: 7, size: 20, isComplex: true });
    const x = randomVector(8, 20);
    const b = multiply(matrix, x);
    expect(residual(matrix, x, b)).toBe(0);
    expect(residual(matrix, { real: new Float64Array(20) }, b)).toBe(1);
  });
});

describe('permuteSymmetric', () => {
  it('moves entry (p(i), p(j)) to (i, j), conjugated where it crosses the diagonal [second route]', () => {
    fc.assert(
      fc.property(seeds, fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 7 }), (seed, order) => {
        const matrix = randomHermitian({ seed, size: 7, isComplex: true });
        const before = denseOf(matrix);
        const moved = permuteSymmetric(matrix, Uint32Array.from(order));
        const after = denseOf(moved);
        for (let i = 0; i < 7; i++) {
          for (let j = 0; j < 7; j++) {
            expect(after.real[7 * i + j]).toBe(before.real[7 * order[i] + order[j]]);
            expect(Math.abs(after.imaginary[7 * i + j] - before.imaginary[7 * order[i] + order[j]])).toBe(0);
          }
          for (let q = moved.columnStart[i] + 1; q < moved.columnStart[i + 1]; q++) expect(moved.row[q]).toBeGreaterThan(moved.row[q - 1]);
        }
      }),
    );
  });
});
