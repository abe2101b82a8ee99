/*
 * The smallest vertex separator near a given cut of a region. Vertices within a few steps of the cut form a band; as many vertex-disjoint
 * paths as fit are laid through it from one bank to the other; by Menger's theorem the fewest vertices that part the banks are as many as
 * the paths, one on each path: the last one that a search for a further path still enters but cannot leave.
 *
 * In a triangulated band that set is a shortest chain of vertices across the region. A chain may leave the straight line and use long
 * edges where it finds them, so it has fewer vertices than the best cover of the edges that a line cuts (a band one step deep).
 */
import type { Graph } from './graph.ts';

/** Scratch of all cuts of one graph. Every array has one place a vertex unless it says otherwise. */
export interface CutScratch {
  /** Region of each vertex, −1 in a separator. Kept by the caller. */
  readonly region: Int32Array;
  /** 1 on the far bank, 0 on the near one. Written by the caller, corrected by `cutRegion`. */
  readonly side: Uint8Array;
  /** Layer of the band: −1, −2 … on the near bank, 1, 2 … on the far one, 0 outside the band. */
  readonly layer: Int8Array;
  /** Neighbours along the path through each vertex: `free` off all paths, `end` where the path begins or ends. */
  readonly before: Int32Array;
  readonly after: Int32Array;
  /** Stamp of the last search that entered a vertex, and of the last that was free to leave it. */
  readonly entered: Int32Array;
  readonly left: Int32Array;
  /** How many of a vertex' neighbours, counted twice over, the search has tried. */
  readonly tried: Int32Array;
  /** States of the search: 2v entering v, 2v + 1 leaving it; shape 2·vertexCount. */
  readonly states: Int32Array;
  /** States that the search has seen; shape 2·vertexCount. */
  readonly seen: Int32Array;
  /** Vertices of the band; the first ones are given by the caller. */
  readonly band: Int32Array;
  /** The separator, after `cutRegion`. */
  readonly cut: Int32Array;
  /** The last stamp given out; shape 1. */
  readonly stamp: Int32Array;
}

const free = -1;
const end = -2;
/** Stamp of what no path can lead out of. */
const dead = 0x7fffffff;

export function createCutScratch(vertexCount: number): CutScratch {
  const places = (): Int32Array => new Int32Array(vertexCount);
  return {
    region: places(),
    side: new Uint8Array(vertexCount),
    layer: new Int8Array(vertexCount),
    before: places().fill(free),
    after: places().fill(free),
    entered: places(),
    left: places(),
    tried: places(),
    states: new Int32Array(2 * vertexCount),
    seen: new Int32Array(2 * vertexCount),
    band: places(),
    cut: places(),
    stamp: new Int32Array(1),
  };
}

/**
 * Finds a smallest separator in the band of `depth` layers a side and moves the band's vertices to the side of it where they lie.
 * @param bankCount how many vertices stand in `scratch.band`: those of the near bank that touch the far one.
 * @param region the region's number; vertices of other regions are not seen.
 * @param depth layers a side, 1 … 100. Depth 1 gives the smallest cover of the cut edges.
 * @returns how many vertices `scratch.cut` holds. Their `side` stays as it was.
 * @source [menger1927] Cost: about linear in the band.
 */
export function cutRegion(scratch: CutScratch, graph: Graph, bankCount: number, region: number, depth: number): number {
  const bandCount = growBandInto(scratch, graph, bankCount, region, depth);
  const { layer, side, before, after, entered, left, band, cut } = scratch;
  // Paths begin where the band does: in its outermost near layer. Two rounds of searches that do not cross lay most of them at one walk
  // over the band each; then each root that is left gets a search of its own.
  for (let round = 0; round < 3; round++) {
    scratch.stamp[0]++;
    for (let k = 0; k < bandCount; k++) {
      const v = band[k];
      if (round === 2) scratch.stamp[0]++;
      if (layer[v] !== -depth || before[v] === end || entered[v] >= scratch.stamp[0]) continue;
      layPath(scratch, graph, v, depth, round);
    }
  }
  let count = 0;
  for (let k = 0; k < bandCount; k++) {
    const v = band[k];
    if (left[v] === dead) side[v] = 0;
    else if (entered[v] === dead || layer[v] === -depth) cut[count++] = v;
    else side[v] = 1;
  }
  for (let k = 0; k < bandCount; k++) {
    const v = band[k];
    layer[v] = entered[v] = left[v] = 0;
    before[v] = after[v] = free;
  }
  return count;
}

