/*
 * Vertices at which several fans of faces meet get one copy a fan, so that a mesh is manifold at every vertex and, since faces that were
 * not joined lie in different fans, at every edge too [gueziec2001]. What still shares an edge with strangers afterwards (a slit whose ends both stay
 * closed) loses its faces; the hole is a hole like any other.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';
import { groupEdges } from './edge-groups.ts';

export interface SplitResult {
  readonly triangles: Triangles;
  /** Vertices that were given copies. */
  readonly splitVertices: number;
  /** Faces that had to go. */
  readonly droppedFaces: number;
}

/**
 * Splits vertices by fans.
 * @param partner joined half-edges as `orientFaces` gives them
 */
export function splitFans(triangles: Triangles, partner: Int32Array): SplitResult {
  const { faces, positions, splitVertices } = copyFans(triangles, partner);
  let result: Triangles = { faces, positions };
  let droppedFaces = 0;
  const bad = crowdedFaces(faces, positions, partner);
  if (bad !== undefined) {
    droppedFaces = bad.reduce((sum, flag) => sum + flag, 0);
    result = compactTriangles(result, bad);
  }
  return { triangles: result, splitVertices, droppedFaces };
}

function copyFans(triangles: Triangles, partner: Int32Array): { faces: U32; positions: F64; splitVertices: number } {
  const { positions, faces } = triangles;
  const total = faces.length;
  const vertexTotal = positions.length / 3;
  const fanSeen = new Uint8Array(vertexTotal);
  const done = new Uint8Array(total);
  const newFaces = Uint32Array.from(faces);
  const copies: number[] = [];
  const split = new Set<number>();
  for (let h = 0; h < total; h++) {
    if (done[h] === 1) continue;
    const v = faces[h];
    let name = v;
    if (fanSeen[v] === 1) {
      name = vertexTotal + copies.length;
      copies.push(v);
      split.add(v);
    }
    fanSeen[v] = 1;
    walkFanInto(newFaces, done, h, name, partner);
  }
  if (copies.length === 0) return { faces, positions, splitVertices: 0 };
  const newPositions = new Float64Array(positions.length + 3 * copies.length);
  newPositions.set(positions);
  copies.forEach((v, i) => {
    for (let k = 0; k < 3; k++) newPositions[positions.length + 3 * i + k] = positions[3 * v + k];
  });
  return { faces: newFaces, positions: newPositions, splitVertices: split.size };
}

/** Renames all corners of the fan around the corner h, walking both ways until it closes or ends. */
function walkFanInto(newFaces: Uint32Array, done: Uint8Array, first: number, name: number, partner: Int32Array): void {
  const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
  const previous = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);
  let h = first;
  do {
    done[h] = 1;
    newFaces[h] = name;
    h = partner[previous(h)];
  } while (h !== -1 && h !== first);
  if (h === first) return;
  for (let g = partner[first]; g !== -1; g = partner[h]) {
    h = next(g);
    done[h] = 1;
    newFaces[h] = name;
  }
}

/** Faces at edges that more than one joined pair shares after the split: all but those of the first pair. */
function crowdedFaces(faces: U32, positions: F64, partner: Int32Array): Uint8Array | undefined {
  const groups = groupEdges(faces, positions.length / 3);
  let bad: Uint8Array | undefined;
  for (let e = 0; e + 1 < groups.start.length; e++) {
    const members = groups.halfEdges.subarray(groups.start[e], groups.start[e + 1]);
    if (members.length === 1) continue;
    const joined = members.find((h) => partner[h] !== -1);
    const keep = joined === undefined ? [members[0]] : [joined, partner[joined]];
    // Two open half-edges that run in opposite directions may close on each other.
    if (joined === undefined && members.length === 2 && faces[members[0]] !== faces[members[1]]) continue;
    for (const h of members) {
      if (keep.includes(h)) continue;
      bad ??= new Uint8Array(faces.length / 3);
      bad[Math.floor(h / 3)] = 1;
    }
  }
  return bad;
}
