/*
 * Where everything of a factorisation lies in one linear memory: tables, panels (they become L), update matrices, vectors. The layout is
 * shared by both kernels. Places of panels and update matrices count doubles, addresses bytes.
 */
import type { F64 } from '../base/arrays.ts';
import type { SparseMatrix } from './sparse.ts';
import type { Supernodes } from './supernodes.ts';

/** Place of each array's address in the table of addresses; wasm/fronts.as.ts has the same numbers. */
export const addressPlace = {
  first: 0,
  rowStart: 1,
  rows: 2,
  firstChild: 3,
  sibling: 4,
  isComplex: 5,
  panelPlace: 6,
  updatePlace: 7,
  panels: 8,
  updates: 9,
  entryStart: 10,
  entryRow: 11,
  valuesReal: 12,
  valuesImaginary: 13,
  place: 14,
  relative: 15,
  runEnd: 16,
  floors: 17,
  work: 18,
  xReal: 19,
  xImaginary: 20,
  tReal: 21,
  tImaginary: 22,
} as const;

/** The fronts of a pattern. Unit: unknowns of the matrix, in the order of elimination. */
export interface FrontTree {
  readonly size: number;
  /** Unknown of the matrix at each place of the order. */
  readonly newToOld: Int32Array;
  readonly count: number;
  readonly first: Int32Array;
  readonly parent: Int32Array;
  readonly rowStart: Int32Array;
  readonly rows: Int32Array;
  readonly firstChild: Int32Array;
  readonly sibling: Int32Array;
  /** Entries of each column, lower triangle of the reordered matrix; shape size + 1. */
  readonly entryStart: Int32Array;
  readonly entryRow: Int32Array;
  /** Where an entry stands in the given matrix: q, or ~q where its conjugate is meant. */
  readonly entrySource: Int32Array;
  /** Most entries of the value buffers: the largest run of whole fronts that is handed over at once. */
  readonly widest: number;
  readonly tallest: number;
}

/**
 * Turns supernodes of a graph into fronts of a matrix.
 * @param blockSize unknowns a vertex. @param vertexOf vertex of the pattern for each vertex of the graph.
 */
export function frontTreeOf(pattern: SparseMatrix, blockSize: 1 | 2, supernodes: Supernodes, vertexOf: Int32Array): FrontTree {
  const { size } = pattern;
  const { count, parent } = supernodes;
  const newToOld = new Int32Array(size);
  const oldToNew = new Int32Array(size);
  for (let k = 0; k < supernodes.order.length; k++) {
    const v = vertexOf[supernodes.order[k]];
    for (let c = 0; c < blockSize; c++) {
      newToOld[blockSize * k + c] = blockSize * v + c;
      oldToNew[blockSize * v + c] = blockSize * k + c;
    }
  }
  const isBlock = blockSize === 2;
  const first = isBlock ? supernodes.first.map((k) => 2 * k) : supernodes.first;
  const rowStart = isBlock ? supernodes.rowStart.map((k) => 2 * k) : supernodes.rowStart;
  const rows = isBlock ? new Int32Array(2 * supernodes.rows.length) : supernodes.rows;
  for (let k = 0; isBlock && k < supernodes.rows.length; k++) {
    rows[2 * k] = 2 * supernodes.rows[k];
    rows[2 * k + 1] = rows[2 * k] + 1;
  }
  const firstChild = new Int32Array(count).fill(-1);
  const sibling = new Int32Array(count).fill(-1);
  let widest = 0;
  let tallest = 0;
  for (let f = count - 1; f >= 0; f--) {
    widest = Math.max(widest, first[f + 1] - first[f]);
    tallest = Math.max(tallest, rowStart[f + 1] - rowStart[f]);
    if (parent[f] < 0) continue;
    sibling[f] = firstChild[parent[f]];
    firstChild[parent[f]] = f;
  }
  const entries = entriesByColumn(pattern, oldToNew);
  return { size, newToOld, count, first, parent, rowStart, rows, firstChild, sibling, ...entries, widest, tallest };
}

