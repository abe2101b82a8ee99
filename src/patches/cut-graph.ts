/*
 * Which edges of a refinement are cut open, and where the chains of cut edges have corners: where cuts meet or end, where what they are
 * changes, where they turn sharply. Corners are decided once for both sides of a cut, so that the sides on either hand match edge by edge.
 */
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { atan2 } from '../base/elementary.ts';
import type { Refinement } from './refinement.ts';

/** A turn of more than this within `turnWindowMm` makes a corner, rad (30°). */
const sharpTurn = Math.PI / 6;
const turnWindowMm = 2;

export interface CutGraph {
  /** Per half-edge: 1 if its face has a label and the edge is cut open. */
  readonly isOpen: Uint8Array;
  /** Per vertex: 1 if sides end there. */
  readonly isCorner: Uint8Array;
  /** Length of each half-edge, mm. */
  readonly lengths: Float64Array;
}

/** @param places of the refinement's vertices, mm */
export function cutGraph(refinement: Refinement, places: Float64Array): CutGraph {
  const { corner, twin, cut, label } = refinement;
  const isOpen = new Uint8Array(corner.length);
  const lengths = new Float64Array(corner.length);
  for (let h = 0; h < corner.length; h++) {
    const g = twin[h];
    const own = label[Math.floor(h / 3)];
    const other = g === -1 ? -1 : label[Math.floor(g / 3)];
    if (own !== -1 && (g === -1 || own !== other || cut[h] !== 0)) isOpen[h] = 1;
    lengths[h] = apart(places, corner[h], corner[nextHalfEdge(h)]);
  }
  const isCorner = new Uint8Array(refinement.place.length);
  const edgesAt = openEdges(refinement, isOpen);
  const turns = turnsAt(refinement, places, edgesAt, isOpen);
  for (const [v, edges] of edgesAt) {
    if (edges.length !== 2 || keyOf(refinement, isOpen, edges[0]) !== keyOf(refinement, isOpen, edges[1])) isCorner[v] = 1;
    else if (Math.abs(turns.get(v) ?? 0) > sharpTurn && windowedTurn(refinement, v, edgesAt, turns, lengths) > sharpTurn) isCorner[v] = 1;
  }
  markLoopsInto(isCorner, refinement, edgesAt);
  return { isOpen, isCorner, lengths };
}

/** Open edges at each vertex of a cut: half-edges that start there, of either face; each edge once. */
function openEdges(refinement: Refinement, isOpen: Uint8Array): Map<number, number[]> {
  const { corner, twin } = refinement;
  const edgesAt = new Map<number, number[]>();
  const put = (v: number, h: number): void => {
    const known = edgesAt.get(v);
    if (known) known.push(h);
    else edgesAt.set(v, [h]);
  };
  for (let h = 0; h < corner.length; h++) {
    if (isOpen[h] === 0 || (twin[h] !== -1 && isOpen[twin[h]] === 1 && twin[h] < h)) continue;
    put(corner[h], h);
    put(corner[nextHalfEdge(h)], h);
  }
  return edgesAt;
}

/** What a cut edge is: its lines and the areas on its two sides. */
function keyOf(refinement: Refinement, isOpen: Uint8Array, h: number): string {
  const { twin, cut, cutSets, label } = refinement;
  const g = twin[h];
  const labels = [label[Math.floor(h / 3)], g === -1 ? -2 : label[Math.floor(g / 3)]].sort((a, b) => a - b);
  return `${cutSets[cut[h]].join(' ')}|${labels.join(' ')}|${g === -1 ? 0 : isOpen[g]}`;
}

/** Signed turn of the cut at each vertex with two open edges, rad: π·(right − left)/(right + left) of the angles on the two sides. */
function turnsAt(
  refinement: Refinement,
  places: Float64Array,
  edgesAt: ReadonlyMap<number, readonly number[]>,
  isOpen: Uint8Array,
): Map<number, number> {
  const { corner, twin } = refinement;
  const turns = new Map<number, number>();
  for (const [v, edges] of edgesAt) {
    if (edges.length !== 2) continue;
    const sums = [0, 0];
    let side = 0;
    for (const h of refinement.around(v)) {
      // The edge of h itself is passed before its corner.
      if (isOpen[h] === 1 || (twin[h] !== -1 && isOpen[twin[h]] === 1)) side = 1 - side;
      sums[side] += angleAt(places, v, corner[nextHalfEdge(h)], corner[previousHalfEdge(h)]);
    }
    const onBorder = refinement.around(v).some((h) => twin[h] === -1);
    turns.set(v, onBorder ? Math.PI - sums[0] - sums[1] : (Math.PI * (sums[0] - sums[1])) / (sums[0] + sums[1]));
  }
  return turns;
}

/** Size of the turn summed over the cut within half a window on either side of a vertex; a wiggle cancels. */
function windowedTurn(
  refinement: Refinement,
  v: number,
  edgesAt: ReadonlyMap<number, readonly number[]>,
  turns: ReadonlyMap<number, number>,
  lengths: Float64Array,
): number {
  const { corner } = refinement;
  // The sign at a vertex depends on which way around its first edge lies, so chords carry the sign: only sizes with direction by order count.
  let sum = Math.abs(turns.get(v) ?? 0);
  for (const start of edgesAt.get(v) ?? []) {
    let [at, h, walked] = [v, start, 0];
    for (;;) {
      walked += lengths[h];
      at = corner[h] === at ? corner[nextHalfEdge(h)] : corner[h];
      const edges = edgesAt.get(at) ?? [];
      if (walked > turnWindowMm / 2 || edges.length !== 2 || at === v) break;
      sum -= Math.abs(turns.get(at) ?? 0);
      h = edges[0] === h ? edges[1] : edges[0];
    }
  }
  return sum;
}

/** Gives every closed chain without a corner one: its lowest vertex. */
function markLoopsInto(isCorner: Uint8Array, refinement: Refinement, edgesAt: ReadonlyMap<number, readonly number[]>): void {
  const { corner } = refinement;
  const seen = new Set<number>();
  for (const start of [...edgesAt.keys()].sort((a, b) => a - b)) {
    if (seen.has(start)) continue;
    let hasCorner = false;
    const stack = [start];
    seen.add(start);
    for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
      if (isCorner[v] === 1) {
        hasCorner = true;
        continue;
      }
      for (const h of edgesAt.get(v) ?? []) {
        const other = corner[h] === v ? corner[nextHalfEdge(h)] : corner[h];
        if (isCorner[other] === 1) hasCorner = true;
        else if (!seen.has(other)) {
          seen.add(other);
          stack.push(other);
        }
      }
    }
    if (!hasCorner && isCorner[start] === 0) isCorner[start] = 1;
  }
}

function angleAt(places: Float64Array, v: number, a: number, b: number): number {
  const [x, y, z] = [0, 1, 2].map((k) => places[3 * a + k] - places[3 * v + k]);
  const [s, t, u] = [0, 1, 2].map((k) => places[3 * b + k] - places[3 * v + k]);
  return atan2(Math.hypot(y * u - z * t, z * s - x * u, x * t - y * s), x * s + y * t + z * u);
}

function apart(places: Float64Array, a: number, b: number): number {
  return Math.hypot(places[3 * a] - places[3 * b], places[3 * a + 1] - places[3 * b + 1], places[3 * a + 2] - places[3 * b + 2]);
}
