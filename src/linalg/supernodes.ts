/*
 * What a factorisation fills, found without numbers: elimination tree, column counts, supernodes, and the rows of each.
 *
 * Column j of L has below its diagonal the union of what its children in the tree have, so a supernode (columns with the same rows below
 * them) is stored as one dense panel. Panels of a few columns waste time on bookkeeping, so a supernode joins its parent where the explicit
 * noughts that this costs are few ("relaxed amalgamation").
 */
import { inverseOf } from './graph.ts';
import type { Graph } from './graph.ts';

/** The supernodes of a matrix, in an order in which each stands after its children. Unit: vertices of the graph. */
export interface Supernodes {
  /** Vertices in order of elimination; shape vertexCount. */
  readonly order: Int32Array;
  /** Place of each vertex in `order`. */
  readonly rank: Int32Array;
  readonly count: number;
  /** First column of each supernode, and the end; shape count + 1. */
  readonly first: Int32Array;
  /** −1 for roots. */
  readonly parent: Int32Array;
  /** Where the rows of each supernode begin in `rows`; shape count + 1. */
  readonly rowStart: Int32Array;
  /** Rows below the supernode's own columns, ascending. */
  readonly rows: Int32Array;
}

/**
 * A supernode joins its parent if both together have at most `columns` columns of which noughts are at most `share`; the last share holds
 * for any size. Tuned on conformal systems of 10,000 to 500,000 vertices.
 */
const relaxations = [
  { columns: 8, share: 1 },
  { columns: 24, share: 0.5 },
  { columns: 64, share: 0.15 },
  { columns: Infinity, share: 0.05 },
] as const;

/** An order of elimination, its elimination tree in postorder, and how many entries each column of L has. */
export interface CountedOrder {
  /** Vertices in an order with the same fill as the one given, children before parents. */
  readonly columns: Int32Array;
  /** Place of each vertex in `columns`. */
  readonly rank: Int32Array;
  /** Parent column, −1 for roots. */
  readonly parent: Int32Array;
  readonly counts: Int32Array;
  /** Multiplications of a factorisation, Σ counts², before any amalgamation. */
  readonly work: number;
}

/**
 * What an order of elimination costs.
 * @source [liu1990] elimination trees, [gilbert1994] column counts. Cost about linear in the graph.
 */
export function* countColumns(graph: Graph, order: Int32Array): Generator<void, CountedOrder> {
  const n = graph.vertexCount;
  const rank = inverseOf(order);
  const looseParent = eliminationTree(graph, order, rank);
  yield;
  const post = postorder(looseParent);
  const parent = new Int32Array(n);
  const postRank = inverseOf(post);
  const columns = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    const p = looseParent[post[k]];
    parent[k] = p < 0 ? -1 : postRank[p];
    columns[k] = order[post[k]];
    rank[columns[k]] = k;
  }
  yield;
  const counts = columnCounts(graph, columns, rank, parent);
  let work = 0;
  for (let k = 0; k < n; k++) work += counts[k] * counts[k];
  return { columns, rank, parent, counts, work };
}

/**
 * Finds the supernodes of a graph for a counted order. The result's order is another one with the same fill.
 * @source [ashcraft1989] relaxed supernodes. Cost: about linear in the graph and in the rows of the result.
 */
export function* findSupernodes(graph: Graph, order: CountedOrder): Generator<void, Supernodes> {
  const { columns, parent, counts } = order;
  const tree = amalgamate(parent, counts);
  const moved = new Int32Array(columns.length);
  for (let k = 0; k < moved.length; k++) moved[k] = columns[tree.columns[k]];
  const rank = inverseOf(moved);
  yield;
  const rows = findRows(graph, moved, rank, tree);
  return { order: moved, rank, count: tree.parent.length, first: tree.first, parent: tree.parent, rowStart: tree.rowStart, rows };
}

/** Parent of column j: the first row below the diagonal in column j of L. Found row by row with shortcuts to the tops of subtrees. */
function eliminationTree(graph: Graph, order: Int32Array, rank: Int32Array): Int32Array {
  const { vertexCount, start, neighbour } = graph;
  const parent = new Int32Array(vertexCount).fill(-1);
  const shortcut = new Int32Array(vertexCount).fill(-1);
  for (let k = 0; k < vertexCount; k++) {
    const v = order[k];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      let i = rank[neighbour[q]];
      while (i < k) {
        const up = shortcut[i];
        shortcut[i] = k;
        if (up === -1) {
          parent[i] = k;
          break;
        }
        if (up === k) break;
        i = up;
      }
    }
  }
  return parent;
}

