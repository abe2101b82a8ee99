/*
 * Passes over a triangle mesh that change its connectivity: split long edges, flip edges to even valence or to Delaunay (collapsing short ones:
 * `collapse-edges.ts`). Each pass gives new arrays.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { delaunayFlipSum } from '../base/tolerance.ts';
import { buildMesh } from './build.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from './half-edge-mesh.ts';
import { isBoundaryVertex, outgoing } from './navigate.ts';

/** Positions and faces, as `buildMesh` wants them. */
export interface Triangles {
  readonly positions: F64;
  readonly faces: U32;
}

/** New faces of a face by which of its edges got a midpoint (bit i: edge i); corners 0 1 2, midpoints 3 4 5. */
const splitPattern: readonly (readonly number[])[] = [
  [0, 1, 2],
  [0, 3, 2, 3, 1, 2],
  [0, 1, 4, 0, 4, 2],
  [3, 1, 4, 0, 3, 4, 0, 4, 2],
  [0, 1, 5, 5, 1, 2],
  [0, 3, 5, 3, 1, 2, 3, 2, 5],
  [5, 4, 2, 0, 1, 4, 0, 4, 5],
  [0, 3, 5, 3, 1, 4, 5, 4, 2, 3, 4, 5],
];

/** Gives every edge longer than `longest` a vertex in its middle. */
export function splitLongEdges(mesh: HalfEdgeMesh, longest: number): Triangles {
  const p = mesh.positions;
  const middle = new Int32Array(mesh.faces.length).fill(-1);
  const added: number[] = [];
  for (let h = 0; h < mesh.faces.length; h++) {
    const g = mesh.twin[h];
    if (middle[h] !== -1 || lengthOf(mesh, h) <= longest) continue;
    middle[h] = (p.length + added.length) / 3;
    if (g !== -1) middle[g] = middle[h];
    const a = 3 * mesh.faces[h];
    const b = 3 * mesh.faces[nextHalfEdge(h)];
    for (let k = 0; k < 3; k++) added.push((p[a + k] + p[b + k]) / 2);
  }
  const faces: number[] = [];
  for (let h = 0; h < mesh.faces.length; h += 3) {
    const corner = [mesh.faces[h], mesh.faces[h + 1], mesh.faces[h + 2], middle[h], middle[h + 1], middle[h + 2]];
    const pattern = (middle[h] === -1 ? 0 : 1) + (middle[h + 1] === -1 ? 0 : 2) + (middle[h + 2] === -1 ? 0 : 4);
    for (const i of splitPattern[pattern]) faces.push(corner[i]);
  }
  const positions = new Float64Array(p.length + added.length);
  positions.set(Float64Array.from(p));
  positions.set(added, p.length);
  return { positions, faces: Uint32Array.from(faces) };
}

const lengthOf = (mesh: HalfEdgeMesh, h: number): number => {
  const p = mesh.positions;
  const a = 3 * mesh.faces[h];
  const b = 3 * mesh.faces[nextHalfEdge(h)];
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
};

/** Neighbours of a vertex, border ends included. */
function ring(mesh: HalfEdgeMesh, v: number): number[] {
  const around = outgoing(mesh, v);
  const neighbours = around.map((h) => mesh.faces[nextHalfEdge(h)]);
  const last = previousHalfEdge(around[around.length - 1]);
  if (mesh.twin[last] === -1) neighbours.push(mesh.faces[last]);
  return neighbours;
}

