/*
 * Gateway to ml-matrix: small dense problems (principal axes, fits, oracles of tests). Matrices are flat, row by row.
 */
import { EigenvalueDecomposition, Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import type { F64 } from '../base/arrays.ts';

function toMatrix(values: F64, rows: number, columns: number): Matrix {
  if (!Number.isInteger(columns) || values.length !== rows * columns)
    throw new RangeError(`${values.length} numbers do not make a ${rows} × ${columns} matrix`);
  const matrix = new Matrix(rows, columns);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) matrix.set(i, j, values[i * columns + j]);
  return matrix;
}

function toFlat(matrix: Matrix): Float64Array<ArrayBuffer> {
  const flat = new Float64Array(matrix.rows * matrix.columns);
  for (let i = 0; i < matrix.rows; i++) for (let j = 0; j < matrix.columns; j++) flat[i * matrix.columns + j] = matrix.get(i, j);
  return flat;
}

/**
 * Solves a dense system A x = b, by least squares where A has more rows than columns.
 * @param a shape rows · columns, row by row. @param b shape rows.
 * @returns x, shape columns. Cost cubic: for some hundreds of unknowns at most.
 */
export function solveDense(a: F64, b: F64): Float64Array<ArrayBuffer> {
  const rows = b.length;
  const columns = rows === 0 ? 0 : a.length / rows;
  return toFlat(solve(toMatrix(a, rows, columns), toMatrix(b, rows, 1)));
}

/** Eigenvalues, ascending, and unit eigenvectors of a symmetric matrix; vector k is `vectors[k·size … k·size + size − 1]`. */
export interface SymmetricEigen {
  readonly values: Float64Array<ArrayBuffer>;
  readonly vectors: Float64Array<ArrayBuffer>;
}

/**
 * Eigenvalues and eigenvectors of a dense symmetric matrix; only its lower triangle is read.
 * Each vector's largest component is positive, so that equal input gives equal vectors. Cost cubic.
 * @param a shape size · size.
 */
export function symmetricEigen(a: F64, size: number): SymmetricEigen {
  const matrix = toMatrix(a, size, size);
  for (let i = 0; i < size; i++) for (let j = i + 1; j < size; j++) matrix.set(i, j, matrix.get(j, i));
  const result = new EigenvalueDecomposition(matrix, { assumeSymmetric: true });
  const order = result.realEigenvalues.map((_, k) => k).sort((p, q) => result.realEigenvalues[p] - result.realEigenvalues[q] || p - q);
  const values = Float64Array.from(order, (k) => result.realEigenvalues[k]);
  const vectors = new Float64Array(size * size);
  order.forEach((k, place) => {
    let largest = 0;
    for (let i = 0; i < size; i++) {
      const x = result.eigenvectorMatrix.get(i, k);
      if (Math.abs(x) > Math.abs(largest)) largest = x;
    }
    const sign = largest < 0 ? -1 : 1;
    for (let i = 0; i < size; i++) vectors[place * size + i] = sign * result.eigenvectorMatrix.get(i, k);
  });
  return { values, vectors };
}

/** Singular values, descending, of a dense matrix of shape rows · columns. */
export function singularValuesDense(a: F64, rows: number, columns: number): Float64Array<ArrayBuffer> {
  return Float64Array.from(new SingularValueDecomposition(toMatrix(a, rows, columns), { autoTranspose: true }).diagonal);
}
