/*
 * Sparse symmetric and Hermitian matrices in compressed columns.
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
