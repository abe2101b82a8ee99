/*
 * The plane that the marks are mirrored in, while the mirror is on; and points that mean to lie on it.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { Plane } from '../../src/body/body.ts';
import { dot, minus, mirrored, plus, unit } from '../body-view/axes.ts';
import type { BodyHit, BodyIndex } from '../body-view/body-index.ts';
import { body, job } from '../state.ts';

/** Points this near to the plane of symmetry are put on it, mm. */
const snapMm = 3;

export function mirrorPlane(): Plane | undefined {
  return job.value?.marks.mirrored === true ? body.value?.mirror : undefined;
}

/** The mirror image of a place on the skin. */
export function mirrorHit(index: BodyIndex | undefined, at: Vec3): BodyHit | undefined {
  const image = mirrored(at, mirrorPlane());
  return image && index?.nearest(image);
}

/** A place on the skin, moved onto the plane of symmetry if it nearly lies there. */
export function snapToMiddle(index: BodyIndex | undefined, at: Vec3): Vec3 {
  const plane = mirrorPlane();
  if (!plane) return at;
  const n = unit(plane.normal);
  const off = dot(minus(at, plane.point), n);
  if (Math.abs(off) > snapMm) return at;
  const flat = plus(at, n, -off);
  return index?.nearest(flat)?.at ?? flat;
}
