/*
 * Intrinsic Delaunay triangulation of a surface: edges are flipped inside the surface (the new edge is the straight line across the two faces
 * laid flat) until the angles opposite every inner edge sum to at most π. Vertices, borders and the surface itself stay; only which
 * geodesic edges join the vertices changes. Then every edge weight ½ (cot α + cot β) is not negative [bobenko-springborn2007] [fisher2006].
 * Faces may become irregular: two edges between the same vertices, an edge from a vertex to itself. Lengths say what positions cannot.
 */
import type { F64, I32, U32 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

/** A triangulation by edge lengths. */
export interface IntrinsicMesh {
  readonly faces: U32;
  readonly twin: I32;
  /** Length of each half-edge, shape of `faces`. */
  readonly length: F64;
  readonly flips: number;
}

/**
 * Flips to intrinsic Delaunay.
 * @param mesh no face without area
 * Cost: near linear in practice; the number of flips is finite.
 */
export function intrinsicDelaunay(mesh: HalfEdgeMesh): IntrinsicMesh {
  const faces = Uint32Array.from(mesh.faces);
  const twin = Int32Array.from(mesh.twin);
  const length = edgeLengths(mesh);
  const waiting: number[] = [];
  const isWaiting = new Uint8Array(faces.length);
  for (let h = 0; h < faces.length; h++) {
    if (twin[h] <= h) continue;
    waiting.push(h);
    isWaiting[h] = 1;
  }
  let flips = 0;
  while (waiting.length > 0) {
    const h = waiting.pop() ?? 0;
    isWaiting[h] = 0;
    if (twin[h] === -1 || isDelaunay(length, h, twin[h])) continue;
    flipInto({ faces, twin, length }, h);
    flips++;
    // The four sides of the diamond may have lost the property.
    const g = twin[h];
    for (const side of [next(h), next(next(h)), next(g), next(next(g))]) {
      const key = twin[side] > side ? side : twin[side] === -1 ? -1 : twin[side];
      const low = key === -1 ? -1 : Math.min(side, twin[side]);
      if (low === -1 || isWaiting[low] === 1) continue;
      isWaiting[low] = 1;
      waiting.push(low);
    }
  }
  return { faces, twin, length, flips };
}

const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);

function edgeLengths(mesh: HalfEdgeMesh): Float64Array {
  const { positions: p, faces } = mesh;
  const length = new Float64Array(faces.length);
  for (let h = 0; h < faces.length; h++) {
    const a = 3 * faces[h];
    const b = 3 * faces[next(h)];
    const x = p[b] - p[a];
    const y = p[b + 1] - p[a + 1];
    const z = p[b + 2] - p[a + 2];
    length[h] = Math.sqrt(x * x + y * y + z * z);
  }
  return length;
}

/** Twice the area of a triangle by its sides, stable for needles [kahan2014]. */
function twiceArea(x: number, y: number, z: number): number {
  const a = Math.max(x, y, z);
  const c = Math.min(x, y, z);
  const b = x + y + z - a - c;
  const square = (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c));
  return square > 0 ? Math.sqrt(square) / 2 : 0;
}

/** Cotangent of the angle opposite half-edge h, (b² + c² − a²)/(4A). */
function oppositeCotangent(length: F64, h: number): number {
  const a = length[h];
  const b = length[next(h)];
  const c = length[next(next(h))];
  return (b * b + c * c - a * a) / (2 * twiceArea(a, b, c));
}

function isDelaunay(length: F64, h: number, g: number): boolean {
  const sum = oppositeCotangent(length, h) + oppositeCotangent(length, g);
  return !(sum < -roundOff);
}

/**
 * Turns the diagonal of the diamond of h and its twin. Before: h runs i → j with k to its left, g = twin runs j → i with l to its left.
 * After: h runs l → k, g runs k → l.
 */
function flipInto(target: { faces: Uint32Array; twin: Int32Array; length: Float64Array }, h: number): void {
  const { faces, twin, length } = target;
  const g = twin[h];
  const [h1, g1] = [next(h), next(g)];
  const [h2, g2] = [next(h1), next(g1)];
  const [i, j, k, l] = [faces[h], faces[g], faces[h2], faces[g2]];
  const [jk, ki, il, lj] = [length[h1], length[h2], length[g1], length[g2]];
  const diagonal = otherDiagonal(length[h], { ki, jk, il, lj });
  const [outsideJk, outsideKi, outsideIl, outsideLj] = [twin[h1], twin[h2], twin[g1], twin[g2]];
  // New faces: (l, k, i) in the slots of h, h1, h2 and (k, l, j) in those of g, g1, g2.
  faces[h] = l;
  faces[h1] = k;
  faces[h2] = i;
  faces[g] = k;
  faces[g1] = l;
  faces[g2] = j;
  length[h] = length[g] = diagonal;
  length[h1] = ki;
  length[h2] = il;
  length[g1] = lj;
  length[g2] = jk;
  // A side of the diamond may be glued to another side of the same diamond: translate such twins to their new slots.
  const moved = (outside: number): number => {
    if (outside === h1) return g2;
    if (outside === h2) return h1;
    if (outside === g1) return h2;
    return outside === g2 ? g1 : outside;
  };
  setTwinInto(twin, h1, moved(outsideKi));
  setTwinInto(twin, h2, moved(outsideIl));
  setTwinInto(twin, g1, moved(outsideLj));
  setTwinInto(twin, g2, moved(outsideJk));
}

function setTwinInto(twin: Int32Array, h: number, outside: number): void {
  twin[h] = outside;
  if (outside !== -1) twin[outside] = h;
}

/** Length from k to l across edge ij, both faces laid flat: i at the origin, j at (d, 0), k above, l below. */
function otherDiagonal(d: number, sides: { ki: number; jk: number; il: number; lj: number }): number {
  const { ki, jk, il, lj } = sides;
  const kx = (d * d + ki * ki - jk * jk) / (2 * d);
  const lx = (d * d + il * il - lj * lj) / (2 * d);
  const ky = twiceArea(d, jk, ki) / d;
  const ly = -twiceArea(d, il, lj) / d;
  return Math.sqrt((kx - lx) * (kx - lx) + (ky - ly) * (ky - ly));
}

/** Half the cotangent of the angle opposite each half-edge, from lengths; shape of `faces`. */
export function intrinsicHalfCotangents(mesh: IntrinsicMesh): Float64Array {
  const half = new Float64Array(mesh.faces.length);
  for (let h = 0; h < half.length; h++) half[h] = oppositeCotangent(mesh.length, h) / 2;
  return half;
}
