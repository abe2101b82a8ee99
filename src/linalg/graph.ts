/*
 * The graph of a sparse matrix: vertices are unknowns (or blocks of them), neighbours share an entry. Vertices are renumbered along a
 * Morton curve through their positions, so that whatever walks over neighbours walks over near memory.
 */
import type { F64 } from '../base/arrays.ts';
import type { SparseMatrix } from './sparse.ts';

/** Neighbours of each vertex, both ways, without the vertex itself. */
export interface Graph {
  readonly vertexCount: number;
  /** Shape vertexCount + 1. */
  readonly start: Int32Array;
  readonly neighbour: Int32Array;
}

/**
 * The graph of a pattern.
 * @param blockSize unknowns a vertex, interleaved.
 * @param newToOld numbering of the graph's vertices; `oldToNew` its inverse.
 */
export function graphOf(pattern: SparseMatrix, blockSize: 1 | 2, newToOld: Int32Array, oldToNew: Int32Array): Graph {
  const vertexCount = newToOld.length;
  const shift = blockSize - 1;
  const { columnStart, row } = pattern;
  const start = new Int32Array(vertexCount + 1);
  // Last column that named each row: a block names its neighbour up to four times.
  const seen = blockSize === 1 ? undefined : new Int32Array(vertexCount).fill(-1);
  const size = pattern.size;
  for (let j = 0; j < size; j++) {
    const v = j >> shift;
    const a = oldToNew[v];
    for (let q = columnStart[j], end = columnStart[j + 1]; q < end; q++) {
      const u = row[q] >> shift;
      if (u === v) continue;
      if (seen !== undefined) {
        if (seen[u] === v) continue;
        seen[u] = v;
      }
      start[a + 1]++;
      start[oldToNew[u] + 1]++;
    }
  }
  for (let v = 0; v < vertexCount; v++) start[v + 1] += start[v];
  const neighbour = new Int32Array(start[vertexCount]);
  const next = start.slice(0, vertexCount);
  seen?.fill(-1);
  for (let j = 0; j < size; j++) {
    const v = j >> shift;
    const a = oldToNew[v];
    for (let q = columnStart[j], end = columnStart[j + 1]; q < end; q++) {
      const u = row[q] >> shift;
      if (u === v) continue;
      if (seen !== undefined) {
        if (seen[u] === v) continue;
        seen[u] = v;
      }
      const b = oldToNew[u];
      neighbour[next[a]++] = b;
      neighbour[next[b]++] = a;
    }
  }
  return { vertexCount, start, neighbour };
}

/** The inverse of a permutation. */
export function inverseOf(order: Int32Array): Int32Array<ArrayBuffer> {
  const rank = new Int32Array(order.length);
  for (let k = 0; k < order.length; k++) rank[order[k]] = k;
  return rank;
}

/** Spreads the low ten bits of x to every third bit. */
function spread(x: number): number {
  x = (x | (x << 16)) & 0x030000ff;
  x = (x | (x << 8)) & 0x0300f00f;
  x = (x | (x << 4)) & 0x030c30c3;
  return (x | (x << 2)) & 0x09249249;
}

/**
 * Vertices along a Morton curve: the box of the positions is cut into 1024³ cells, cells are walked with their coordinates' bits
 * interleaved, vertices of one cell keep their order. Cost linear (three counting sorts of ten bits).
 * @param positions shape 3·vertexCount.
 */
export function mortonOrder(positions: F64): Int32Array<ArrayBuffer> {
  const count = positions.length / 3;
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let k = 0; k < positions.length; k += 3) {
    for (let d = 0; d < 3; d++) {
      const x = positions[k + d];
      if (x < low[d]) low[d] = x;
      if (x > high[d]) high[d] = x;
    }
  }
  const extent = Math.max(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  const scale = extent > 0 ? 1023.999 / extent : 0;
  const [x0, y0, z0] = low;
  const code = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    const x = ((positions[3 * v] - x0) * scale) | 0;
    const y = ((positions[3 * v + 1] - y0) * scale) | 0;
    const z = ((positions[3 * v + 2] - z0) * scale) | 0;
    code[v] = spread(x) | (spread(y) << 1) | (spread(z) << 2);
  }
  let from = new Int32Array(count);
  let to = new Int32Array(count);
  for (let v = 0; v < count; v++) from[v] = v;
  const first = new Int32Array(1025);
  for (let shift = 0; shift < 30; shift += 10) {
    first.fill(0);
    for (let v = 0; v < count; v++) first[((code[v] >> shift) & 1023) + 1]++;
    for (let k = 0; k < 1024; k++) first[k + 1] += first[k];
    for (let k = 0; k < count; k++) {
      const v = from[k];
      to[first[(code[v] >> shift) & 1023]++] = v;
    }
    [from, to] = [to, from];
  }
  return from;
}
