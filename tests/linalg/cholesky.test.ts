import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { prepareSolver, prepareSolverNow } from '../../src/linalg/cholesky.ts';
import { solveDense } from '../../src/linalg/dense.ts';
import { multiply, permuteSymmetric, residual } from '../../src/linalg/sparse.ts';
import { matrixFromTriplets } from '../../src/linalg/triplets.ts';
import { denseOf, randomHermitian, randomVector } from '../support/random-matrix.ts';
import { conformalSystem, randomPatch } from '../support/random-patch.ts';

const seeds = fc.integer({ min: 0, max: 1e6 });

describe('PreparedSolver.solve', () => {
  it('agrees with a dense solve of the real 2n form [ml-matrix]', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 40 }), fc.boolean(), (seed, size, isComplex) => {
        const matrix = randomHermitian({ seed, size, isComplex });
        const b = randomVector(seed + 1, size);
        const solver = prepareSolverNow(matrix);
        solver.factorNow(matrix);
        const x = solver.solve(b.real, b.imaginary);
        const { real, imaginary } = denseOf(matrix);
        const whole = new Float64Array(4 * size * size);
        for (let i = 0; i < size; i++) {
          for (let j = 0; j < size; j++) {
            whole[i * 2 * size + j] = whole[(size + i) * 2 * size + size + j] = real[i * size + j];
            whole[i * 2 * size + size + j] = -imaginary[i * size + j];
            whole[(size + i) * 2 * size + j] = imaginary[i * size + j];
          }
        }
        const y = solveDense(whole, Float64Array.of(...b.real, ...b.imaginary));
        for (let i = 0; i < size; i++) expect(Math.abs(x.real[i] - y[i]) + Math.abs(x.imaginary[i] - y[size + i])).toBeLessThan(1e-11);
      }),
      { numRuns: 60 },
    );
  });

  it('finds x again from A x on a conformal system [invariant]', async () => {
    const { matrix, positions } = conformalSystem(randomPatch(1500));
    const x = randomVector(2, matrix.size);
    const b = multiply(matrix, x);
    const solver = await prepareSolver(matrix, { positions });
    await solver.factor(matrix);
    const y = solver.solve(b.real, b.imaginary);
    expect(residual(matrix, y, b)).toBeLessThan(1e-13);
    let worst = 0;
    for (let i = 0; i < matrix.size; i++) worst = Math.max(worst, Math.hypot(x.real[i] - y.real[i], x.imaginary[i] - y.imaginary[i]));
    expect(worst).toBeLessThan(1e-8);
  });

  it('does not depend on the numbering beyond rounding [invariant]', () => {
    const matrix = randomHermitian({ seed: 9, size: 120, isComplex: true });
    const order = Uint32Array.from({ length: 120 }, (_, i) => (i * 77 + 5) % 120);
    const b = randomVector(10, 120);
    const moved = permuteSymmetric(matrix, order);
    const solver = prepareSolverNow(matrix);
    solver.factorNow(matrix);
    const other = prepareSolverNow(moved);
    other.factorNow(moved);
    const x = solver.solve(b.real, b.imaginary);
    const y = other.solve(
      Float64Array.from(order, (i) => b.real[i]),
      Float64Array.from(order, (i) => b.imaginary[i]),
    );
    for (let i = 0; i < 120; i++)
      expect(Math.hypot(y.real[i] - x.real[order[i]], y.imaginary[i] - x.imaginary[order[i]])).toBeLessThan(1e-13);
  });
});

describe('PreparedSolver.factor', () => {
  it('refuses an indefinite matrix and names the row [closed form]', () => {
    const matrix = matrixFromTriplets(3, {
      row: Uint32Array.of(0, 1, 2, 2),
      column: Uint32Array.of(0, 1, 2, 0),
      real: Float64Array.of(1, -4, 3, 1),
    });
    expect(() => prepareSolverNow(matrix).factorNow(matrix)).toThrow(
      expect.objectContaining({ code: 'linalg/not-positive-definite', where: expect.objectContaining({ item: '1' }) as unknown }),
    );
  });
});
