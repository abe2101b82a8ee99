/*
 * From any strip of faces to a locally shortest path: pull the string tight inside the strip; where it bends around a vertex whose other
 * side measures less than π, let the strip pass the vertex on that other side; repeat. Each step shortens the path, so it ends.
 * A path is locally shortest exactly when both sides of every vertex that it passes measure π or more.
 * @source [xin2007] §4, vertex by vertex; [mitchell1987] for the condition
 */
import { atan2 } from '../base/elementary.ts';
import { roundOff, straightAngle } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { isBoundaryVertex } from '../mesh/navigate.ts';
import type { PathNode, SurfacePath } from '../mesh/surface-point.ts';
import type { FlatStrip, Strip, StripCorner } from './strip.ts';
import { layStrip, pullString, trimStrip } from './strip.ts';
import { nodeOf, pathOf } from './surface-path.ts';

export interface StraightPath extends SurfacePath {
  /** Rounds of pulling and passing vertices. */
  readonly iterations: number;
  /** False if the round limit ended it: the path is sound but not yet locally shortest. */
  readonly converged: boolean;
  /** The strip that the path runs in: a start for the next query while dragging. */
  readonly strip: Strip;
}

/**
 * The locally shortest path that a strip can be pulled to.
 * @param strip consecutive portals share a face; source in the first face, target in the last
 * Cost: rounds times strip length; rounds grow with the number of vertices that the first strip passes on the wrong side.
 */
export function straighten(mesh: HalfEdgeMesh, strip: Strip): StraightPath {
  let current = trimStrip(mesh, strip);
  const roundLimit = 200 + 20 * current.portals.length;
  for (let iterations = 1; ; iterations++) {
    const flat = layStrip(mesh, current);
    const corners = pullString(flat);
    const turns = iterations < roundLimit ? turnsToPass(mesh, current, flat, corners) : [];
    if (turns.length === 0)
      return {
        ...pathOf(mesh, stripNodes(mesh, current, flat, corners), false),
        iterations,
        converged: iterations < roundLimit,
        strip: current,
      };
    // One bend in three rounds' time would be safe; all at once is faster, and single steps take over if that should ever circle.
    const taken = iterations < roundLimit / 2 ? turns : turns.slice(0, 1);
    let portals = [...current.portals];
    for (const { corner, fan } of [...taken].reverse())
      portals = [...portals.slice(0, corner.first), ...fan, ...portals.slice(corner.last + 1)];
    current = trimStrip(mesh, { ...current, portals });
  }
}

interface Turn {
  readonly corner: StripCorner;
  /** Portals around the other side of the vertex. */
  readonly fan: readonly number[];
}

/** The bends that can be shortened by passing their vertex on its other side; no two share a portal. */
function turnsToPass(mesh: HalfEdgeMesh, strip: Strip, flat: FlatStrip, corners: readonly StripCorner[]): Turn[] {
  const turns: Turn[] = [];
  let free = 0;
  for (const [i, corner] of corners.entries()) {
    if (corner.first < free || isBoundaryVertex(mesh, corner.vertex)) continue;
    const other = angleAround(mesh, corner.vertex) - stripAngle(flat, corners, i);
    if (other >= Math.PI - straightAngle) continue;
    turns.push({ corner, fan: otherFan(mesh, strip, corner) });
    free = corner.last + 1;
  }
  return turns;
}

/** Sum of the corner angles at a vertex, rad. */
function angleAround(mesh: HalfEdgeMesh, v: number): number {
  let sum = 0;
  const first = mesh.vertexHalfEdge[v];
  let h = first;
  do {
    sum += cornerAngle(mesh, h);
    h = mesh.twin[previousHalfEdge(h)];
  } while (h !== -1 && h !== first);
  return sum;
}

/** Angle at the start of half-edge h, rad. */
export function cornerAngle(mesh: HalfEdgeMesh, h: number): number {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)], 3 * mesh.faces[previousHalfEdge(h)]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return atan2(Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx), ux * vx + uy * vy + uz * vz);
}

