/*
 * Random sparse Hermitian matrices and their dense twins, for tests of the solver.
 */
import { createRandom } from '../../src/base/random.ts';
import type { OwnVector, SparseMatrix } from '../../src/linalg/sparse.ts';
import { matrixFromTriplets } from '../../src/linalg/triplets.ts';

export interface RandomMatrixOptions {
  readonly seed: number;
  readonly size: number;
  readonly isComplex: boolean;
  /** Entries off the diagonal a column; default 2. */
  readonly perColumn?: number;
  /** Added to the sum of absolute values that makes the matrix dominant; default 1. */
  readonly margin?: number;
}

/** A diagonally dominant, hence positive definite matrix (for margin > 0). */
export function randomHermitian(options: RandomMatrixOptions): SparseMatrix {
  const { seed, size, isComplex, perColumn = 2, margin = 1 } = options;
  const random = createRandom(seed);
  const row: number[] = [];
  const column: number[] = [];
  const real: number[] = [];
  const imaginary: number[] = [];
  const sum = new Float64Array(size).fill(margin);
  for (let k = 0; k < perColumn * size; k++) {
    const i = Math.floor(size * random());
    const j = Math.floor(size * random());
    const a = random() - 0.5;
    const b = isComplex && random() < 0.5 ? random() - 0.5 : 0;
    if (i === j) continue;
    row.push(i);
    column.push(j);
    real.push(a);
    imaginary.push(b);
    sum[i] += Math.hypot(a, b);
    sum[j] += Math.hypot(a, b);
  }
  for (let i = 0; i < size; i++) {
    row.push(i);
    column.push(i);
    real.push(sum[i]);
    imaginary.push(0);
  }
  const list = { row: Uint32Array.from(row), column: Uint32Array.from(column), real: Float64Array.from(real) };
  return matrixFromTriplets(size, isComplex ? { ...list, imaginary: Float64Array.from(imaginary) } : list);
}

export function randomVector(seed: number, size: number): OwnVector {
  const random = createRandom(seed);
  const part = (): Float64Array<ArrayBuffer> => Float64Array.from({ length: size }, () => random() - 0.5);
  return { real: part(), imaginary: part() };
}

/** Both triangles, row by row. */
export function denseOf(matrix: SparseMatrix): OwnVector {
  const { size, columnStart, row } = matrix;
  const real = new Float64Array(size * size);
  const imaginary = new Float64Array(size * size);
  for (let j = 0; j < size; j++) {
    for (let q = columnStart[j]; q < columnStart[j + 1]; q++) {
      const i = row[q];
      const b = matrix.imaginary === undefined ? 0 : matrix.imaginary[q];
      real[i * size + j] = real[j * size + i] = matrix.real[q];
      imaginary[i * size + j] = b;
      if (i !== j) imaginary[j * size + i] = -b;
    }
  }
  return { real, imaginary };
}
