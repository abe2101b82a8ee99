/*
 * Bodies for standoff tests, and judges of a standoff that know the closed form.
 */
import type { SampleMesh } from '../../samples/bodies.ts';
import type { F64, Vec3 } from '../../src/base/arrays.ts';
import type { Body } from '../../src/body/body.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import type { StandoffSettings } from '../../src/standoff/settings.ts';

export function bodyOf(sample: SampleMesh | HalfEdgeMesh): Body {
  return {
    mesh: buildMesh(sample.positions, sample.faces),
    unit: 'mm',
    unitFrom: 'given',
    scale: 1,
    up: 'z',
    front: 'y',
    measures: [],
    repairs: [],
    findings: [],
    hash: '',
  };
}

export const plainSettings: StandoffSettings = { clearanceMm: 5, paddingMm: 0, bridgeHollowsMm: 0, ease: [], layers: ['eva-6'] };

/** Errors |distance(place) − wanted| at vertices and at the middles of faces, ascending. */
export function distanceErrors(
  mesh: { readonly positions: F64; readonly faces: HalfEdgeMesh['faces'] },
  wanted: number,
  distance: (at: Vec3) => number,
): Float64Array {
  const { positions: p, faces } = mesh;
  const vertices = p.length / 3;
  const errors = new Float64Array(vertices + faces.length / 3);
  for (let v = 0; v < vertices; v++) errors[v] = Math.abs(distance([p[3 * v], p[3 * v + 1], p[3 * v + 2]]) - wanted);
  for (let f = 0; f < faces.length / 3; f++) {
    const middle = [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, i) => sum + p[3 * faces[3 * f + i] + k] / 3, 0));
    errors[vertices + f] = Math.abs(distance([middle[0], middle[1], middle[2]]) - wanted);
  }
  return errors.sort();
}

/** Value below which a share of ascending values lies. */
export const quantile = (sorted: F64, share: number): number => sorted[Math.floor(share * (sorted.length - 1))];

export const toSphere =
  (radius: number, middle: Vec3 = [0, 0, 0]) =>
  (at: Vec3): number =>
    Math.hypot(at[0] - middle[0], at[1] - middle[1], at[2] - middle[2]) - radius;
export const toCapsule =
  (radius: number, length: number) =>
  (at: Vec3): number =>
    Math.hypot(at[0], at[1], at[2] - Math.max(-length / 2, Math.min(length / 2, at[2]))) - radius;
export const toTorus =
  (radius: number, tube: number) =>
  (at: Vec3): number =>
    Math.hypot(Math.hypot(at[0], at[1]) - radius, at[2]) - tube;

/** Integrals of mean and Gauss curvature of a convex body give Steiner's sums: area A + 2tM + t²·4π, volume V + tA + t²M + t³·4π/3. */
export const steiner = (
  body: { readonly area: number; readonly volume: number; readonly meanCurvature: number },
  t: number,
): { readonly area: number; readonly volume: number } => ({
  area: body.area + 2 * t * body.meanCurvature + 4 * Math.PI * t * t,
  volume: body.volume + t * body.area + t * t * body.meanCurvature + (4 / 3) * Math.PI * t * t * t,
});
