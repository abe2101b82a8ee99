/*
 * How far a map may go along a direction before a face loses its area: the smallest positive root over all faces of the quadratic
 * (U + tP) × (V + tQ) = U×V + t (U×Q + P×V) + t² P×Q.
 */
import type { F64, U32 } from '../base/arrays.ts';

/**
 * The first t > 0 at which a face has no plane area; ∞ if there is none.
 * @param plane a map without flips, shape 2·n
 * @param direction shape 2·n
 */
export function stepLimit(faces: U32, plane: F64, direction: F64): number {
  let limit = Infinity;
  for (let h = 0; h < faces.length; h += 3) {
    const a = 2 * faces[h];
    const b = 2 * faces[h + 1];
    const c = 2 * faces[h + 2];
    const ux = plane[b] - plane[a];
    const uy = plane[b + 1] - plane[a + 1];
    const vx = plane[c] - plane[a];
    const vy = plane[c + 1] - plane[a + 1];
    const px = direction[b] - direction[a];
    const py = direction[b + 1] - direction[a + 1];
    const qx = direction[c] - direction[a];
    const qy = direction[c + 1] - direction[a + 1];
    const constant = ux * vy - uy * vx;
    const linear = ux * qy - uy * qx + px * vy - py * vx;
    const square = px * qy - py * qx;
    // Most faces keep their area up to the limit found so far: t ≤ limit gives at least constant − limit·(|linear| + limit·|square|).
    if (limit < Infinity && constant > limit * (Math.abs(linear) + limit * Math.abs(square))) continue;
    const root = firstPositiveRoot(square, linear, constant);
    if (root < limit) limit = root;
  }
  return limit;
}

/** Smallest t > 0 with c + bt + at² = 0 for c > 0; ∞ if none. Citardauq form: no cancellation. */
function firstPositiveRoot(a: number, b: number, c: number): number {
  const discriminant = b * b - 4 * a * c;
  if (!(discriminant >= 0)) return Infinity;
  const root = Math.sqrt(discriminant);
  if (b < 0) return (2 * c) / (root - b);
  // b ≥ 0: a positive root exists only for a < 0.
  return a < 0 ? (-b - root) / (2 * a) : Infinity;
}