/** Gathers the band around the bank that stands in `scratch.band`, layer by layer. @returns its vertex count. */
function growBandInto(scratch: CutScratch, graph: Graph, bankCount: number, region: number, depth: number): number {
  const { layer, band, side, region: regionOf } = scratch;
  const { start, neighbour } = graph;
  let count = bankCount;
  for (let k = 0; k < bankCount; k++) layer[band[k]] = -1;
  for (let k = 0; k < bankCount; k++) {
    const v = band[k];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = neighbour[q];
      if (layer[u] !== 0 || regionOf[u] !== region || side[u] === 0) continue;
      layer[u] = 1;
      band[count++] = u;
    }
  }
  let from = 0;
  for (let d = 1; d < depth; d++) {
    const to = count;
    for (let k = from; k < to; k++) {
      const v = band[k];
      const bank = side[v];
      const next = layer[v] + (bank === 1 ? 1 : -1);
      for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
        const u = neighbour[q];
        if (layer[u] !== 0 || regionOf[u] !== region || side[u] !== bank) continue;
        layer[u] = next;
        band[count++] = u;
      }
    }
    from = to;
  }
  return count;
}

/**
 * Searches, depth first, for a further path from `root` to the outermost far layer, and lays it. A vertex off all paths may be entered and
 * left; one on a path may be entered only to turn that path back, towards the vertex before it. What a search in vain has seen is dead:
 * no later path can lead out of it either, so no search goes there again.
 */
function layPath(scratch: CutScratch, graph: Graph, root: number, depth: number, round: number): void {
  const { layer, before, after, entered, left, tried, states, seen } = scratch;
  const { start, neighbour } = graph;
  const stamp = scratch.stamp[0];
  entered[root] = stamp;
  states[0] = seen[0] = 2 * root;
  let top = 0;
  let seenCount = 1;
  while (top >= 0) {
    const state = states[top];
    const v = state >> 1;
    if ((state & 1) === 0) {
      // Entering: free vertices are left again, others turn back to the vertex before.
      const u = before[v] === free ? v : before[v];
      if (u === end || left[u] >= stamp) {
        top--;
        continue;
      }
      left[u] = stamp;
      tried[u] = 0;
      states[++top] = seen[seenCount++] = 2 * u + 1;
      continue;
    }
    if (layer[v] === depth && after[v] !== end) {
      layStatesInto(scratch, top);
      return;
    }
    // Neighbours further on are tried first, then the others.
    const first = start[v];
    const degree = start[v + 1] - first;
    const here = layer[v];
    let next = -1;
    let k = tried[v];
    for (; k < degree && next < 0; k++) {
      const u = neighbour[first + k];
      if (layer[u] > here && layer[u] !== 0 && entered[u] < stamp && after[v] !== u && (round > 0 || before[u] === free)) next = u;
    }
    for (; k < 2 * degree && next < 0; k++) {
      const u = neighbour[first + k - degree];
      if (layer[u] !== 0 && layer[u] <= here && entered[u] < stamp && after[v] !== u && (round > 0 || before[u] === free)) next = u;
    }
    tried[v] = k;
    // A vertex on a path that was reached by turning its path back may be given up altogether.
    if (next < 0 && before[v] !== free && entered[v] < stamp) next = v;
    if (next < 0) {
      top--;
      continue;
    }
    entered[next] = stamp;
    states[++top] = seen[seenCount++] = 2 * next;
  }
  for (let k = 0; round === 2 && k < seenCount; k++) {
    if ((seen[k] & 1) === 0) entered[seen[k] >> 1] = dead;
    else left[seen[k] >> 1] = dead;
  }
}

/** Joins the states 0 … top of a search that reached the far side into the laid paths. */
function layStatesInto(scratch: CutScratch, top: number): void {
  const { before, after, states } = scratch;
  // Given up: left, then entered again.
  for (let k = 1; k <= top; k++) {
    const v = states[k] >> 1;
    if ((states[k] & 1) === 0 && states[k - 1] >> 1 === v) before[v] = after[v] = free;
  }
  before[states[0] >> 1] = end;
  for (let k = 1; k <= top; k++) {
    const v = states[k] >> 1;
    const u = states[k - 1] >> 1;
    if ((states[k] & 1) === 1 || u === v) continue;
    after[u] = v;
    before[v] = u;
  }
  after[states[top] >> 1] = end;
}