/** Each node after its children, children of one node ascending. */
function postorder(parent: Int32Array): Int32Array {
  const n = parent.length;
  const firstChild = new Int32Array(n).fill(-1);
  const sibling = new Int32Array(n);
  let root = -1;
  for (let k = n - 1; k >= 0; k--) {
    const p = parent[k];
    if (p < 0) {
      sibling[k] = root;
      root = k;
    } else {
      sibling[k] = firstChild[p];
      firstChild[p] = k;
    }
  }
  return walk(root, firstChild, sibling, parent, n);
}

/**
 * Entries of each column of L, diagonal included. Row i of L is a subtree of the elimination tree; column j has as many entries as subtrees
 * hold j. Each subtree is counted by its leaves (+1) and the meeting points of neighbouring leaves (−1), summed up the tree.
 * @param parent tree in postorder.
 */
function columnCounts(graph: Graph, columns: Int32Array, rank: Int32Array, parent: Int32Array): Int32Array {
  const { vertexCount: n, start, neighbour } = graph;
  const firstDescendant = new Int32Array(n).fill(-1);
  const lastFirst = new Int32Array(n).fill(-1);
  const lastLeaf = new Int32Array(n).fill(-1);
  const ancestor = new Int32Array(n);
  const counts = new Int32Array(n);
  for (let j = 0; j < n; j++) {
    ancestor[j] = j;
    if (firstDescendant[j] >= 0) continue;
    counts[j] = 1;
    for (let i = j; i >= 0 && firstDescendant[i] < 0; i = parent[i]) firstDescendant[i] = j;
  }
  for (let j = 0; j < n; j++) {
    const p = parent[j];
    if (p >= 0) counts[p]--;
    const v = columns[j];
    const firstOfJ = firstDescendant[j];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const i = rank[neighbour[q]];
      if (i <= j || firstOfJ <= lastFirst[i]) continue;
      // j is a leaf of the subtree of row i.
      lastFirst[i] = firstOfJ;
      counts[j]++;
      const before = lastLeaf[i];
      lastLeaf[i] = j;
      if (before < 0) continue;
      let meeting = before;
      while (meeting !== ancestor[meeting]) meeting = ancestor[meeting];
      for (let s = before; s !== meeting;) {
        const up = ancestor[s];
        ancestor[s] = meeting;
        s = up;
      }
      counts[meeting]--;
    }
    if (p >= 0) ancestor[j] = p;
  }
  for (let j = 0; j < n; j++) if (parent[j] >= 0) counts[parent[j]] += counts[j];
  return counts;
}

interface SupernodeTree {
  /** Column of the given tree that each column of the result is. */
  readonly columns: Int32Array;
  readonly first: Int32Array;
  readonly parent: Int32Array;
  readonly rowStart: Int32Array;
}

/** Gathers columns into supernodes and small supernodes into their parents. */
function amalgamate(parent: Int32Array, counts: Int32Array): SupernodeTree {
  const n = parent.length;
  // Columns with equal rows: each is the only way from the one before.
  const begin = new Int32Array(n + 1);
  const holder = new Int32Array(n);
  let count = 0;
  for (let j = 0; j < n; j++) {
    if (j === 0 || parent[j - 1] !== j || counts[j - 1] !== counts[j] + 1) begin[count++] = j;
    holder[j] = count - 1;
  }
  begin[count] = n;
  const up = new Int32Array(count);
  const into = new Int32Array(count);
  const width = new Int32Array(count);
  const height = new Int32Array(count);
  const noughts = new Float64Array(count);
  for (let s = 0; s < count; s++) {
    const top = parent[begin[s + 1] - 1];
    up[s] = top < 0 ? -1 : holder[top];
    into[s] = s;
    width[s] = begin[s + 1] - begin[s];
    height[s] = counts[begin[s]];
  }
  for (let s = 0; s < count; s++) {
    const p = up[s];
    if (p < 0) continue;
    const tall = width[s] + height[p];
    const wide = width[s] + width[p];
    const empty = noughts[s] + noughts[p] + width[s] * (tall - height[s]);
    const share = empty / (wide * tall - (wide * (wide - 1)) / 2);
    if (!relaxations.some((rule) => wide <= rule.columns && share <= rule.share)) continue;
    into[s] = p;
    width[p] = wide;
    height[p] = tall;
    noughts[p] = empty;
  }
  // A parent is always a later supernode: from the last one down, each finds the one that it ended up in.
  for (let s = count - 1; s >= 0; s--) if (into[s] !== s) into[s] = into[into[s]];
  return arrange({ begin, up, into, width, height, count });
}