/** Sorts the matrix's entries into the columns of the reordered lower triangle. */
function entriesByColumn(pattern: SparseMatrix, oldToNew: Int32Array): Pick<FrontTree, 'entryStart' | 'entryRow' | 'entrySource'> {
  const { size, columnStart, row } = pattern;
  const entryStart = new Int32Array(size + 1);
  for (let j = 0; j < size; j++) {
    const b = oldToNew[j];
    for (let q = columnStart[j], stop = columnStart[j + 1]; q < stop; q++) {
      const a = oldToNew[row[q]];
      entryStart[(a < b ? a : b) + 1]++;
    }
  }
  for (let j = 0; j < size; j++) entryStart[j + 1] += entryStart[j];
  const next = entryStart.slice(0, size);
  const entryRow = new Int32Array(row.length);
  const entrySource = new Int32Array(row.length);
  for (let j = 0; j < size; j++) {
    const b = oldToNew[j];
    for (let q = columnStart[j], stop = columnStart[j + 1]; q < stop; q++) {
      const a = oldToNew[row[q]];
      const k = a < b ? next[a]++ : next[b]++;
      entryRow[k] = a < b ? b : a;
      entrySource[k] = a < b ? ~q : q;
    }
  }
  return { entryStart, entryRow, entrySource };
}

/** Room for one factorisation: which fronts are complex, and where their matrices lie. */
export interface FrontPlan {
  /** 1 where a front's subtree holds an imaginary entry. */
  readonly isComplex: Uint8Array;
  readonly panelPlace: Uint32Array;
  readonly updatePlace: Uint32Array;
  /** Doubles that all panels take. */
  readonly panelRoom: number;
  /** Doubles that update matrices take at their most. */
  readonly updateRoom: number;
  /** Entries of L, noughts of joined supernodes included. */
  readonly nonzeros: number;
  /** Real multiplications and additions of one factorisation. */
  readonly flops: number;
}

/**
 * Plans the memory of a factorisation. Update matrices of even depth stack up from the bottom of their room, those of odd depth down from
 * its top: a front's children lie on top of one stack and are let go once its own matrix stands on the other.
 * @param imaginary of the matrix; left out, every front is real.
 */
export function planFronts(tree: FrontTree, imaginary?: F64): FrontPlan {
  const { count, first, parent, rowStart, firstChild, sibling } = tree;
  const isComplex = imaginary === undefined ? new Uint8Array(count) : complexFronts(tree, imaginary);
  const panelPlace = new Uint32Array(count);
  const updatePlace = new Uint32Array(count);
  const isOdd = new Uint8Array(count);
  for (let f = count - 1; f >= 0; f--) isOdd[f] = parent[f] < 0 ? 0 : 1 - isOdd[parent[f]];
  const room = (f: number): number => {
    const side = (rowStart[f + 1] - rowStart[f] + 3) & ~3;
    return side * side * (1 + isComplex[f]);
  };
  const top = [0, 0];
  let panelRoom = 0;
  let updateRoom = 0;
  let nonzeros = 0;
  let flops = 0;
  for (let f = 0; f < count; f++) {
    const width = first[f + 1] - first[f];
    const rows = rowStart[f + 1] - rowStart[f];
    panelPlace[f] = panelRoom;
    panelRoom += ((width * (width + ((rows + 3) & ~3)) + 1) & ~1) * (1 + isComplex[f]);
    updatePlace[f] = top[isOdd[f]];
    top[isOdd[f]] += room(f);
    updateRoom = Math.max(updateRoom, top[0] + top[1]);
    for (let c = firstChild[f]; c >= 0; c = sibling[c]) top[1 - isOdd[f]] -= room(c);
    nonzeros += width * rows + (width * (width + 1)) / 2;
    for (let k = 0; k < width; k++) flops += (rows + width - k) * (rows + width - k) * (isComplex[f] === 1 ? 4 : 1);
  }
  for (let f = 0; f < count; f++) if (isOdd[f] === 1) updatePlace[f] = updateRoom - updatePlace[f] - room(f);
  return { isComplex, panelPlace, updatePlace, panelRoom, updateRoom, nonzeros, flops };
}

function complexFronts(tree: FrontTree, imaginary: F64): Uint8Array {
  const { count, first, parent, entryStart, entrySource } = tree;
  const isComplex = new Uint8Array(count);
  for (let f = 0; f < count; f++) {
    for (let q = entryStart[first[f]], stop = entryStart[first[f + 1]]; q < stop && isComplex[f] === 0; q++) {
      const s = entrySource[q];
      if (imaginary[s < 0 ? ~s : s] !== 0) isComplex[f] = 1;
    }
    if (isComplex[f] === 1 && parent[f] >= 0) isComplex[parent[f]] = 1;
  }
  return isComplex;
}

