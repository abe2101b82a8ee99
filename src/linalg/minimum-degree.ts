/*
 * Approximate minimum degree: the order for graphs that no cut parts well, and the fall-back of the dissection's guard.
 *
 * Eliminated vertices become elements: an element stands for the clique of the vertices in its list. A vertex keeps the vertices that it
 * still touches by itself and the elements that it lies in. Its degree is bounded by the sizes of those lists, each element counted without
 * what it shares with the newest one. Vertices with equal lists are joined and eliminated together; elements inside the newest one vanish.
 */
import type { Graph } from './graph.ts';

/** Lists of the quotient graph, one piece of `list` a node: `elementCount` elements first, then vertices, `length` in all. */
interface Quotient {
  readonly n: number;
  list: Int32Array;
  /** First free place of `list`. */
  end: number;
  readonly start: Int32Array;
  readonly length: Int32Array;
  readonly elementCount: Int32Array;
  /** Vertices that a node stands for; 0 once it is joined to another. Of an element: total size of its list. */
  readonly weight: Int32Array;
  readonly degree: Int32Array;
  readonly state: Uint8Array;
  /** Degree lists: heads by degree, links both ways. */
  readonly head: Int32Array;
  readonly next: Int32Array;
  readonly last: Int32Array;
  /** |element less the newest one|, offset by a growing base; marks. */
  readonly mark: Int32Array;
  base: number;
  /** The node that each joined or absorbed node went into. */
  readonly into: Int32Array;
}

const isVertex = 0;
const isElement = 1;
const isGone = 2;

/**
 * Vertices of a graph in an order of small fill; ties go to the vertex listed last, deterministically.
 * @source [amestoy1996] without its dense-row rule. Cost: near linear for meshes.
 */
export function* minimumDegree(graph: Graph): Generator<void, Int32Array> {
  const q = quotientOf(graph);
  const { n } = q;
  const pivots = new Int32Array(n);
  let pivotCount = 0;
  let done = 0;
  let least = 0;
  for (let v = 0; v < n; v++) link(q, v);
  while (done < n) {
    while (q.head[least] < 0) least++;
    const pivot = q.head[least];
    unlink(q, pivot);
    pivots[pivotCount++] = pivot;
    done += q.weight[pivot];
    formElement(q, pivot);
    measureElements(q, pivot);
    updateDegrees(q, pivot, n - done);
    joinEqual(q, pivot);
    least = relink(q, pivot, least);
    if ((pivotCount & 4095) === 0) yield;
  }
  return expand(q, pivots.subarray(0, pivotCount));
}

function quotientOf(graph: Graph): Quotient {
  const { vertexCount: n, start, neighbour } = graph;
  const list = new Int32Array(Math.ceil(neighbour.length * 1.25) + n + 16);
  list.set(neighbour);
  const places = (value: number): Int32Array => new Int32Array(n).fill(value);
  const length = Int32Array.from({ length: n }, (_, v) => start[v + 1] - start[v]);
  return {
    n,
    list,
    end: neighbour.length,
    start: start.slice(0, n),
    length,
    elementCount: places(0),
    weight: places(1),
    degree: length.slice(),
    state: new Uint8Array(n),
    head: new Int32Array(n + 1).fill(-1),
    next: places(-1),
    last: places(-1),
    mark: places(0),
    base: 1,
    into: places(-1),
  };
}

function link(q: Quotient, v: number): void {
  const d = q.degree[v];
  const other = q.head[d];
  q.next[v] = other;
  q.last[v] = -1;
  if (other >= 0) q.last[other] = v;
  q.head[d] = v;
}

function unlink(q: Quotient, v: number): void {
  const { next, last, head, degree } = q;
  if (next[v] >= 0) last[next[v]] = last[v];
  if (last[v] >= 0) next[last[v]] = next[v];
  else head[degree[v]] = next[v];
}

