/*
 * The WebAssembly kernels beside their plain twins, and the guards of the solver: kernel.ts, fronts.ts, kernel-memory.ts, ordering.ts, supernodes.ts.
 */
import { describe, expect, it } from 'vitest';
import type { SolverOptions } from '../../src/linalg/cholesky.ts';
import { prepareSolver } from '../../src/linalg/cholesky.ts';
import { residual } from '../../src/linalg/sparse.ts';
import type { SparseMatrix } from '../../src/linalg/sparse.ts';
import { randomVector } from '../support/random-matrix.ts';
import { conformalSystem, randomPatch } from '../support/random-patch.ts';

async function solveBy(matrix: SparseMatrix, options: SolverOptions): Promise<{ real: Float64Array; imaginary: Float64Array }> {
  const solver = await prepareSolver(matrix, options);
  await solver.factor(matrix);
  const b = randomVector(4, matrix.size);
  const x = solver.solve(b.real, b.imaginary);
  // Beside |b|, round-off is ε·|A||x|; x is large here because only two pins hold the map.
  expect(residual(matrix, x, b)).toBeLessThan(1e-10);
  return x;
}

describe('kernels', () => {
  const { matrix, positions } = conformalSystem(randomPatch(4000));

  it('in WebAssembly and in plain arrays give the same bits [second route]', async () => {
    const wasm = await solveBy(matrix, { positions, kernel: 'wasm' });
    const plain = await solveBy(matrix, { positions, kernel: 'plain' });
    expect(wasm).toEqual(plain);
  });

  it('give the same bits twice [invariant]', async () => {
    const [first, second] = await Promise.all([1, 2].map(() => solveBy(matrix, { positions })));
    expect(first).toEqual(second);
  });
});

describe('the solver’s order', () => {
  it('solves a mesh stretched a hundredfold, and one without positions, without filling up [second route]', async () => {
    const { matrix, positions } = conformalSystem(randomPatch(4000));
    const stretched = Float64Array.from(positions, (x, i) => (i % 3 === 0 ? 100 * x : x));
    const nonzeros = [];
    for (const options of [{ positions }, { positions: stretched }, {}]) {
      const solver = await prepareSolver(matrix, options);
      nonzeros.push(solver.facts.nonzeros);
      await solver.factor(matrix);
      const b = randomVector(4, matrix.size);
      expect(residual(matrix, solver.solve(b.real, b.imaginary), b)).toBeLessThan(1e-10);
    }
    expect(Math.max(...nonzeros)).toBeLessThan(2 * Math.min(...nonzeros));
  });

  it('refuses before it allocates more than it may, and says what would fit [injected failure]', async () => {
    const { matrix, positions } = conformalSystem(randomPatch(4000));
    await expect(prepareSolver(matrix, { positions, mostBytes: 1 << 16 })).rejects.toMatchObject({ code: 'linalg/too-large' });
  });
});
