/*
 * Exact distance over the surface from points and straight segments, by continuous Dijkstra: the lower envelope of distances is kept as windows
 * on edges and sent across face after face, nearest first. Vertices where more than 2π meet, and open borders, send on what they receive.
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
import { bendsAt, commonFace, facesAt, facesSharing, nodeOf, nodePlace, weightsIn } from './surface-path.ts';
import { createWindows, leastOf, sendAcross, settle, throughWindow, valueAt } from './windows.ts';
import type { Windows } from './windows.ts';

/** A point to reach: only windows that can still be part of a shorter way to it are followed. */
export interface Goal {
  readonly point: SurfacePoint;
  /** Length of a way that is known already, mm. */
  readonly knownMm: number;
  /** No more windows than this are made. */
  readonly mostWindows: number;
}

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
  /** False if `mostWindows` ended the work. */
  readonly isComplete: boolean;
  /** The way back, for `exactPath`. */
  readonly trail: Trail;
}

/** How every window and vertex was reached. */
export interface Trail {
  readonly windows: Windows;
  /** Windows on each half-edge, by place. */
  readonly lists: ReadonlyMap<number, readonly number[]>;
  /** How each vertex got its distance: through window ≥ 0, along an edge from vertex v as −2 − v, −1 straight from a source. */
  readonly vertexVia: ReadonlyMap<number, number>;
}

interface Source {
  readonly a: Vec2;
  readonly b: Vec2;
}

/**
 * Spreads distance from the points and segments of paths.
 * @param sources each path counts with all its points; a path of one node is a point
 * @param bound distances above it are not followed, mm
 * @param goal with it the order is that of distance plus straight distance to the goal, and only the goal's distance is exact
 * Cost: windows of the faces within the bound, times their logarithm.
 */
