/*
 * Minimum degree on a small region with its halo, by bitsets: row v of the bit matrix holds the vertices that v still touches. Halo vertices
 * lie in separators and are eliminated later, so they count towards degrees and are never chosen.
 */
import type { Graph } from './graph.ts';

/** Largest region; halo vertices beyond `maxHalo` are not counted. */
export const maxLeaf = 256;
const maxHalo = 512;
const maxWords = (maxLeaf + maxHalo) >> 5;

export interface LeafScratch {
  /** Local number of each vertex of the graph, −1 outside; shape vertexCount. */
  readonly local: Int32Array;
  readonly halo: Int32Array;
  readonly bits: Int32Array;
  readonly degree: Int32Array;
}

export function createLeafScratch(vertexCount: number): LeafScratch {
  return {
    local: new Int32Array(vertexCount).fill(-1),
    halo: new Int32Array(maxHalo),
    bits: new Int32Array(maxLeaf * maxWords),
    degree: new Int32Array(maxLeaf),
  };
}

/** Bits set in x. */
function bitCount(x: number): number {
  x -= (x >>> 1) & 0x55555555;
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  return Math.imul((x + (x >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/**
 * Reorders ids[low … high) so that each vertex, when its turn comes, touches as few others as any; ties go to the lower place.
 * Cost about (high − low)² / 8 for meshes.
 */
export function orderLeafInto(ids: Int32Array, scratch: LeafScratch, graph: Graph, low: number, high: number): void {
  const { local, halo, bits, degree } = scratch;
  const { start, neighbour } = graph;
  const count = high - low;
  for (let k = 0; k < count; k++) local[ids[low + k]] = k;
  let haloCount = 0;
  for (let k = low; k < high; k++) {
    const v = ids[k];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = neighbour[q];
      if (local[u] >= 0 || haloCount === maxHalo) continue;
      local[u] = count + haloCount;
      halo[haloCount++] = u;
    }
  }
  const words = (count + haloCount + 31) >> 5;
  bits.fill(0, 0, count * words);
  for (let k = 0; k < count; k++) {
    const v = ids[low + k];
    let d = 0;
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = local[neighbour[q]];
      if (u < 0) continue;
      bits[k * words + (u >> 5)] |= 1 << (u & 31);
      d++;
    }
    degree[k] = d;
  }
  for (let k = 0; k < haloCount; k++) local[halo[k]] = -1;
  eliminateInto(ids, scratch, low, count, words);
}

function eliminateInto(ids: Int32Array, scratch: LeafScratch, low: number, count: number, words: number): void {
  const { bits, degree, local, halo } = scratch;
  for (let k = 0; k < count; k++) {
    halo[k] = ids[low + k];
    local[ids[low + k]] = -1;
  }
  let least = 0;
  for (let turn = 0; turn < count; turn++) {
    // One elimination lowers a degree by one at most, so the first that low ends the search.
    const lowest = least - 1;
    let best = 0;
    least = 0x7fffffff;
    for (let k = 0; k < count && least > lowest; k++) {
      if (degree[k] >= least) continue;
      least = degree[k];
      best = k;
    }
    ids[low + turn] = halo[best];
    degree[best] = 0x7fffffff;
    const own = best * words;
    const ownWord = best >> 5;
    const ownBit = ~(1 << (best & 31));
    for (let w = 0; w < words; w++) {
      for (let rest = bits[own + w]; rest !== 0; rest &= rest - 1) {
        const u = (w << 5) + 31 - Math.clz32(rest & -rest);
        if (u >= count) break;
        const row = u * words;
        const selfWord = u >> 5;
        bits[row + ownWord] &= ownBit;
        let d = degree[u] - 1;
        for (let r = 0; r < words; r++) {
          let fresh = bits[own + r] & ~bits[row + r];
          if (r === selfWord) fresh &= ~(1 << (u & 31));
          if (fresh === 0) continue;
          bits[row + r] |= fresh;
          d += bitCount(fresh);
        }
        degree[u] = d;
      }
    }
  }
}