/** Addresses in the memory, bytes. */
export type Layout = Readonly<Record<keyof typeof addressPlace, number>> & { readonly table: number; readonly bytes: number };

/** Entries whose values are handed over at once, unless one front has more. */
const entriesAtOnce = 1 << 15;

/** The runs of fronts that are eliminated between two looks at the clock: about so many flops or entries. */
export function frontRuns(tree: FrontTree, plan: FrontPlan): { readonly ends: number[]; readonly mostEntries: number } {
  const { count, first, rowStart, entryStart } = tree;
  const ends: number[] = [];
  let mostEntries = 0;
  let begin = 0;
  let work = 0;
  for (let f = 0; f < count; f++) {
    const width = first[f + 1] - first[f];
    const height = width + rowStart[f + 1] - rowStart[f];
    work += width * height * height * (1 + 3 * plan.isComplex[f]);
    const entries = entryStart[first[f + 1]] - entryStart[first[begin]];
    const next = f + 1 < count ? entryStart[first[f + 2]] - entryStart[first[begin]] : Infinity;
    if (next <= entriesAtOnce && work < 5e7) continue;
    ends.push(f + 1);
    mostEntries = Math.max(mostEntries, entries);
    begin = f + 1;
    work = 0;
  }
  return { ends, mostEntries };
}

/** Lays everything out. @param workBytes scratch of the block kernels. @param mostEntries from `frontRuns`. */
export function layOut(tree: FrontTree, plan: FrontPlan, workBytes: number, mostEntries: number): Layout {
  // The first bytes stay free: address 0 would read as "none".
  let top = 1024;
  const take = (bytes: number): number => {
    const address = top;
    top += Math.ceil(bytes / 64) * 64;
    return address;
  };
  const { size, count, rows, entryRow, widest, tallest } = tree;
  const layout = {
    table: take(4 * Object.keys(addressPlace).length),
    first: take(4 * (count + 1)),
    rowStart: take(4 * (count + 1)),
    rows: take(4 * rows.length),
    firstChild: take(4 * count),
    sibling: take(4 * count),
    isComplex: take(count),
    panelPlace: take(4 * count),
    updatePlace: take(4 * count),
    entryStart: take(4 * (size + 1)),
    entryRow: take(4 * entryRow.length),
    valuesReal: take(8 * mostEntries),
    valuesImaginary: take(8 * mostEntries),
    place: take(4 * size),
    relative: take(4 * tallest + 4),
    runEnd: take(4 * tallest + 4),
    floors: take(8 * widest),
    work: take(workBytes),
    xReal: take(8 * size),
    xImaginary: take(8 * size),
    tReal: take(8 * tallest + 32),
    tImaginary: take(8 * tallest + 32),
    updates: take(8 * plan.updateRoom),
    panels: take(8 * plan.panelRoom),
  };
  return { ...layout, bytes: top };
}

/** Writes the tables of a factorisation into its memory. */
export function writeTablesInto(buffer: ArrayBuffer, tree: FrontTree, plan: FrontPlan, layout: Layout): void {
  const addresses = new Uint32Array(buffer, layout.table, Object.keys(addressPlace).length);
  for (const [name, place] of Object.entries(addressPlace)) addresses[place] = layout[name as keyof typeof addressPlace];
  const ints: readonly (readonly [number, Int32Array | Uint32Array])[] = [
    [layout.first, tree.first],
    [layout.rowStart, tree.rowStart],
    [layout.rows, tree.rows],
    [layout.firstChild, tree.firstChild],
    [layout.sibling, tree.sibling],
    [layout.panelPlace, plan.panelPlace],
    [layout.updatePlace, plan.updatePlace],
    [layout.entryStart, tree.entryStart],
    [layout.entryRow, tree.entryRow],
  ];
  for (const [address, array] of ints) new Int32Array(buffer, address, array.length).set(array);
  new Uint8Array(buffer, layout.isComplex, tree.count).set(plan.isComplex);
}
