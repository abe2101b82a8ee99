/*
 * Faces without area: three corners on a line, although all three are apart. Dropping one would open a slit, so the edge opposite its middle corner is
 * flipped into the neighbour; at an open border it can simply go.
 */
import { faceCross } from '../mesh/measure.ts';
import { sliverShare } from '../base/tolerance.ts';
import { buildMesh } from '../mesh/build.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { outgoing } from '../mesh/navigate.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

/** Faces whose height is below `sliverShare` of their longest side. */
export function flatFaces(triangles: Triangles): number[] {
  const flat: number[] = [];
  for (let f = 0; f < triangles.faces.length / 3; f++) {
    const longest = longestSide(triangles, f);
    const cross = faceCross(triangles, f);
    if (Math.hypot(cross[0], cross[1], cross[2]) <= sliverShare * longest * longest) flat.push(f);
  }
  return flat;
}

/** Length of the longest side of a face. */
export function longestSide(triangles: Triangles, f: number): number {
  const { positions: p, faces } = triangles;
  let longest = 0;
  for (let i = 0; i < 3; i++) {
    const [a, b] = [3 * faces[3 * f + i], 3 * faces[3 * f + ((i + 1) % 3)]];
    longest = Math.max(longest, Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]));
  }
  return longest;
}

/** Rounds of flips: a fan of flat faces on one line needs one each. */
const mostRounds = 12;

/**
 * Mends faces without area in oriented, manifold triangles.
 * @returns the number of faces that were flat, and how many are left (those whose neighbours are flat too)
 */
export function mendFlatFaces(triangles: Triangles): { readonly triangles: Triangles; readonly count: number; readonly left: number } {
  let current = triangles;
  const count = flatFaces(current).length;
  let left = count;
  for (let round = 0; round < mostRounds && left > 0; round++) {
    const next = flipOnce(current);
    if (next === undefined) break;
    current = next;
    left = flatFaces(current).length;
  }
  return { triangles: current, count, left };
}

/** One round: every flat face whose neighbourhood was not touched yet. Undefined where nothing could be done. */
function flipOnce(triangles: Triangles): Triangles | undefined {
  const mesh = buildMesh(triangles.positions, triangles.faces);
  const faces = Uint32Array.from(triangles.faces);
  const isDropped = new Uint8Array(faces.length / 3);
  const isTouched = new Uint8Array(faces.length / 3);
  let changes = 0;
  for (const f of flatFaces(triangles)) {
    const h = longestHalfEdge(triangles, f);
    const g = mesh.twin[h];
    if (isTouched[f] === 1) continue;
    if (g === -1) {
      isDropped[f] = 1;
      isTouched[f] = 1;
      changes++;
      continue;
    }
    const other = Math.floor(g / 3);
    const [middle, opposite] = [mesh.faces[previousHalfEdge(h)], mesh.faces[previousHalfEdge(g)]];
    const isJoined = outgoing(mesh, middle).some(
      (e) => mesh.faces[nextHalfEdge(e)] === opposite || mesh.faces[previousHalfEdge(e)] === opposite,
    );
    if (isTouched[other] === 1 || isJoined) continue;
    const [start, end] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
    faces.set([start, opposite, middle], 3 * f);
    faces.set([opposite, end, middle], 3 * other);
    isTouched[f] = 1;
    isTouched[other] = 1;
    changes++;
  }
  return changes === 0 ? undefined : compactTriangles({ positions: triangles.positions, faces }, isDropped);
}

function longestHalfEdge(triangles: Triangles, f: number): number {
  const { positions: p, faces } = triangles;
  let [best, longest] = [3 * f, -1];
  for (let i = 0; i < 3; i++) {
    const [a, b] = [3 * faces[3 * f + i], 3 * faces[3 * f + ((i + 1) % 3)]];
    const length = Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
    if (length > longest) [best, longest] = [3 * f + i, length];
  }
  return best;
}
