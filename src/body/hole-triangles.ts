/*
 * A first, coarse surface over a hole: the triangulation of its border that has the smallest largest fold, and among those the least area,
 * found by dynamic programming over all ways to close the arc from border vertex i to k by a triangle (i, m, k) [liepa2003]. That is cubic in
 * the border, so a long border is first shortened by ears: triangles over two neighbouring edges that continue the surface, the shortest first.
 */
import type { F64, Vec3 } from '../base/arrays.ts';

/** Borders up to this many vertices are closed at once (0.15 s at 120). */
const mostAtOnce = 120;
/** An ear may fold against its neighbours by 1 − cos of this much (60°) while there are others. */
const mostEarFold = 0.5;

export interface ClosingOptions {
  /** What comes first: by area a slit is closed along its sides, by fold a hole goes on like its surroundings. */
  readonly rule: 'least-fold' | 'least-area';
  /** True for two border vertices that the mesh joins already: no new edge may run between them. */
  readonly isJoined: (i: number, j: number) => boolean;
}

export const closingDefaults: ClosingOptions = { rule: 'least-fold', isJoined: () => false };

/**
 * Triangles over a closed border.
 * @param border positions of its vertices in order, the surface on the left; shape 3·n
 * @param outside for each border edge i → i+1 the third corner of the face on its other side; shape 3·n
 * @returns corners as numbers of border vertices, oriented against the border so that they fit the surface; shape 3·(n − 2), or fewer where
 * joined vertices leave no way to close it
 */
export function closeBorder(border: F64, outside: F64, options: ClosingOptions = closingDefaults): number[] {
  const n = border.length / 3;
  if (n < 3) return [];
  const ring = Array.from({ length: n }, (_, i) => i);
  const thirds = Array.from({ length: n }, (_, i): Vec3 => outsideAt(outside, i));
  const triangles: number[] = [];
  while (ring.length > mostAtOnce && cutEarInto(triangles, ring, thirds, border, options));
  const rest = Float64Array.from(ring.flatMap((i) => [...outsideAt(border, i)]));
  const restOutside = Float64Array.from(thirds.flatMap((third) => [...third]));
  const own = { rule: options.rule, isJoined: (i: number, j: number) => options.isJoined(ring[i], ring[j]) };
  triangles.push(...bestTriangles(rest, restOutside, ring.length, own).map((i) => ring[i]));
  return triangles;
}

/** Takes the shortest ear that folds little; where every ear folds, the one that folds least. False where none may be taken. */
function cutEarInto(triangles: number[], ring: number[], thirds: Vec3[], border: F64, options: ClosingOptions): boolean {
  const n = ring.length;
  const normals = new Float64Array(9);
  let [best, bestCost] = [-1, Infinity];
  for (let i = 0; i < n; i++) {
    const [before, after] = [(i + n - 1) % n, (i + 1) % n];
    if (options.isJoined(ring[before], ring[after])) continue;
    const [a, b, c] = [before, i, after].map((j) => outsideAt(border, ring[j]));
    setNormalInto(normals, 0, a, c, b);
    setNormalInto(normals, 1, a, b, thirds[before]);
    setNormalInto(normals, 2, b, c, thirds[i]);
    const worst = Math.max(foldBetween(normals, 0, normals, 1), foldBetween(normals, 0, normals, 2));
    const length = Math.hypot(c[0] - a[0], c[1] - a[1], c[2] - a[2]);
    const cost = worst <= mostEarFold || options.rule === 'least-area' ? length : Number.MAX_VALUE * (worst / 4);
    if (cost >= bestCost) continue;
    [best, bestCost] = [i, cost];
  }
  if (best === -1) return false;
  const before = (best + n - 1) % n;
  triangles.push(ring[before], ring[(best + 1) % n], ring[best]);
  thirds[before] = outsideAt(border, ring[best]);
  ring.splice(best, 1);
  thirds.splice(best, 1);
  return true;
}

function bestTriangles(border: F64, outside: F64, n: number, options: ClosingOptions): number[] {
  const at = (i: number): Vec3 => [border[3 * i], border[3 * i + 1], border[3 * i + 2]];
  const fold = new Float64Array(n * n);
  const area = new Float64Array(n * n);
  const middle = new Int32Array(n * n).fill(-1);
  const normal = new Float64Array(3 * n * n);
  for (let i = 0; i + 1 < n; i++) setNormalInto(normal, i * n + i + 1, at(i), at(i + 1), outsideAt(outside, i));
  // The closing edge n − 1 → 0 is met only as the last one; its outside is used there.
  const closing = new Float64Array(3);
  setNormalInto(closing, 0, at(n - 1), at(0), outsideAt(outside, n - 1));
  for (let span = 2; span < n; span++) {
    for (let i = 0; i + span < n; i++) {
      const k = i + span;
      const cell = i * n + k;
      let [bestFold, bestArea, best] = [Infinity, Infinity, -1];
      const [a, c] = [at(i), at(k)];
      if (span < n - 1 && options.isJoined(i, k)) {
        fold[cell] = Infinity;
        continue;
      }
      const own = new Float64Array(3);
      for (let m = i + 1; m < k; m++) {
        const size = setNormalInto(own, 0, a, c, at(m));
        let worst = Math.max(
          fold[i * n + m],
          fold[m * n + k],
          foldBetween(own, 0, normal, i * n + m),
          foldBetween(own, 0, normal, m * n + k),
        );
        if (span === n - 1) worst = Math.max(worst, foldBetween(own, 0, closing, 0));
        const total = area[i * n + m] + area[m * n + k] + size;
        // Folds that differ by less than a degree count as alike: area decides.
        if (options.rule === 'least-area' && worst < Infinity) worst = 0;
        if (worst === Infinity) continue;
        if (worst > bestFold + alike || (worst > bestFold - alike && total >= bestArea)) continue;
        [bestFold, bestArea, best] = [worst, total, m];
      }
      fold[cell] = bestFold;
      area[cell] = bestArea;
      middle[cell] = best;
      if (best !== -1) setNormalInto(normal, cell, a, c, at(best));
    }
  }
  const triangles: number[] = [];
  const stack: [number, number][] = [[0, n - 1]];
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const [i, k] = next;
    const m = middle[i * n + k];
    if (m === -1) continue;
    triangles.push(i, k, m);
    stack.push([i, m], [m, k]);
  }
  return triangles;
}

/** Difference of 1 − cos that is about one degree at a right angle. */
const alike = 1 / 64;

const outsideAt = (outside: F64, i: number): Vec3 => [outside[3 * i], outside[3 * i + 1], outside[3 * i + 2]];

/** Unit normal of the triangle a, b, c into place `cell`; returns its area. */
function setNormalInto(normal: Float64Array, cell: number, a: Vec3, b: Vec3, c: Vec3): number {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(x, y, z);
  const factor = length > 0 ? 1 / length : 0;
  normal[3 * cell] = x * factor;
  normal[3 * cell + 1] = y * factor;
  normal[3 * cell + 2] = z * factor;
  return length / 2;
}

/** 1 − cos of the angle between two normals: 0 flat, 2 folded shut. */
function foldBetween(p: Float64Array, i: number, q: Float64Array, j: number): number {
  return 1 - (p[3 * i] * q[3 * j] + p[3 * i + 1] * q[3 * j + 1] + p[3 * i + 2] * q[3 * j + 2]);
}