/** Angle between the incoming and the outgoing stretch of the path, measured through the strip, rad. */
function stripAngle(flat: FlatStrip, corners: readonly StripCorner[], i: number): number {
  const corner = corners[i];
  const own = corner.onLeft ? flat.left : flat.right;
  const across = corner.onLeft ? flat.right : flat.left;
  const [vx, vy] = [own[2 * corner.first], own[2 * corner.first + 1]];
  const before = i === 0 ? flat.source : cornerPlace(flat, corners[i - 1]);
  const after = i === corners.length - 1 ? flat.target : cornerPlace(flat, corners[i + 1]);
  const between = (ax: number, ay: number, bx: number, by: number): number =>
    atan2(Math.abs((ax - vx) * (by - vy) - (ay - vy) * (bx - vx)), (ax - vx) * (bx - vx) + (ay - vy) * (by - vy));
  let sum = between(before[0], before[1], across[2 * corner.first], across[2 * corner.first + 1]);
  for (let k = corner.first + 1; k <= corner.last; k++)
    sum += between(across[2 * k - 2], across[2 * k - 1], across[2 * k], across[2 * k + 1]);
  return sum + between(across[2 * corner.last], across[2 * corner.last + 1], after[0], after[1]);
}

function cornerPlace(flat: FlatStrip, corner: StripCorner): readonly [number, number] {
  const own = corner.onLeft ? flat.left : flat.right;
  return [own[2 * corner.first], own[2 * corner.first + 1]];
}

/** Portals from the face before the bend to the face after it, around the other side of its vertex. */
function otherFan(mesh: HalfEdgeMesh, strip: Strip, corner: StripCorner): number[] {
  const fan: number[] = [];
  const lastFace = Math.floor(mesh.twin[strip.portals[corner.last]] / 3);
  // A portal with the vertex on its left ends there; the other edge of the face at the vertex is the next half-edge, and so on around.
  let h = strip.portals[corner.first];
  for (;;) {
    h = corner.onLeft ? nextHalfEdge(h) : previousHalfEdge(h);
    fan.push(h);
    h = mesh.twin[h];
    if (Math.floor(h / 3) === lastFace) return fan;
  }
}

/** Nodes of the path: the source, a crossing of each portal or the vertex that it bends at, the target. */
function stripNodes(mesh: HalfEdgeMesh, strip: Strip, flat: FlatStrip, corners: readonly StripCorner[]): PathNode[] {
  const nodes: PathNode[] = [nodeOf(mesh, strip.source)];
  let [ax, ay] = flat.source;
  let k = 0;
  const crossUpTo = (end: number, bx: number, by: number): void => {
    for (; k < end; k++) nodes.push(crossing(mesh, strip.portals[k], flat, k, [ax, ay, bx, by]));
  };
  for (const corner of corners) {
    const [bx, by] = cornerPlace(flat, corner);
    crossUpTo(corner.first, bx, by);
    nodes.push({ on: 'vertex', vertex: corner.vertex });
    [ax, ay] = [bx, by];
    k = Math.max(k, corner.last + 1);
  }
  crossUpTo(strip.portals.length, flat.target[0], flat.target[1]);
  nodes.push(nodeOf(mesh, strip.target));
  return nodes;
}

function crossing(
  mesh: HalfEdgeMesh,
  h: number,
  flat: FlatStrip,
  k: number,
  [ax, ay, bx, by]: readonly [number, number, number, number],
): PathNode {
  const side = (x: number, y: number): number => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  const right = side(flat.right[2 * k], flat.right[2 * k + 1]);
  const left = side(flat.left[2 * k], flat.left[2 * k + 1]);
  const t = Math.max(0, Math.min(1, right === left ? 0.5 : right / (right - left)));
  if (t <= roundOff) return { on: 'vertex', vertex: mesh.faces[h] };
  if (t >= 1 - roundOff) return { on: 'vertex', vertex: mesh.faces[nextHalfEdge(h)] };
  return { on: 'edge', halfEdge: h, t };
}
