/*
 * Marks for sample jobs: places given in round-the-body terms, taken onto the surface by a ray from outside, and strokes along them.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { cos, sin } from '../../src/base/elementary.ts';
import type { Stroke } from '../../src/areas/area.ts';
import type { SpatialIndex } from '../../src/mesh/spatial.ts';
import { toRadians } from '../../src/units/angle.ts';

/** Degrees around the body's upright axis from the front towards the wearer's left, and height in mm. */
export type Place = readonly [angle: number, height: number];

/** Stored points keep a thousandth of a millimetre. */
const rounded = (point: Vec3): Vec3 => [round(point[0]), round(point[1]), round(point[2])];
const round = (value: number): number => Math.round(value * 1000) / 1000 + 0;

/** The outermost point of the body at a place: a level ray towards the axis x = 0, z = axisZ. */
export function onBody(index: SpatialIndex, place: Place, axisZ: number): Vec3 {
  const [angle, height] = [toRadians(place[0]), place[1]];
  const [x, z] = [sin(angle), cos(angle)];
  const reach = 1000;
  const hit = index.firstHit([reach * x, height, axisZ + reach * z], [-x, 0, -z]);
  if (hit === undefined) throw new RangeError(`no surface at ${place[0]} degrees, ${height} mm`);
  return rounded(place[0] === 0 || place[0] === 180 ? [0, hit.at[1], hit.at[2]] : hit.at);
}

/** The point of the body that a ray from outside towards a centre meets. */
export function towards(index: SpatialIndex, centre: Vec3, direction: Vec3): Vec3 {
  const from: Vec3 = [centre[0] + 300 * direction[0], centre[1] + 300 * direction[1], centre[2] + 300 * direction[2]];
  const hit = index.firstHit(from, [-direction[0], -direction[1], -direction[2]]);
  if (hit === undefined) throw new RangeError('no surface in that direction');
  return rounded(hit.at);
}

/** A polyline of places with more places between, at most `stepMm` apart on the surface (roughly). */
export function along(index: SpatialIndex, places: readonly Place[], axisZ: number, stepMm: number): Vec3[] {
  const points: Vec3[] = [];
  for (let i = 0; i + 1 < places.length; i++) {
    const [from, to] = [places[i], places[i + 1]];
    const [a, b] = [onBody(index, from, axisZ), onBody(index, to, axisZ)];
    const steps = Math.max(1, Math.ceil((1.15 * Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])) / stepMm));
    for (let k = i === 0 ? 0 : 1; k <= steps; k++) {
      const t = k / steps;
      points.push(onBody(index, [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])], axisZ));
    }
  }
  return points;
}

/** A brush pulled along points. */
export const paint = (points: readonly Vec3[], radiusMm: number): Stroke => ({ mode: 'paint', points, radiusMm });