interface LooseTree {
  readonly begin: Int32Array;
  readonly up: Int32Array;
  readonly into: Int32Array;
  readonly width: Int32Array;
  readonly height: Int32Array;
  readonly count: number;
}

/**
 * Numbers the joined supernodes so that children stand before parents and, of the children of one parent, first the one whose subtree needs
 * the most room beyond what it leaves behind: so the stack of update matrices stays small [liu1986].
 */
function arrange(loose: LooseTree): SupernodeTree {
  const { begin, up, into, width, height, count } = loose;
  const kept: number[] = [];
  const parentOf = new Int32Array(count).fill(-1);
  const firstChild = new Int32Array(count).fill(-1);
  const sibling = new Int32Array(count).fill(-1);
  const firstMember = new Int32Array(count).fill(-1);
  const nextMember = new Int32Array(count).fill(-1);
  const need = new Float64Array(count);
  const excess = new Float64Array(count);
  let roots = -1;
  for (let s = count - 1; s >= 0; s--) {
    nextMember[s] = firstMember[into[s]];
    firstMember[into[s]] = s;
  }
  for (let s = 0; s < count; s++) {
    if (into[s] !== s) continue;
    kept.push(s);
    // Children are linked in order of falling excess; ties keep the later one last.
    let held = 0;
    let most = 0;
    for (let c = firstChild[s]; c >= 0; c = sibling[c]) {
      most = Math.max(most, held + need[c]);
      held += need[c] - excess[c];
    }
    const rows = height[s] - width[s];
    need[s] = Math.max(most, held + rows * rows);
    excess[s] = need[s] - rows * rows;
    const p = up[s] < 0 ? -1 : into[up[s]];
    parentOf[s] = p;
    let behind = -1;
    let ahead = p < 0 ? roots : firstChild[p];
    while (ahead >= 0 && excess[ahead] >= excess[s]) {
      behind = ahead;
      ahead = sibling[ahead];
    }
    sibling[s] = ahead;
    if (behind >= 0) sibling[behind] = s;
    else if (p < 0) roots = s;
    else firstChild[p] = s;
  }
  const sequence = walk(roots, firstChild, sibling, parentOf, kept.length);
  const place = new Int32Array(count);
  for (let k = 0; k < sequence.length; k++) place[sequence[k]] = k;
  const columns = new Int32Array(begin[count]);
  const first = new Int32Array(kept.length + 1);
  const parent = new Int32Array(kept.length);
  const rowStart = new Int32Array(kept.length + 1);
  let column = 0;
  for (let k = 0; k < sequence.length; k++) {
    const s = sequence[k];
    for (let m = firstMember[s]; m >= 0; m = nextMember[m]) for (let j = begin[m]; j < begin[m + 1]; j++) columns[column++] = j;
    first[k + 1] = column;
    parent[k] = parentOf[s] < 0 ? -1 : place[parentOf[s]];
    rowStart[k + 1] = rowStart[k] + height[s] - width[s];
  }
  return { columns, first, parent, rowStart };
}

/** Nodes of a forest, children before parents, siblings in their linked order. */
function walk(roots: number, firstChild: Int32Array, sibling: Int32Array, parent: Int32Array, count: number): Int32Array {
  const sequence = new Int32Array(count);
  let length = 0;
  let node = roots;
  while (node >= 0) {
    while (firstChild[node] >= 0) node = firstChild[node];
    sequence[length++] = node;
    while (sibling[node] < 0 && parent[node] >= 0) {
      node = parent[node];
      sequence[length++] = node;
    }
    node = sibling[node];
  }
  return sequence;
}

/**
 * Rows of each supernode. Row i belongs to every supernode on the way up from an entry (i, j) of the matrix to the supernode of i; rows are
 * handed out in ascending order, so no list is ever sorted.
 */
function findRows(graph: Graph, order: Int32Array, rank: Int32Array, tree: SupernodeTree): Int32Array {
  const { vertexCount, start, neighbour } = graph;
  const { first, parent, rowStart } = tree;
  const count = parent.length;
  const rows = new Int32Array(rowStart[count]);
  const next = rowStart.slice(0, count);
  const seen = new Int32Array(count).fill(-1);
  const holder = new Int32Array(vertexCount);
  for (let s = 0; s < count; s++) holder.fill(s, first[s], first[s + 1]);
  for (let i = 0; i < vertexCount; i++) {
    const own = holder[i];
    seen[own] = i;
    const v = order[i];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const j = rank[neighbour[q]];
      if (j >= i) continue;
      for (let s = holder[j]; seen[s] !== i; s = parent[s]) {
        seen[s] = i;
        rows[next[s]++] = i;
      }
    }
  }
  return rows;
}
