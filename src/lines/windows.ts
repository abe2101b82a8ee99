/*
 * Windows: intervals of edges that a source sees directly, either a point source unfolded into the plane of the edge (distance σ + |x − s|) or a
 * straight front that left a segment at right angles (σ + d·x).
 * Frame of a window on half-edge g (of the face that it comes from): origin at the end of g, x towards the start of g, y away from that face.
 * @source [mitchell1987] windows and their trimming
 */
import type { F64 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';

/** Columns, one entry a window. */
export interface Windows {
  readonly half: number[];
  readonly from: number[];
  readonly to: number[];
  /** Source, or direction of a front. */
  readonly sx: number[];
  readonly sy: number[];
  readonly sigma: number[];
  readonly isFront: boolean[];
  /** The window that this one came through; −1 straight from a source, −2 − v from vertex v. */
  readonly parent: number[];
}

export const createWindows = (): Windows => ({ half: [], from: [], to: [], sx: [], sy: [], sigma: [], isFront: [], parent: [] });

/** Distance that a window gives at x on its edge. */
export function valueAt(w: Windows, id: number, x: number): number {
  if (w.isFront[id]) return w.sigma[id] + w.sx[id] * x;
  const dx = x - w.sx[id];
  return w.sigma[id] + Math.sqrt(dx * dx + w.sy[id] * w.sy[id]);
}

export function leastOf(w: Windows, id: number): number {
  const [from, to] = [w.from[id], w.to[id]];
  if (!w.isFront[id] && w.sx[id] > from && w.sx[id] < to) return w.sigma[id] - w.sy[id];
  return Math.min(valueAt(w, id, from), valueAt(w, id, to));
}

/**
 * Puts window `id` among those on its edge so that each place belongs to the one that is nearest there.
 * @returns the windows that stand for it (its pieces); empty if it is nowhere nearest
 */
export function settle(w: Windows, lists: Map<number, number[]>, id: number, slack: number): number[] {
  const half = w.half[id];
  const old = lists.get(half);
  if (!old) {
    lists.set(half, [id]);
    return [id];
  }
  const [low, high] = [w.from[id], w.to[id]];
  const won: [number, number][] = [];
  const win = (from: number, to: number): void => {
    const last = won.at(-1);
    if (last && from - last[1] <= slack) last[1] = Math.max(last[1], to);
    else if (to - from > slack) won.push([from, to]);
  };
  const kept: number[] = [];
  let x = low;
  for (const e of old) {
    const [from, to] = [w.from[e], w.to[e]];
    const [l, r] = [Math.max(low, from), Math.min(high, to)];
    if (r - l <= slack) {
      kept.push(e);
      continue;
    }
    if (l > x) win(x, l);
    x = Math.max(x, r);
    const [atLeft, atRight] = [valueAt(w, id, l) - valueAt(w, e, l), valueAt(w, id, r) - valueAt(w, e, r)];
    if (atLeft >= -slack * roundOff && atRight >= -slack * roundOff) {
      kept.push(e);
      continue;
    }
    const tie = atLeft < 0 && atRight < 0 ? (undefined as number | undefined) : tieOf(w, id, e, l, r, atLeft < 0);
    const [wonFrom, wonTo] = tie === undefined ? [l, r] : atLeft < 0 ? [l, tie] : [tie, r];
    win(wonFrom, wonTo);
    // What is left of e: before and after the stretch that it lost.
    const hasBefore = wonFrom - from > slack;
    const hasAfter = to - wonTo > slack;
    if (hasBefore && hasAfter) kept.push(copyOf(w, e, wonTo, to));
    if (hasBefore) w.to[e] = wonFrom;
    else if (hasAfter) w.from[e] = wonTo;
    else w.to[e] = from;
    if (hasBefore || hasAfter) kept.push(e);
  }
  if (high > x) win(x, high);
  const pieces = won.map(([from, to], i) => {
    if (i > 0) return copyOf(w, id, from, to);
    return id;
  });
  if (won.length === 0) w.to[id] = low;
  else [w.from[id], w.to[id]] = won[0];
  lists.set(
    half,
    [...kept, ...pieces].sort((a, b) => w.from[a] - w.from[b]),
  );
  return pieces;
}

function copyOf(w: Windows, id: number, from: number, to: number): number {
  w.half.push(w.half[id]);
  w.sx.push(w.sx[id]);
  w.sy.push(w.sy[id]);
  w.sigma.push(w.sigma[id]);
  w.isFront.push(w.isFront[id]);
  w.parent.push(w.parent[id]);
  w.from.push(from);
  return w.to.push(to) - 1;
}

/** Where two windows give the same distance between l and r, by halving (at most one place there, [mitchell1987] lemma 3.5). */
function tieOf(w: Windows, id: number, e: number, l: number, r: number, winsLeft: boolean): number {
  let [low, high] = [l, r];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (valueAt(w, id, middle) < valueAt(w, e, middle) === winsLeft) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Distance of (x, y), y ≥ 0, in a window's frame, through the window; around its nearer end where the straight way misses it. */
export function throughWindow(w: Windows, id: number, x: number, y: number): number {
  const [from, to, sx, sy] = [w.from[id], w.to[id], w.sx[id], w.sy[id]];
  if (!(to > from)) return Infinity;
  const foot = w.isFront[id] ? x - (y * sx) / sy : sx + ((x - sx) * -sy) / (y - sy);
  const through = Math.max(from, Math.min(to, foot));
  if (through !== foot) return valueAt(w, id, through) + Math.hypot(x - through, y);
  return w.isFront[id] ? w.sigma[id] + sx * x + sy * y : w.sigma[id] + Math.hypot(x - sx, y - sy);
}

/** What `sendAcross` tells of each window that it makes. */
export type Send = (half: number, from: number, to: number, sx: number, sy: number, sigma: number, isFront: boolean) => void;

/**
 * Sends a window across the face of half-edge h: up to two windows, on the face's other edges. In the window's frame the face has corners
 * A = (0,0) at the start of h, B = (|AB|,0) and C above.
 */
export function sendAcross(mesh: HalfEdgeMesh, w: Windows, id: number, h: number, send: Send): void {
  const p = mesh.positions;
  const [hb, hc] = [nextHalfEdge(h), previousHalfEdge(h)];
  const [a, b, c] = [3 * mesh.faces[h], 3 * mesh.faces[hb], 3 * mesh.faces[hc]];
  const length = spaceBetween(p, a, b);
  const ux = (p[b] - p[a]) / length;
  const uy = (p[b + 1] - p[a + 1]) / length;
  const uz = (p[b + 2] - p[a + 2]) / length;
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const cx = ux * vx + uy * vy + uz * vz;
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const cy = Math.sqrt(nx * nx + ny * ny + nz * nz);
  // Left edge from C to A: its frame has origin at A, x towards C. Right edge from B to C: origin at C, x towards B.
  sendSide(w, id, hc, 0, 0, cx, cy, -Infinity, send);
  sendSide(w, id, hb, cx, cy, length - cx, -cy, Infinity, send);
}

/** `miss`: where a ray that never meets the edge's line counts as meeting it: past C, which is the far end of the left edge and the near one of the right. */
function sendSide(w: Windows, id: number, half: number, ox: number, oy: number, fx: number, fy: number, miss: number, send: Send): void {
  const size = Math.sqrt(fx * fx + fy * fy);
  const ax = fx / size;
  const ay = fy / size;
  const isFront = w.isFront[id];
  const sx = w.sx[id];
  const sy = w.sy[id];
  const meet = (x: number): number => {
    const rx = isFront ? sx : x - sx;
    const ry = isFront ? sy : -sy;
    const across = rx * ay - ry * ax;
    return across >= 0 ? -miss : ((ox - x) * ry - oy * rx) / across;
  };
  const low = Math.max(0, meet(w.from[id]));
  const high = Math.min(size, meet(w.to[id]));
  if (!(high > low)) return;
  const x = isFront ? sx : sx - ox;
  const y = isFront ? sy : sy - oy;
  send(half, low, high, x * ax + y * ay, y * ax - x * ay, w.sigma[id] + (isFront ? sx * ox + sy * oy : 0), isFront);
}

function spaceBetween(p: F64, a: number, b: number): number {
  const x = p[b] - p[a];
  const y = p[b + 1] - p[a + 1];
  const z = p[b + 2] - p[a + 2];
  return Math.sqrt(x * x + y * y + z * z);
}
