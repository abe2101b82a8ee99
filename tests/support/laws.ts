/*
 * Laws of flattening as small functions: each returns an error number that is 0 where the law holds.
 */
import type { F64 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import { conformalForm } from '../../src/flatten/conformal.ts';
import { conformalEnergy, faceDistortion } from '../../src/flatten/distortion.ts';
import { halfCotangents } from '../../src/mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';

/** Relative difference of the conformal energy from signed singular values and from the quadratic form; the scale is Σ A σ². */
export function energyByTwoRoutes(mesh: HalfEdgeMesh, plane: F64): number {
  const distortion = faceDistortion(mesh, plane);
  const scale = distortion.area.reduce((sum, area, f) => sum + area * distortion.sigma1[f] * distortion.sigma1[f], 0);
  return Math.abs(conformalEnergy(distortion) - conformalForm(mesh, halfCotangents(mesh), plane)) / scale;
}

/** Least change of the conformal form over random displacements of all vertices but the fixed ones, per squared displacement size; ≥ 0 at a minimum. */
export function leastConformalChange(mesh: HalfEdgeMesh, plane: F64, fixed: readonly number[], trials: number, seed: number): number {
  const random = createRandom(seed);
  const half = halfCotangents(mesh);
  const before = conformalForm(mesh, half, plane);
  let least = Infinity;
  for (let trial = 0; trial < trials; trial++) {
    const size = 10 ** (-1 - (trial % 3));
    const moved = Float64Array.from(plane, (value, i) => (fixed.includes(Math.floor(i / 2)) ? value : value + size * (random() - 0.5)));
    least = Math.min(least, conformalForm(mesh, half, moved) - before);
  }
  return least;
}

/** The best similarity (turn, scale, move; no mirror) that takes `from` to `to` in the least-squares sense, applied to `from`. */
export function afterBestSimilarity(from: F64, to: F64): Float64Array {
  return fit(from, to, false);
}

/** The same without scale. */
export function afterBestMotion(from: F64, to: F64): Float64Array {
  return fit(from, to, true);
}

function fit(from: F64, to: F64, isRigid: boolean): Float64Array {
  const n = from.length / 2;
  const [fx, fy] = mean(from);
  const [tx, ty] = mean(to);
  let [real, imaginary, size] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [a, b, c, d] = [from[2 * i] - fx, from[2 * i + 1] - fy, to[2 * i] - tx, to[2 * i + 1] - ty];
    real += a * c + b * d;
    imaginary += a * d - b * c;
    size += a * a + b * b;
  }
  const scale = isRigid ? Math.hypot(real, imaginary) : size;
  const [cosine, sine] = [real / scale, imaginary / scale];
  return Float64Array.from(from, (_, k) => {
    const i = k - (k % 2);
    const [a, b] = [from[i] - fx, from[i + 1] - fy];
    return k % 2 === 0 ? tx + cosine * a - sine * b : ty + sine * a + cosine * b;
  });
}

function mean(plane: F64): [number, number] {
  let [x, y] = [0, 0];
  for (let i = 0; i < plane.length; i += 2) {
    x += plane[i];
    y += plane[i + 1];
  }
  return [x / (plane.length / 2), y / (plane.length / 2)];
}

/** Largest distance between two maps of the same vertices. */
export function largestDistance(a: F64, b: F64): number {
  let largest = 0;
  for (let i = 0; i < a.length; i += 2) largest = Math.max(largest, Math.hypot(a[i] - b[i], a[i + 1] - b[i + 1]));
  return largest;
}

/** Largest extent of a map along x or y. */
export function extent(plane: F64): number {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < plane.length; i += 2) {
    minX = Math.min(minX, plane[i]);
    maxX = Math.max(maxX, plane[i]);
    minY = Math.min(minY, plane[i + 1]);
    maxY = Math.max(maxY, plane[i + 1]);
  }
  return Math.max(maxX - minX, maxY - minY);
}

/** Distance of two maps after the best similarity, relative to the extent of the second. */
export const similarityError = (a: F64, b: F64): number => largestDistance(afterBestSimilarity(a, b), b) / extent(b);

/** Distance of two maps after the best rigid motion, relative to the extent of the second. */
export const motionError = (a: F64, b: F64): number => largestDistance(afterBestMotion(a, b), b) / extent(b);

/** Largest |σ − 1| of a map. */
export function isometryError(mesh: HalfEdgeMesh, plane: F64): number {
  const { sigma1, sigma2 } = faceDistortion(mesh, plane);
  let largest = 0;
  for (let f = 0; f < sigma1.length; f++) largest = Math.max(largest, Math.abs(sigma1[f] - 1), Math.abs(sigma2[f] - 1));
  return largest;
}
