/*
 * Faces without area: three corners on a line, although all three are apart.
 */
import { faceCross } from '../mesh/measure.ts';
import { sliverShare } from '../base/tolerance.ts';
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