export function spreadDistance(mesh: HalfEdgeMesh, sources: readonly SurfacePath[], bound: number, goal?: Goal): DistanceField {
  const w = createWindows();
  const vertexVia = new Map<number, number>();
  const aim = goal && aimAt(mesh, goal);
  const lists = new Map<number, number[]>();
  const inFace = new Map<number, Source[]>();
  const vertexDistance = new Float64Array(mesh.positions.length / 3).fill(Infinity);
  /** Distance that each vertex last sent on. */
  const sent = new Map<number, number>();
  const heap = createMinHeap();
  const edgeLength = (h: number): number => halfEdgeLength(mesh, h);

  const reach = (v: number, distance: number, via: number, always = false): void => {
    if (distance >= vertexDistance[v]) return;
    vertexDistance[v] = distance;
    vertexVia.set(v, via);
    const key = distance + (aim ? aim.fromVertex(v, distance) : 0);
    if (key <= bound && (always || spreads(mesh, v))) heap.push(key, -2 - v);
  };
  const queue = (id: number): void => {
    const key = leastOf(w, id) + (aim ? aim.fromWindow(w, id) : 0);
    // What cannot be part of a shorter way to the goal stays on its edge but goes no further.
    if (!aim || key < aim.bestMm()) heap.push(key, id);
  };
  const add = (g: number, from: number, to: number, sx: number, sy: number, sigma: number, isFront: boolean, parent: number): void => {
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
    w.parent.push(parent);
    const [start, end] = [mesh.faces[nextHalfEdge(g)], mesh.faces[g]];
    if (low <= slack) reach(start, valueAt(w, id, 0), id);
    if (high >= length - slack) reach(end, valueAt(w, id, length), id);
    // A vertex beside the window that does at least as well at its far end does so everywhere in it.
    if (valueAt(w, id, high) > vertexDistance[start] + high + slack || valueAt(w, id, low) > vertexDistance[end] + (length - low) + slack) {
      w.to[id] = low;
      return;
    }
    // Pieces of older windows are sent again: what they repeat is nowhere nearer and settles to nothing.
    const before = w.half.length;
    for (const piece of settle(w, lists, id, slack)) if (piece < before) queue(piece);
    for (let piece = before; piece < w.half.length; piece++) queue(piece);
  };

  const spreadFrom = (f: number, at: Vec2, flat: Float64Array): void => {
    for (let i = 0; i < 3; i++) {
      const [s, distance] = seenFrom(flat, i, at);
      const length = edgeLength(3 * f + i);
      if (distance > roundOff * length) add(3 * f + i, 0, length, s, -distance, 0, false, -1);
    }
  };
  const startFront = (f: number, flat: Float64Array, a: Vec2, b: Vec2): void => {
    for (let i = 0; i < 3; i++)
      for (const front of frontOn(flat, i, a, b)) add(3 * f + i, front.from, front.to, front.dx, front.dy, front.sigma, true, -1);
  };
  const note = (f: number, a: Vec2, b: Vec2): void => {
    const known = inFace.get(f);
    if (known) known.push({ a, b });
    else inFace.set(f, [{ a, b }]);
  };
  const startAt = (node: PathNode, isCorner: boolean): void => {
    if (node.on === 'vertex') return reach(node.vertex, 0, -1, true);
    if (!isCorner) return;
    for (const f of facesAt(mesh, node)) {
      const flat = layFace(mesh, f);
      const at = mix(flat, weightsIn(mesh, node, f));
      note(f, at, at);
      for (let i = 0; i < 3; i++) reach(mesh.faces[3 * f + i], Math.hypot(flat[2 * i] - at[0], flat[2 * i + 1] - at[1]), -1);
      spreadFrom(f, at, flat);
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

  const spreadVertex = (v: number): void => {
    const own = vertexDistance[v];
    if (sent.get(v) === own) return;
    sent.set(v, own);
    for (const h of outgoing(mesh, v)) {
      const flat = layFace(mesh, Math.floor(h / 3));
      const i = h % 3;
      const [s, distance] = seenFrom(flat, nextHalfEdge(i), [flat[2 * i], flat[2 * i + 1]]);
      add(nextHalfEdge(h), 0, edgeLength(nextHalfEdge(h)), s, -distance, own, false, -2 - v);
      reach(mesh.faces[nextHalfEdge(h)], own + edgeLength(h), -2 - v);
      reach(mesh.faces[previousHalfEdge(h)], own + edgeLength(previousHalfEdge(h)), -2 - v);
    }
  };
  let isComplete = true;
  for (let id = heap.pop(); heap.lastKey() <= bound && id !== -1; id = heap.pop()) {
    if (aim && heap.lastKey() >= aim.bestMm()) break;
    if (goal && w.half.length > goal.mostWindows) {
      isComplete = false;
      break;
    }
    if (id < -1) {
      spreadVertex(-2 - id);
      continue;
    }
    if (w.to[id] - w.from[id] <= 0) continue;
    const h = mesh.twin[w.half[id]];
    if (h !== -1) sendAcross(mesh, w, id, h, (half, from, to, sx, sy, sigma, isFront) => add(half, from, to, sx, sy, sigma, isFront, id));
  }
  const reaches = (f: number): boolean =>
    inFace.has(f) || [3 * f, 3 * f + 1, 3 * f + 2].some((h) => lists.has(h) || (mesh.twin[h] !== -1 && lists.has(mesh.twin[h])));
  return {
    vertexDistance,
    windowCount: w.half.length,
    isComplete,
    reaches,
    trail: { windows: w, lists, vertexVia },
    at: (point) => distanceAt(mesh, w, lists, inFace, vertexDistance, point),
  };
}

interface Aim {
  /** Least distance from a window in space to the goal: no way through it is shorter by more. Takes note of ways that arrive. */
  readonly fromWindow: (w: Windows, id: number) => number;
  readonly fromVertex: (v: number, distance: number) => number;
  /** The shortest way known, less a hair. */
  readonly bestMm: () => number;
}

function aimAt(mesh: HalfEdgeMesh, goal: Goal): Aim {
  const place = nodePlace(mesh, nodeOf(mesh, goal.point));
  const { face, weights } = goal.point;
  const flat = layFace(mesh, face);
  const at = mix(flat, weights);
  const seen = [0, 1, 2].map((i) => seenFrom(flat, i, at));
  let best = goal.knownMm;
  const p = mesh.positions;
  return {
    bestMm: () => best * (1 - roundOff),
    fromVertex: (v, distance) => {
      for (let i = 0; i < 3; i++)
        if (mesh.faces[3 * face + i] === v) best = Math.min(best, distance + Math.hypot(at[0] - flat[2 * i], at[1] - flat[2 * i + 1]));
      return Math.hypot(p[3 * v] - place[0], p[3 * v + 1] - place[1], p[3 * v + 2] - place[2]);
    },
    fromWindow: (w, id) => {
      const g = w.half[id];
      const h = mesh.twin[g];
      if (h !== -1 && Math.floor(h / 3) === face) {
        const [back, depth] = seen[h % 3];
        best = Math.min(best, throughWindow(w, id, halfEdgeLength(mesh, h) - back, depth));
      }
      const [o, e] = [3 * mesh.faces[nextHalfEdge(g)], 3 * mesh.faces[g]];
      const [ux, uy, uz] = [p[e] - p[o], p[e + 1] - p[o + 1], p[e + 2] - p[o + 2]];
      const [vx, vy, vz] = [place[0] - p[o], place[1] - p[o + 1], place[2] - p[o + 2]];
      const size = Math.sqrt(ux * ux + uy * uy + uz * uz);
      const along = Math.max(w.from[id], Math.min(w.to[id], (ux * vx + uy * vy + uz * vz) / size)) / size;
      const [dx, dy, dz] = [vx - along * ux, vy - along * uy, vz - along * uz];
      return Math.sqrt(dx * dx + dy * dy + dz * dz);
    },
  };
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
