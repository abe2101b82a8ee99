/*
 * Exact distance over the surface from points and straight segments, by continuous Dijkstra: the lower envelope of distances is kept as windows on edges and
 * sent across face after face, nearest first. A window is an interval of an edge that a source sees directly: either a point source
 * unfolded into the plane of the edge (distance σ + |x − s|) or a straight front that left a segment at right angles (σ + d·x).
 * Vertices where more than 2π meet, and open borders, send on what they receive.
 * Frame of a window on half-edge g (of the face that it comes from): origin at the end of g, x towards the start of g, y away from that face.
 * @source [mitchell1987] windows and their trimming; fronts of segments are ours, by the same argument
 */
import type { Vec2 } from '../base/arrays.ts';
import { roundOff, straightAngle } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { halfEdgeLength, isBoundaryVertex, outgoing } from '../mesh/navigate.ts';
import type { PathNode, SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import { distanceToSegment } from '../plane/polyline.ts';
import { layFace, mix, seenFrom } from './laid-face.ts';
import { createMinHeap } from './min-heap.ts';
import { cornerAngle } from './straighten.ts';
import { bendsAt, commonFace, facesAt, facesSharing, weightsIn } from './surface-path.ts';

/** Distances from a set of sources; Infinity beyond the bound they were spread to. */
export interface DistanceField {
  /** Distance of a surface point, mm. */
  readonly at: (point: SurfacePoint) => number;
  /** Distance of each vertex, mm; shape vertexCount. */
  readonly vertexDistance: Float64Array;
  /** True if some source lies in the face or sees one of its edges. */
  readonly reaches: (face: number) => boolean;
  /** How many windows were made: the cost. */
  readonly windowCount: number;
}

/** Window columns: half-edge, interval, source or direction, σ, whether a front. */
interface Windows {
  readonly half: number[];
  readonly from: number[];
  readonly to: number[];
  readonly sx: number[];
  readonly sy: number[];
  readonly sigma: number[];
  readonly isFront: boolean[];
}

interface Source {
  readonly a: Vec2;
  readonly b: Vec2;
}

/**
 * Spreads distance from the points and segments of paths.
 * @param sources each path counts with all its points; a path of one node is a point
 * @param bound distances above it are not followed, mm
 * Cost: windows of the faces within the bound, times their logarithm.
 */
export function spreadDistance(mesh: HalfEdgeMesh, sources: readonly SurfacePath[], bound: number): DistanceField {
  const w: Windows = { half: [], from: [], to: [], sx: [], sy: [], sigma: [], isFront: [] };
  const lists = new Map<number, number[]>();
  const inFace = new Map<number, Source[]>();
  const vertexDistance = new Float64Array(mesh.positions.length / 3).fill(Infinity);
  const heap = createMinHeap();
  const edgeLength = (h: number): number => halfEdgeLength(mesh, h);

  const reach = (v: number, distance: number, always = false): void => {
    if (distance >= vertexDistance[v]) return;
    vertexDistance[v] = distance;
    if (distance <= bound && (always || spreads(mesh, v))) heap.push(distance, -1 - v - 1);
  };
  const add = (g: number, from: number, to: number, sx: number, sy: number, sigma: number, isFront: boolean): void => {
    const length = edgeLength(g);
    const slack = straightAngle * length;
    const [low, high] = [Math.max(0, from), Math.min(length, to)];
    if (high - low < slack) return;
    const id = w.half.push(g) - 1;
    w.from.push(low);
    w.to.push(high);
    w.sx.push(sx);
    w.sy.push(sy);
    w.sigma.push(sigma);
    w.isFront.push(isFront);
    const [start, end] = [mesh.faces[nextHalfEdge(g)], mesh.faces[g]];
    if (low <= slack) reach(start, valueAt(w, id, 0));
    if (high >= length - slack) reach(end, valueAt(w, id, length));
    // A vertex beside the window that does at least as well at its far end does so everywhere in it.
    if (valueAt(w, id, high) > vertexDistance[start] + high + slack || valueAt(w, id, low) > vertexDistance[end] + (length - low) + slack) {
      w.to[id] = low;
      return;
    }
    // Pieces of older windows are sent again: what they repeat is nowhere nearer and settles to nothing.
    const before = w.half.length;
    for (const piece of settle(w, lists, id, slack)) if (piece < before) heap.push(leastOf(w, piece), piece);
    for (let piece = before; piece < w.half.length; piece++) heap.push(leastOf(w, piece), piece);
  };

  const spreadFrom = (f: number, at: Vec2, flat: Float64Array, sigma: number): void => {
    for (let i = 0; i < 3; i++) {
      const [s, distance] = seenFrom(flat, i, at);
      const length = edgeLength(3 * f + i);
      if (distance > roundOff * length) add(3 * f + i, 0, length, s, -distance, sigma, false);
    }
  };
  const startFront = (f: number, flat: Float64Array, a: Vec2, b: Vec2): void => {
    for (let i = 0; i < 3; i++)
      for (const front of frontOn(flat, i, a, b)) add(3 * f + i, front.from, front.to, front.dx, front.dy, front.sigma, true);
  };
  const note = (f: number, a: Vec2, b: Vec2): void => {
    const known = inFace.get(f);
    if (known) known.push({ a, b });
    else inFace.set(f, [{ a, b }]);
  };
  const startAt = (node: PathNode, isCorner: boolean): void => {
    if (node.on === 'vertex') return reach(node.vertex, 0, true);
    if (!isCorner) return;
    for (const f of facesAt(mesh, node)) {
      const flat = layFace(mesh, f);
      const at = mix(flat, weightsIn(mesh, node, f));
      note(f, at, at);
      for (let i = 0; i < 3; i++) reach(mesh.faces[3 * f + i], Math.hypot(flat[2 * i] - at[0], flat[2 * i + 1] - at[1]));
      spreadFrom(f, at, flat, 0);
    }
  };
  for (const path of sources) {
    const nodes = path.closed ? [...path.nodes, path.nodes[0]] : path.nodes;
    for (const [i, node] of nodes.entries()) {
      startAt(node, i === 0 || i === nodes.length - 1 || bendsAt(mesh, path, i));
      if (i === 0) continue;
      const f = commonFace(mesh, nodes[i - 1], node);
      const flat = layFace(mesh, f);
      const [a, b] = [mix(flat, weightsIn(mesh, nodes[i - 1], f)), mix(flat, weightsIn(mesh, node, f))];
      for (const face of facesSharing(mesh, nodes[i - 1], node)) {
        const own = face === f ? flat : layFace(mesh, face);
        const ends =
          face === f
            ? ([a, b] as const)
            : ([mix(own, weightsIn(mesh, nodes[i - 1], face)), mix(own, weightsIn(mesh, node, face))] as const);
        note(face, ...ends);
        startFront(face, own, ...ends);
      }
    }
  }

  for (let id = heap.pop(); heap.lastKey() <= bound && id !== -1; id = heap.pop()) {
    if (id < -1) {
      const v = -2 - id;
      if (heap.lastKey() > vertexDistance[v]) continue;
      for (const h of outgoing(mesh, v)) {
        const flat = layFace(mesh, Math.floor(h / 3));
        const i = h % 3;
        const [s, distance] = seenFrom(flat, nextHalfEdge(i), [flat[2 * i], flat[2 * i + 1]]);
        add(nextHalfEdge(h), 0, edgeLength(nextHalfEdge(h)), s, -distance, vertexDistance[v], false);
        reach(mesh.faces[nextHalfEdge(h)], vertexDistance[v] + edgeLength(h));
        reach(mesh.faces[previousHalfEdge(h)], vertexDistance[v] + edgeLength(previousHalfEdge(h)));
      }
      continue;
    }
    if (w.to[id] - w.from[id] <= 0) continue;
    const h = mesh.twin[w.half[id]];
    if (h !== -1)
      for (const child of childrenOf(mesh, w, id, h))
        add(child.half, child.from, child.to, child.sx, child.sy, w.sigma[id] + child.sigma, w.isFront[id]);
  }
  const reaches = (f: number): boolean =>
    inFace.has(f) || [3 * f, 3 * f + 1, 3 * f + 2].some((h) => lists.has(h) || (mesh.twin[h] !== -1 && lists.has(mesh.twin[h])));
  return { vertexDistance, windowCount: w.half.length, reaches, at: (point) => distanceAt(mesh, w, lists, inFace, vertexDistance, point) };
}

/** More than 2π around it, or an open border: shortest paths may bend here. */
function spreads(mesh: HalfEdgeMesh, v: number): boolean {
  if (isBoundaryVertex(mesh, v)) return true;
  let sum = 0;
  for (const h of outgoing(mesh, v)) sum += cornerAngle(mesh, h);
  return sum > 2 * Math.PI - straightAngle;
}

interface Front {
  readonly from: number;
  readonly to: number;
  readonly dx: number;
  readonly dy: number;
  readonly sigma: number;
}

/** The parts of edge i that the straight segment ab of the same face sees at right angles, on either side of it. */
function frontOn(flat: Float64Array, i: number, a: Vec2, b: Vec2): Front[] {
  const [ax, aDepth] = seenFrom(flat, i, a);
  const [bx, bDepth] = seenFrom(flat, i, b);
  const j = nextHalfEdge(i);
  const length = Math.hypot(flat[2 * i] - flat[2 * j], flat[2 * i + 1] - flat[2 * j + 1]);
  const [ux, uy] = [bx - ax, aDepth - bDepth];
  const size = Math.hypot(ux, uy);
  if (!(size > roundOff * length)) return [];
  const fronts: Front[] = [];
  for (const turn of [1, -1]) {
    // Direction of travel: a right angle to the segment, upward out of the face.
    const [dx, dy] = [(-turn * uy) / size, (turn * ux) / size];
    if (dy <= straightAngle) continue;
    // Foot of the front on the edge from either end of the segment: the front through (x, −depth) meets y = 0 at x + depth·dx/dy.
    const ends = [ax + (aDepth * dx) / dy, bx + (bDepth * dx) / dy];
    fronts.push({ from: Math.min(...ends), to: Math.max(...ends), dx, dy, sigma: -(ax * dx - aDepth * dy) });
  }
  return fronts;
}

/** Distance that a window gives at x on its edge. */
function valueAt(w: Windows, id: number, x: number): number {
  if (w.isFront[id]) return w.sigma[id] + w.sx[id] * x;
  const dx = x - w.sx[id];
  return w.sigma[id] + Math.sqrt(dx * dx + w.sy[id] * w.sy[id]);
}

function leastOf(w: Windows, id: number): number {
  const [from, to] = [w.from[id], w.to[id]];
  if (!w.isFront[id] && w.sx[id] > from && w.sx[id] < to) return w.sigma[id] - w.sy[id];
  return Math.min(valueAt(w, id, from), valueAt(w, id, to));
}

/**
 * Puts window `id` among those on its edge so that each place belongs to the one that is nearest there.
 * @returns the windows that stand for it (its pieces); empty if it is nowhere nearest
 */
function settle(w: Windows, lists: Map<number, number[]>, id: number, slack: number): number[] {
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

/** A window after crossing the face of half-edge h: up to two, on the face's other edges. */
function childrenOf(
  mesh: HalfEdgeMesh,
  w: Windows,
  id: number,
  h: number,
): { half: number; from: number; to: number; sx: number; sy: number; sigma: number }[] {
  // In the window's frame the face has corners A = (0,0) at the start of h, B = (length,0), C above.
  const flat = layFace(mesh, Math.floor(h / 3));
  const [i, j, k] = [2 * (h % 3), 2 * (nextHalfEdge(h) % 3), 2 * (previousHalfEdge(h) % 3)];
  const length = Math.hypot(flat[j] - flat[i], flat[j + 1] - flat[i + 1]);
  const [ex, ey] = [(flat[j] - flat[i]) / length, (flat[j + 1] - flat[i + 1]) / length];
  const [px, py] = [flat[k] - flat[i], flat[k + 1] - flat[i + 1]];
  const [cx, cy] = [px * ex + py * ey, py * ex - px * ey];
  const ray = (x: number): Vec2 => (w.isFront[id] ? [w.sx[id], w.sy[id]] : [x - w.sx[id], -w.sy[id]]);
  const children = [];
  // Left edge from C to A: half-edge before h; its frame has origin at A, x towards C.
  // Right edge from B to C: half-edge after h; its frame has origin at C, x towards B.
  for (const side of ['left', 'right'] as const) {
    const [ox, oy] = side === 'left' ? [0, 0] : [cx, cy];
    const [fx, fy] = side === 'left' ? [cx, cy] : [length - cx, -cy];
    const size = Math.hypot(fx, fy);
    const [ax, ay] = [fx / size, fy / size];
    // Where the ray through (x, 0) meets the edge, along it; beyond its ends when it misses.
    const meet = (x: number): number => {
      const [rx, ry] = ray(x);
      const across = rx * ay - ry * ax;
      const along = ((ox - x) * ry - oy * rx) / across;
      if (side === 'left') return across >= 0 ? Infinity : along;
      return across >= 0 ? -Infinity : along;
    };
    const [from, to] = [meet(w.from[id]), meet(w.to[id])];
    const low = Math.max(0, from);
    const high = Math.min(size, to);
    if (!(high > low)) continue;
    const half = side === 'left' ? previousHalfEdge(h) : nextHalfEdge(h);
    const turnedX = (x: number, y: number): number => x * ax + y * ay;
    const turnedY = (x: number, y: number): number => y * ax - x * ay;
    const [sx, sy] = [w.sx[id], w.sy[id]];
    if (w.isFront[id]) children.push({ half, from: low, to: high, sx: turnedX(sx, sy), sy: turnedY(sx, sy), sigma: sx * ox + sy * oy });
    else children.push({ half, from: low, to: high, sx: turnedX(sx - ox, sy - oy), sy: turnedY(sx - ox, sy - oy), sigma: 0 });
  }
  return children;
}

/** Least distance at a point of a face: through windows into the face, from its corners, from sources inside it. */
function distanceAt(
  mesh: HalfEdgeMesh,
  w: Windows,
  lists: ReadonlyMap<number, readonly number[]>,
  inFace: ReadonlyMap<number, readonly Source[]>,
  vertexDistance: Float64Array,
  point: SurfacePoint,
): number {
  const flat = layFace(mesh, point.face);
  const [x, y] = mix(flat, point.weights);
  let least = Infinity;
  for (const { a, b } of inFace.get(point.face) ?? []) least = Math.min(least, distanceToSegment(x, y, a[0], a[1], b[0], b[1]));
  for (let i = 0; i < 3; i++) {
    const h = 3 * point.face + i;
    least = Math.min(least, vertexDistance[mesh.faces[h]] + Math.hypot(x - flat[2 * i], y - flat[2 * i + 1]));
    // Windows stored on the twin come into this face: their frame has its origin at the start of h.
    const [back, depth] = seenFrom(flat, i, [x, y]);
    const length = halfEdgeLength(mesh, h);
    if (mesh.twin[h] !== -1)
      for (const id of lists.get(mesh.twin[h]) ?? []) least = Math.min(least, throughWindow(w, id, length - back, depth));
    // On the edge itself windows that leave through it count too.
    if (point.weights[previousHalfEdge(i)] <= roundOff)
      for (const id of lists.get(h) ?? []) least = Math.min(least, throughWindow(w, id, back, 0));
  }
  return least;
}

/** Distance of (x, y), y ≥ 0, in a window's frame, through the window; around its nearer end where the straight way misses it. */
function throughWindow(w: Windows, id: number, x: number, y: number): number {
  const [from, to, sx, sy] = [w.from[id], w.to[id], w.sx[id], w.sy[id]];
  if (!(to > from)) return Infinity;
  const foot = w.isFront[id] ? x - (y * sx) / sy : sx + ((x - sx) * -sy) / (y - sy);
  const through = Math.max(from, Math.min(to, foot));
  if (through !== foot) return valueAt(w, id, through) + Math.hypot(x - through, y);
  return w.isFront[id] ? w.sigma[id] + sx * x + sy * y : w.sigma[id] + Math.hypot(x - sx, y - sy);
}
