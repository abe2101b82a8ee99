/*
 * A flat part held up in front of the place that it came from: the rigid motion of the plane into space that brings it nearest to the
 * standing part, moved outward so that nothing cuts through the body. The turn is the orthogonal factor of the 3×2 matrix Σ p qᵀ.
 */
import type { F64, Vec3 } from '../../src/base/arrays.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { cross, unit } from './axes.ts';

export interface LaidBeside {
  /** 3·n, mm. */
  readonly places: Float64Array;
  /** Unit normal of the plane, on the outer face. */
  readonly normal: Vec3;
}

/** @param flat plane positions, 2·n, mm, counter-clockwise seen from outside */
export function layBeside(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, flat: F64): LaidBeside {
  const total = flat.length / 2;
  const p = mesh.positions;
  const [cx, cy, cz] = [0, 1, 2].map((k) => mean(p, 3, k));
  const [qx, qy] = [0, 1].map((k) => mean(flat, 2, k));
  const u: [number, number, number] = [0, 0, 0];
  const v: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < total; i++) {
    const [dx, dy, dz] = [p[3 * i] - cx, p[3 * i + 1] - cy, p[3 * i + 2] - cz];
    const [a, b] = [flat[2 * i] - qx, flat[2 * i + 1] - qy];
    u[0] += dx * a;
    u[1] += dy * a;
    u[2] += dz * a;
    v[0] += dx * b;
    v[1] += dy * b;
    v[2] += dz * b;
  }
  const [right, ahead] = orthonormal(u, v);
  const normal = cross(right, ahead);
  let nearest = 0;
  let furthest = 0;
  const places = new Float64Array(3 * total);
  for (let i = 0; i < total; i++) {
    const [a, b] = [flat[2 * i] - qx, flat[2 * i + 1] - qy];
    const height = (p[3 * i] - cx) * normal[0] + (p[3 * i + 1] - cy) * normal[1] + (p[3 * i + 2] - cz) * normal[2];
    nearest = Math.min(nearest, height);
    furthest = Math.max(furthest, height);
    places[3 * i] = cx + a * right[0] + b * ahead[0];
    places[3 * i + 1] = cy + a * right[1] + b * ahead[1];
    places[3 * i + 2] = cz + a * right[2] + b * ahead[2];
  }
  // Clear of its own bulge, and far enough to be seen apart.
  const out = furthest + 25 + 0.15 * (furthest - nearest);
  for (let i = 0; i < total; i++) for (let k = 0; k < 3; k++) places[3 * i + k] += out * normal[k];
  return { places, normal };
}

function mean(values: F64, stride: number, offset: number): number {
  let sum = 0;
  for (let i = offset; i < values.length; i += stride) sum += values[i];
  return (sum * stride) / values.length;
}

/** The two orthonormal columns nearest to the columns of M = [u v]: M (MᵀM)^(−1/2), in closed form for 2×2. */
function orthonormal(u: Vec3, v: Vec3): readonly [Vec3, Vec3] {
  const [a, b, c] = [dot(u, u), dot(u, v), dot(v, v)];
  const root = Math.sqrt(Math.max(0, a * c - b * b));
  const trace = Math.sqrt(a + c + 2 * root);
  if (!(root > 0) || !(trace > 0)) return [unit(u), perpendicular(unit(u))];
  // S = (MᵀM)^(1/2) = (MᵀM + √det I)/√(tr + 2√det); its inverse is adj(S)/√det.
  const [s11, s12, s22] = [(a + root) / trace, b / trace, (c + root) / trace];
  const det = s11 * s22 - s12 * s12;
  const column = (x: number, y: number): Vec3 => [u[0] * x + v[0] * y, u[1] * x + v[1] * y, u[2] * x + v[2] * y];
  return [column(s22 / det, -s12 / det), column(-s12 / det, s11 / det)];
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function perpendicular(a: Vec3): Vec3 {
  return unit(Math.abs(a[0]) < 0.8 ? cross(a, [1, 0, 0]) : cross(a, [0, 1, 0]));
}
