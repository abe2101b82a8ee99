/*
 * Sparse matrices from lists of entries. The pattern is found once (`prepareAssembly`), the sums as often as numbers change: a Newton
 * step costs one pass over its entries. Sums run in the order of the list, so the same list gives the same bits.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { sortByColumnThenRow } from './sparse.ts';
import type { SparseMatrix } from './sparse.ts';

/** Where the entries of a list go. */
export interface Assembly {
  readonly size: number;
  readonly columnStart: U32;
  readonly row: U32;
  /** Entry of the matrix that each entry of the list adds to. */
  readonly slot: U32;
  /** 1 where the list named the upper triangle, so that the conjugate is stored. */
  readonly isConjugate: Readonly<Omit<Uint8Array, 'buffer' | 'fill' | 'set'>>;
}

/**
 * Finds the pattern of a symmetric or Hermitian matrix from a list of entries.
 * Each entry stands for itself and its mirror image: name a pair (i, j) once, in whichever triangle; naming both adds twice.
 * Every diagonal place is kept, named or not, because a factorisation needs it.
 * @param size unknowns. @param row @param column the places, same length.
 * @throws RangeError for a place outside the matrix.
 */
export function prepareAssembly(size: number, row: U32, column: U32): Assembly {
  const count = row.length;
  const low = new Uint32Array(count + size);
  const left = new Uint32Array(count + size);
  const isConjugate = new Uint8Array(count);
  for (let k = 0; k < count; k++) {
    const i = row[k];
    const j = column[k];
    if (i >= size || j >= size) throw new RangeError(`entry ${k} lies at (${i}, ${j}), outside a matrix of ${size} unknowns`);
    isConjugate[k] = i < j ? 1 : 0;
    low[k] = Math.max(i, j);
    left[k] = Math.min(i, j);
  }
  for (let i = 0; i < size; i++) low[count + i] = left[count + i] = i;
  const { order } = sortByColumnThenRow(size, low, left);
  const slot = new Uint32Array(count);
  const columnStart = new Uint32Array(size + 1);
  const rows = new Uint32Array(order.length);
  let length = 0;
  for (let k = 0; k < order.length; k++) {
    const q = order[k];
    const fresh = k === 0 || low[q] !== low[order[k - 1]] || left[q] !== left[order[k - 1]];
    if (fresh) {
      rows[length++] = low[q];
      columnStart[left[q] + 1] = length;
    }
    if (q < count) slot[q] = length - 1;
  }
  return { size, columnStart, row: rows.slice(0, length), slot, isConjugate };
}

/**
 * The matrix whose entries are the sums over a list with the places of `assembly`.
 * @param real one number an entry of the list. @param imaginary the same; left out for a real matrix.
 */
export function sumEntries(assembly: Assembly, real: F64, imaginary?: F64): SparseMatrix {
  const { size, columnStart, row, slot, isConjugate } = assembly;
  const sumReal = new Float64Array(row.length);
  for (let k = 0; k < slot.length; k++) sumReal[slot[k]] += real[k];
  if (imaginary === undefined) return { size, columnStart, row, real: sumReal };
  const sumImaginary = new Float64Array(row.length);
  for (let k = 0; k < slot.length; k++) sumImaginary[slot[k]] += isConjugate[k] === 1 ? -imaginary[k] : imaginary[k];
  for (let j = 0; j < size; j++) sumImaginary[columnStart[j]] = 0;
  return { size, columnStart, row, real: sumReal, imaginary: sumImaginary };
}

/** A list of entries; a pair (i, j), (j, i) is named once. */
export interface Triplets {
  readonly row: U32;
  readonly column: U32;
  readonly real: F64;
  readonly imaginary?: F64;
}

/** The matrix that a list of entries sums to, for use where the pattern serves once. See `prepareAssembly`. */
export function matrixFromTriplets(size: number, triplets: Triplets): SparseMatrix {
  return sumEntries(prepareAssembly(size, triplets.row, triplets.column), triplets.real, triplets.imaginary);
}
