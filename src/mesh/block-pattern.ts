/*
 * The pattern of a matrix with a 2×2 block for every pair of joined vertices: unknowns x0 y0 x1 y1 …, lower triangle by columns.
 * A block stands where the vertex pattern has an entry: row vertex above column vertex, its own block on the diagonal (three numbers).
 */
import type { U32 } from '../base/arrays.ts';
import type { EdgePattern } from './cotangent.ts';

export interface BlockPattern {
  /** Number of scalar unknowns, twice the vertex unknowns. */
  readonly size: number;
  readonly columnStart: U32;
  readonly row: U32;
  /** For each entry of the vertex pattern: the place of its block's first column (xx, then yx); for the diagonal xx, then yx. */
  readonly first: U32;
  /** The same for the block's second column (xy, then yy); for the diagonal yy alone. */
  readonly second: U32;
}

/**
 * Doubles a vertex pattern.
 * Cost: linear.
 */
export function blockPattern(pattern: EdgePattern): BlockPattern {
  const { size, columnStart: vertexStart, row: vertexRow } = pattern;
  const columnStart = new Uint32Array(2 * size + 1);
  const total = 4 * (vertexRow.length - size) + 3 * size;
  const row = new Uint32Array(total);
  const first = new Uint32Array(vertexRow.length);
  const second = new Uint32Array(vertexRow.length);
  let at = 0;
  for (let j = 0; j < size; j++) {
    const start = vertexStart[j];
    const end = vertexStart[j + 1];
    columnStart[2 * j] = at;
    first[start] = at;
    row[at++] = 2 * j;
    row[at++] = 2 * j + 1;
    for (let q = start + 1; q < end; q++) {
      first[q] = at;
      row[at++] = 2 * vertexRow[q];
      row[at++] = 2 * vertexRow[q] + 1;
    }
    columnStart[2 * j + 1] = at;
    second[start] = at;
    row[at++] = 2 * j + 1;
    for (let q = start + 1; q < end; q++) {
      second[q] = at;
      row[at++] = 2 * vertexRow[q];
      row[at++] = 2 * vertexRow[q] + 1;
    }
  }
  columnStart[2 * size] = at;
  return { size: 2 * size, columnStart, row, first, second };
}
