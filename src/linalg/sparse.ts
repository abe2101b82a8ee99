/*
 * Sparse symmetric and Hermitian matrices in compressed columns, lower triangle only; products, residuals, renumbering.
 * Complex vectors are two arrays, real and imaginary parts apart.
 */
import type { F64, U32 } from '../base/arrays.ts';

/**
 * The lower triangle (diagonal included) of a real symmetric or complex Hermitian matrix.
 * Rows within a column ascend and start with the diagonal.
 */
export interface SparseMatrix {
  readonly size: number;
  /** Shape size + 1. */
  readonly columnStart: U32;
  /** Row of each entry, ≥ its column. */
  readonly row: U32;
  readonly real: F64;
  /** Absent for a real matrix; 0 on the diagonal. */
  readonly imaginary?: F64;
}

/** A complex vector; `imaginary` may be left out of a real one. */
export interface Vector {
  readonly real: F64;
  readonly imaginary?: F64;
}

/** A complex vector that its maker may still write to. */
export interface OwnVector {
  readonly real: Float64Array<ArrayBuffer>;
  readonly imaginary: Float64Array<ArrayBuffer>;
}

/**
 * y = A x for the whole matrix that the lower triangle stands for: below the diagonal a_ij, above it its conjugate.
 * @param x shape size; a missing imaginary part counts as nought.
 * @returns shape size; the imaginary part is nought where both A and x are real.
 */
export function multiply(matrix: SparseMatrix, x: Vector): OwnVector {
  const { size, columnStart, row, real, imaginary } = matrix;
  const xr = x.real;
  const xi = x.imaginary ?? new Float64Array(size);
  const yr = new Float64Array(size);
  const yi = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    const uj = xr[j];
    const vj = xi[j];
    let sumReal = 0;
    let sumImaginary = 0;
    for (let q = columnStart[j]; q < columnStart[j + 1]; q++) {
      const i = row[q];
      const a = real[q];
      const b = imaginary === undefined || i === j ? 0 : imaginary[q];
      yr[i] += a * uj - b * vj;
      yi[i] += a * vj + b * uj;
      if (i === j) continue;
      sumReal += a * xr[i] + b * xi[i];
      sumImaginary += a * xi[i] - b * xr[i];
    }
    yr[j] += sumReal;
    yi[j] += sumImaginary;
  }
  return { real: yr, imaginary: yi };
}

/**
 * How far x is from solving A x = b: ‖b − A x‖₂ / ‖b‖₂ (‖A x‖₂ where b is nought).
 * A small residual does not bound the error of x: maps with equal residual differ by the condition number of A.
 */
export function residual(matrix: SparseMatrix, x: Vector, b: Vector): number {
  const ax = multiply(matrix, x);
  let difference = 0;
  let whole = 0;
  for (let i = 0; i < matrix.size; i++) {
    const bi = b.imaginary === undefined ? 0 : b.imaginary[i];
    const dr = b.real[i] - ax.real[i];
    const di = bi - ax.imaginary[i];
    difference += dr * dr + di * di;
    whole += b.real[i] * b.real[i] + bi * bi;
  }
  return whole > 0 ? Math.sqrt(difference / whole) : Math.sqrt(difference);
}

/**
 * The same matrix with its unknowns renumbered: entry (i, j) of the result is entry (newToOld[i], newToOld[j]) of `matrix`.
 * @param newToOld a permutation of 0 … size − 1.
 */
export function permuteSymmetric(matrix: SparseMatrix, newToOld: U32): SparseMatrix {
  const { size, columnStart, row, real, imaginary } = matrix;
  const oldToNew = new Uint32Array(size);
  for (let i = 0; i < size; i++) oldToNew[newToOld[i]] = i;
  const count = row.length;
  const at = { row: new Uint32Array(count), column: new Uint32Array(count), imaginary: new Float64Array(count) };
  for (let j = 0; j < size; j++) {
    for (let q = columnStart[j]; q < columnStart[j + 1]; q++) {
      const a = oldToNew[row[q]];
      const b = oldToNew[j];
      at.row[q] = Math.max(a, b);
      at.column[q] = Math.min(a, b);
      if (imaginary !== undefined) at.imaginary[q] = a >= b ? imaginary[q] : -imaginary[q];
    }
  }
  const { start, order } = sortByColumnThenRow(size, at.row, at.column);
  const sorted = {
    size,
    columnStart: start,
    row: Uint32Array.from(order, (q) => at.row[q]),
    real: Float64Array.from(order, (q) => real[q]),
  };
  return imaginary === undefined ? sorted : { ...sorted, imaginary: Float64Array.from(order, (q) => at.imaginary[q]) };
}

/**
 * Sorts entries by column, then row, entries of one place in the order given: two counting sorts, rows first.
 * @returns `start` of each column (shape size + 1) and the entries in sorted order. Cost linear.
 */
export function sortByColumnThenRow(size: number, row: U32, column: U32): { start: Uint32Array; order: Uint32Array } {
  const count = row.length;
  const byRow = new Uint32Array(count);
  const order = new Uint32Array(count);
  const start = new Uint32Array(size + 1);
  const next = new Uint32Array(size + 1);
  for (let q = 0; q < count; q++) next[row[q] + 1]++;
  for (let i = 0; i < size; i++) next[i + 1] += next[i];
  for (let q = 0; q < count; q++) byRow[next[row[q]]++] = q;
  for (let q = 0; q < count; q++) start[column[q] + 1]++;
  for (let j = 0; j < size; j++) start[j + 1] += start[j];
  next.set(start);
  for (let k = 0; k < count; k++) order[next[column[byRow[k]]]++] = byRow[k];
  return { start, order };
}