function cross(a: readonly number[], b: readonly number[], c: readonly number[]): readonly [number, number, number] {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

/** Renumbers so that only vertices with a face remain, in their order. */
export function dropUnused(positions: F64, faces: U32): Triangles {
  const number = new Int32Array(positions.length / 3).fill(-1);
  for (let h = 0; h < faces.length; h++) number[faces[h]] = 0;
  const kept: number[] = [];
  let count = 0;
  for (let v = 0; v < number.length; v++) {
    if (number[v] === -1) continue;
    number[v] = count++;
    kept.push(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
  }
  return { positions: Float64Array.from(kept), faces: Uint32Array.from(faces, (v) => number[v]) };
}

/**
 * Flips edges: 'valence' where that brings the four vertices nearer to six neighbours (four at a border), 'delaunay' where the two opposite
 * angles sum to more than π. A flip is left out where a new face would
 * lean more than 37° from the area vector of the two faces together, or where it would double an edge.
 */
export function flipEdges(mesh: HalfEdgeMesh, rule: 'valence' | 'delaunay', rounds: number): HalfEdgeMesh {
  const faces = Uint32Array.from(mesh.faces);
  const twin = Int32Array.from(mesh.twin);
  const p = mesh.positions;
  const valence = new Int32Array(p.length / 3);
  for (let v = 0; v < valence.length; v++) {
    if (mesh.vertexHalfEdge[v] === -1) continue;
    const isBorder = isBoundaryVertex(mesh, v);
    // Distance from the ideal: a border vertex counts as if it had two more neighbours.
    valence[v] = ring(mesh, v).length - (isBorder ? 4 : 6);
  }
  for (let round = 0; round < rounds; round++) {
    let flips = 0;
    for (let h = 0; h < faces.length; h++) {
      if (twin[h] < h) continue;
      const wins = rule === 'valence' ? improvesValence(faces, twin, valence, h) : isNotDelaunay(faces, twin, p, h);
      if (!wins || !isFlippable(faces, twin, p, h)) continue;
      flipInto(faces, twin, valence, h);
      flips++;
    }
    if (flips === 0) break;
  }
  return buildMesh(p, faces);
}

function improvesValence(faces: U32, twin: Int32Array, valence: Int32Array, h: number): boolean {
  const [a, b, c, d] = diamond(faces, twin, h);
  // Σ of squares after less before: (a−1)² + (b−1)² + (c+1)² + (d+1)² − a² − b² − c² − d² = 2(c + d − a − b) + 4.
  return valence[c] + valence[d] - valence[a] - valence[b] < -2;
}

/** Ends a b of half-edge h, opposite corner c in its face and d in its twin's. */
const diamond = (faces: U32, twin: Int32Array, h: number): readonly [number, number, number, number] => [
  faces[h],
  faces[nextHalfEdge(h)],
  faces[previousHalfEdge(h)],
  faces[previousHalfEdge(twin[h])],
];

/** Opposite angles γ, δ sum to more than π where cot γ + cot δ < 0. */
function isNotDelaunay(faces: U32, twin: Int32Array, p: F64, h: number): boolean {
  const [a, b, c, d] = diamond(faces, twin, h);
  return cotangent(p, c, a, b) + cotangent(p, d, a, b) < -delaunayFlipSum;
}

function cotangent(p: F64, at: number, a: number, b: number): number {
  const corner = (v: number): readonly number[] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  const [o, u, v] = [corner(at), corner(a), corner(b)];
  const dot = (u[0] - o[0]) * (v[0] - o[0]) + (u[1] - o[1]) * (v[1] - o[1]) + (u[2] - o[2]) * (v[2] - o[2]);
  return dot / Math.hypot(...cross(o, u, v));
}

function isFlippable(faces: U32, twin: Int32Array, p: F64, h: number): boolean {
  const [a, b, c, d] = diamond(faces, twin, h);
  const at = (v: number): readonly number[] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  const [first, second] = [cross(at(a), at(b), at(c)), cross(at(b), at(a), at(d))];
  const whole = [first[0] + second[0], first[1] + second[1], first[2] + second[2]];
  for (const n of [cross(at(c), at(d), at(b)), cross(at(d), at(c), at(a))]) {
    const along = n[0] * whole[0] + n[1] * whole[1] + n[2] * whole[2];
    if (along <= 0.8 * Math.hypot(...n) * Math.hypot(...whole)) return false;
  }
  // Walk around c both ways: an edge c–d may exist already.
  const start = previousHalfEdge(h);
  let g = start;
  do {
    if (faces[nextHalfEdge(g)] === d || faces[previousHalfEdge(g)] === d) return false;
    g = twin[previousHalfEdge(g)];
  } while (g !== -1 && g !== start);
  if (g === start) return true;
  for (g = twin[start]; g !== -1; g = twin[nextHalfEdge(g)]) if (faces[previousHalfEdge(g)] === d) return false;
  return true;
}

/** Faces (a b c) and (b a d) become (c d b) and (d c a), in the slots of h and its twin. */
function flipInto(faces: Uint32Array, twin: Int32Array, valence: Int32Array, h: number): void {
  const g = twin[h];
  const [a, b, c, d] = diamond(faces, twin, h);
  const [bc, ca, ad, db] = [nextHalfEdge(h), previousHalfEdge(h), nextHalfEdge(g), previousHalfEdge(g)].map((e) => twin[e]);
  const [h1, h2, g1, g2] = [nextHalfEdge(h), previousHalfEdge(h), nextHalfEdge(g), previousHalfEdge(g)];
  faces[h] = c;
  faces[h1] = d;
  faces[h2] = b;
  faces[g] = d;
  faces[g1] = c;
  faces[g2] = a;
  const pairs: readonly (readonly [number, number])[] = [
    [h1, db],
    [h2, bc],
    [g1, ca],
    [g2, ad],
  ];
  for (const [own, other] of pairs) {
    twin[own] = other;
    if (other !== -1) twin[other] = own;
  }
  valence[a]--;
  valence[b]--;
  valence[c]++;
  valence[d]++;
}