/** Makes room for `count` more places by packing the lists that are still used. */
function makeRoom(q: Quotient, count: number): void {
  if (q.end + count <= q.list.length) return;
  const nodes: number[] = [];
  let used = 0;
  for (let v = 0; v < q.n; v++) {
    if (q.state[v] === isGone || q.length[v] === 0) continue;
    nodes.push(v);
    used += q.length[v];
  }
  const list = used + count > 0.8 * q.list.length ? new Int32Array(2 * (used + count)) : new Int32Array(q.list.length);
  let end = 0;
  for (const v of nodes) {
    list.set(q.list.subarray(q.start[v], q.start[v] + q.length[v]), end);
    q.start[v] = end;
    end += q.length[v];
  }
  q.list = list;
  q.end = end;
}

/** Turns a pivot into an element: its own vertices and those of its elements, which it absorbs. */
function formElement(q: Quotient, pivot: number): void {
  const { start, length, elementCount, weight, state, mark } = q;
  let most = length[pivot] - elementCount[pivot];
  for (let k = 0; k < elementCount[pivot]; k++) most += length[q.list[start[pivot] + k]];
  makeRoom(q, most);
  const stamp = ++q.base;
  const from = q.end;
  let to = from;
  let size = 0;
  mark[pivot] = stamp;
  const take = (begin: number, stop: number): void => {
    const { list } = q;
    for (let k = begin; k < stop; k++) {
      const v = list[k];
      if (weight[v] === 0 || state[v] !== isVertex || mark[v] === stamp) continue;
      mark[v] = stamp;
      list[to++] = v;
      size += weight[v];
    }
  };
  const own = start[pivot];
  for (let k = 0; k < elementCount[pivot]; k++) {
    const e = q.list[own + k];
    take(start[e], start[e] + length[e]);
    state[e] = isGone;
    q.into[e] = pivot;
  }
  take(own + elementCount[pivot], own + length[pivot]);
  for (let k = from; k < to; k++) unlink(q, q.list[k]);
  start[pivot] = from;
  length[pivot] = to - from;
  elementCount[pivot] = 0;
  state[pivot] = isElement;
  q.degree[pivot] = size;
  q.end = to;
}

/** Leaves in `mark` of each element that meets the newest one: base + |element less the newest one|. */
function measureElements(q: Quotient, pivot: number): void {
  const { list, start, length, elementCount, weight, mark, degree, state } = q;
  q.base += q.n + 1;
  // Marks above the base are this round's; 2³¹ is far enough for two billion steps of small graphs, else start over.
  if (q.base > 0x7fffffff - 2 * q.n) {
    mark.fill(0);
    q.base = q.n + 2;
  }
  for (let k = start[pivot], stop = k + length[pivot]; k < stop; k++) {
    const v = list[k];
    for (let p = start[v], end = p + elementCount[v]; p < end; p++) {
      const e = list[p];
      if (state[e] === isGone) continue;
      mark[e] = (mark[e] >= q.base ? mark[e] : q.base + degree[e]) - weight[v];
    }
  }
}

/** Drops dead members from the lists of the newest element's vertices and bounds their degrees. */
function updateDegrees(q: Quotient, pivot: number, remaining: number): void {
  const { list, start, length, elementCount, weight, state, mark, degree, into } = q;
  const size = degree[pivot];
  for (let k = start[pivot], stop = k + length[pivot]; k < stop; k++) mark[list[k]] = -q.base;
  for (let k = start[pivot], stop = k + length[pivot]; k < stop; k++) {
    const v = list[k];
    const begin = start[v];
    const elementsEnd = begin + elementCount[v];
    const end = begin + length[v];
    let to = begin;
    let bound = 0;
    for (let p = begin; p < elementsEnd; p++) {
      const e = list[p];
      if (state[e] === isGone) continue;
      const rest = mark[e] - q.base;
      if (rest <= 0) {
        // Wholly inside the newest element.
        state[e] = isGone;
        into[e] = pivot;
        continue;
      }
      bound += rest;
      list[to++] = e;
    }
    // The newest element goes where the first vertex is; that vertex is either kept behind or was the pivot or one of its vertices.
    const elementsKept = to - begin + 1;
    let vertices = 0;
    const kept = keptVertices(q, elementsEnd, end);
    for (let p = 0; p < kept; p++) {
      const u = list[elementsEnd + p];
      bound += weight[u];
      vertices++;
    }
    list.copyWithin(to + 1, elementsEnd, elementsEnd + kept);
    list[to] = pivot;
    elementCount[v] = elementsKept;
    length[v] = elementsKept + vertices;
    const d = Math.min(degree[v] + size - weight[v], bound + size - weight[v], remaining - weight[v]);
    degree[v] = Math.max(0, d);
  }
}

