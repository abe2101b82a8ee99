/*
 * Faces that are no surface: two corners at one vertex, or the same three corners as another face.
 */
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

/** Drops faces with two corners at one vertex. */
export function dropCollapsed(triangles: Triangles): { readonly triangles: Triangles; readonly count: number } {
  const { faces } = triangles;
  const isDropped = new Uint8Array(faces.length / 3);
  let count = 0;
  for (let f = 0; f < isDropped.length; f++) {
    const [a, b, c] = [faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]];
    if (a !== b && b !== c && c !== a) continue;
    isDropped[f] = 1;
    count++;
  }
  return { triangles: count === 0 ? triangles : compactTriangles(triangles, isDropped), count };
}

/**
 * Drops faces that have the same three corners as an earlier one.
 * @returns how many ran the same way round, and how many the other way (two sheets of no thickness)
 */
export function dropDuplicates(triangles: Triangles): {
  readonly triangles: Triangles;
  readonly same: number;
  readonly opposite: number;
} {
  const { faces } = triangles;
  const faceTotal = faces.length / 3;
  let size = 16;
  while (size < 2 * faceTotal) size *= 2;
  const table = new Int32Array(size).fill(-1);
  const isDropped = new Uint8Array(faceTotal);
  let same = 0;
  let opposite = 0;
  for (let f = 0; f < faceTotal; f++) {
    const turn = lowestCorner(faces, f);
    const [a, b, c] = [faces[3 * f + turn], faces[3 * f + ((turn + 1) % 3)], faces[3 * f + ((turn + 2) % 3)]];
    let slot = hashTriple(a, Math.min(b, c), Math.max(b, c)) & (size - 1);
    for (; table[slot] !== -1; slot = (slot + 1) & (size - 1)) {
      const other = table[slot];
      const otherTurn = lowestCorner(faces, other);
      if (faces[3 * other + otherTurn] !== a) continue;
      const [ob, oc] = [faces[3 * other + ((otherTurn + 1) % 3)], faces[3 * other + ((otherTurn + 2) % 3)]];
      if (ob === b && oc === c) same++;
      else if (ob === c && oc === b) opposite++;
      else continue;
      isDropped[f] = 1;
      break;
    }
    if (isDropped[f] === 0) table[slot] = f;
  }
  return { triangles: same + opposite === 0 ? triangles : compactTriangles(triangles, isDropped), same, opposite };
}

function lowestCorner(faces: Triangles['faces'], f: number): number {
  const [a, b, c] = [faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]];
  if (a < b && a < c) return 0;
  return b < c ? 1 : 2;
}

function hashTriple(a: number, b: number, c: number): number {
  let hash = Math.imul(a, 0x8da6b343) ^ Math.imul(b, 0xd8163841) ^ Math.imul(c, 0xcb1ab31f);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return (hash ^ (hash >>> 13)) >>> 0;
}
