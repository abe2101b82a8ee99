/*
 * Collapses short edges one after the other on a half-edge mesh that changes as it goes. An edge goes if the surface stays a manifold
 * (its ends have exactly two common neighbours, one at a border [dey1999]), no face turns by more than 60° and no edge grows too long.
 */
import type { F64, U32 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from './half-edge-mesh.ts';
import { dropUnused } from './edit-topology.ts';
import type { Triangles } from './edit-topology.ts';

/** The mesh while it changes. Dead faces keep their corners and have `dead` set. */
interface Working {
  readonly positions: Float64Array;
  readonly faces: Uint32Array;
  readonly twin: Int32Array;
  /** Any live half-edge that starts at the vertex. */
  readonly start: Int32Array;
  readonly dead: Uint8Array;
  readonly isBorder: Uint8Array;
}

/**
 * Collapses edges shorter than `shortest` to their middles, the shortest first, repeatedly until none can go. Border vertices stay on the
 * border; a border vertex keeps its place against an inner one.
 * @param longest no edge may become longer, mm
 */
export function collapseShortEdges(mesh: HalfEdgeMesh, shortest: number, longest: number): Triangles {
  const work: Working = {
    positions: Float64Array.from(mesh.positions),
    faces: Uint32Array.from(mesh.faces),
    twin: Int32Array.from(mesh.twin),
    start: Int32Array.from(mesh.vertexHalfEdge),
    dead: new Uint8Array(mesh.faces.length / 3),
    isBorder: new Uint8Array(mesh.positions.length / 3),
  };
  for (let h = 0; h < mesh.faces.length; h++)
    if (mesh.twin[h] === -1) work.isBorder[mesh.faces[h]] = work.isBorder[mesh.faces[nextHalfEdge(h)]] = 1;
  for (let collapsed = 1; collapsed > 0;) {
    collapsed = 0;
    for (const h of shortEdges(work, shortest)) {
      if (work.dead[Math.floor(h / 3)] === 1 || lengthOf(work, h) >= shortest) continue;
      if (collapse(work, h, longest)) collapsed++;
    }
  }
  const alive = work.faces.filter((_, h) => work.dead[Math.floor(h / 3)] === 0);
  return dropUnused(work.positions, alive);
}

/** One half-edge of each live edge shorter than `shortest`, shortest first. */
function shortEdges(work: Working, shortest: number): U32 {
  const found: number[] = [];
  const length = new Float64Array(work.faces.length);
  for (let h = 0; h < work.faces.length; h++) {
    if (work.dead[Math.floor(h / 3)] === 1 || work.twin[h] > h) continue;
    length[h] = lengthOf(work, h);
    if (length[h] < shortest) found.push(h);
  }
  return Uint32Array.from(found).sort((a, b) => length[a] - length[b] || a - b);
}

function lengthOf(work: Working, h: number): number {
  const a = 3 * work.faces[h];
  const b = 3 * work.faces[nextHalfEdge(h)];
  const p = work.positions;
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
}

/** Live half-edges that start at a vertex: around one way to the border or full circle, then the other way. */
function around(work: Working, v: number): number[] {
  const first = work.start[v];
  const found: number[] = [];
  let h = first;
  do {
    found.push(h);
    h = work.twin[previousHalfEdge(h)];
  } while (h !== -1 && h !== first);
  if (h === first) return found;
  for (h = work.twin[first]; h !== -1; h = work.twin[h]) {
    h = nextHalfEdge(h);
    found.push(h);
  }
  return found;
}

/** Neighbours of a vertex from its outgoing half-edges, border ends included. */
function neighbours(work: Working, outgoing: readonly number[]): number[] {
  const found: number[] = [];
  for (const h of outgoing) {
    found.push(work.faces[nextHalfEdge(h)]);
    const last = previousHalfEdge(h);
    if (work.twin[last] === -1) found.push(work.faces[last]);
  }
  return found;
}

/** Moves b onto a along half-edge a → b; true if done. */
function collapse(work: Working, h: number, longest: number): boolean {
  const g = work.twin[h];
  const a = work.faces[h];
  const b = work.faces[nextHalfEdge(h)];
  if (work.isBorder[a] === 1 && work.isBorder[b] === 1 && g !== -1) return false;
  const [fromA, fromB] = [around(work, a), around(work, b)];
  const [ringA, ringB] = [neighbours(work, fromA), neighbours(work, fromB)];
  let common = 0;
  for (const v of ringA) if (ringB.includes(v)) common++;
  if (common !== (g === -1 ? 1 : 2) || ringA.length + ringB.length < 8) return false;
  const p = work.positions;
  const shareOfB = work.isBorder[a] === work.isBorder[b] ? 0.5 : work.isBorder[b];
  const place = [0, 1, 2].map((k) => p[3 * a + k] + shareOfB * (p[3 * b + k] - p[3 * a + k]));
  for (const v of ringA) if (v !== b && isFarther(p, v, place, longest)) return false;
  for (const v of ringB) if (v !== a && isFarther(p, v, place, longest)) return false;
  if (turnsFace(work, fromA, b, place) || turnsFace(work, fromB, a, place)) return false;
  for (const e of fromB) work.faces[e] = a;
  p.set(place, 3 * a);
  if (work.isBorder[b] === 1) work.isBorder[a] = 1;
  removeFaceInto(work, h);
  if (g !== -1) removeFaceInto(work, g);
  work.start[b] = -1;
  for (const e of [...fromA, ...fromB]) if (work.dead[Math.floor(e / 3)] === 0) work.start[a] = e;
  return true;
}

function isFarther(p: F64, v: number, place: readonly number[], longest: number): boolean {
  const [x, y, z] = [p[3 * v] - place[0], p[3 * v + 1] - place[1], p[3 * v + 2] - place[2]];
  return x * x + y * y + z * z > longest * longest;
}

/** True if a face of the given corners, but for those at `other`, turns by more than 60° when the corner moves to `place`. */
function turnsFace(work: Working, outgoing: readonly number[], other: number, place: readonly number[]): boolean {
  const p = work.positions;
  for (const h of outgoing) {
    const [v, b, c] = [3 * work.faces[h], 3 * work.faces[nextHalfEdge(h)], 3 * work.faces[previousHalfEdge(h)]];
    if (b === 3 * other || c === 3 * other) continue;
    const [ex, ey, ez] = [p[c] - p[b], p[c + 1] - p[b + 1], p[c + 2] - p[b + 2]];
    const [ox, oy, oz] = [p[v] - p[b], p[v + 1] - p[b + 1], p[v + 2] - p[b + 2]];
    const [nx, ny, nz] = [place[0] - p[b], place[1] - p[b + 1], place[2] - p[b + 2]];
    const before = [ey * oz - ez * oy, ez * ox - ex * oz, ex * oy - ey * ox];
    const after = [ey * nz - ez * ny, ez * nx - ex * nz, ex * ny - ey * nx];
    const along = before[0] * after[0] + before[1] * after[1] + before[2] * after[2];
    if (along < 0.5 * Math.hypot(before[0], before[1], before[2]) * Math.hypot(after[0], after[1], after[2])) return true;
  }
  return false;
}

/** Takes the face of half-edge h out and joins its two other neighbours; the third corner gets a live start. */
function removeFaceInto(work: Working, h: number): void {
  const [second, third] = [nextHalfEdge(h), previousHalfEdge(h)];
  work.dead[Math.floor(h / 3)] = 1;
  const [s, t] = [work.twin[second], work.twin[third]];
  if (s !== -1) work.twin[s] = t;
  if (t !== -1) work.twin[t] = s;
  // s runs from the third corner to the second, t from the first to the third.
  const c = work.faces[third];
  work.start[c] = s !== -1 ? s : nextHalfEdge(t);
}