/** Moves the vertices of list[begin … end) that still count to its front. @returns how many. */
function keptVertices(q: Quotient, begin: number, end: number): number {
  const { list, weight, state, mark } = q;
  let count = 0;
  for (let p = begin; p < end; p++) {
    const u = list[p];
    if (weight[u] > 0 && state[u] === isVertex && mark[u] !== -q.base) list[begin + count++] = u;
  }
  return count;
}

/** Joins vertices of the newest element whose lists are equal. */
function joinEqual(q: Quotient, pivot: number): void {
  const { list, start, length, elementCount, weight, into, degree, state, mark } = q;
  const buckets = new Map<number, number[]>();
  for (let k = start[pivot], stop = k + length[pivot]; k < stop; k++) {
    const v = list[k];
    let sum = 0;
    for (let p = start[v], end = p + length[v]; p < end; p++) sum = (sum + list[p]) | 0;
    const bucket = buckets.get(sum);
    if (bucket === undefined) buckets.set(sum, [v]);
    else bucket.push(v);
  }
  for (const bucket of buckets.values()) {
    for (let a = 0; a + 1 < bucket.length; a++) {
      const v = bucket[a];
      if (weight[v] === 0) continue;
      const stamp = ++q.base;
      for (let p = start[v], end = p + length[v]; p < end; p++) mark[list[p]] = stamp;
      for (let b = a + 1; b < bucket.length; b++) {
        const u = bucket[b];
        if (weight[u] === 0 || length[u] !== length[v] || elementCount[u] !== elementCount[v]) continue;
        let isEqual = true;
        for (let p = start[u], end = p + length[u]; p < end && isEqual; p++) isEqual = mark[list[p]] === stamp;
        if (!isEqual) continue;
        degree[v] -= weight[u];
        weight[v] += weight[u];
        weight[u] = 0;
        state[u] = isGone;
        into[u] = v;
      }
    }
  }
}

/** Puts the newest element's vertices back into the degree lists and drops joined ones from it. @returns the least degree. */
function relink(q: Quotient, pivot: number, least: number): number {
  const { list, start, length, weight, degree } = q;
  let to = start[pivot];
  for (let k = start[pivot], stop = k + length[pivot]; k < stop; k++) {
    const v = list[k];
    if (weight[v] === 0) continue;
    list[to++] = v;
    degree[v] = Math.max(0, degree[v]);
    link(q, v);
    if (degree[v] < least) least = degree[v];
  }
  length[pivot] = to - start[pivot];
  return least;
}

/** Each pivot followed by the vertices that were joined to it. */
function expand(q: Quotient, pivots: Int32Array): Int32Array {
  const { n, into } = q;
  const isPivot = new Uint8Array(n);
  for (const p of pivots) isPivot[p] = 1;
  const members: number[][] = Array.from({ length: n }, () => []);
  for (let v = 0; v < n; v++) {
    if (isPivot[v] === 1) continue;
    let u = into[v];
    while (isPivot[u] === 0) u = into[u];
    members[u].push(v);
  }
  const order = new Int32Array(n);
  let k = 0;
  for (const p of pivots) {
    order[k++] = p;
    for (const v of members[p]) order[k++] = v;
  }
  return order;
}
