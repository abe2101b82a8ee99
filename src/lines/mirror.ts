/*
 * The plane of symmetry: which half a point lies in, and its mirror image. The wearer's left is up × front.
 */
import type { Vec3 } from '../base/arrays.ts';
import { leftOf } from '../body/axes.ts';
import type { Axis, Plane } from '../body/body.ts';

/**
 * The body's plane of symmetry with its normal to the wearer's left; without one on record the plane through the origin.
 */
export function mirrorPlane(body: { readonly up: Axis; readonly front: Axis; readonly mirror?: Plane }): Plane {
  const left = leftOf(body.up, body.front);
  if (!body.mirror) return { point: [0, 0, 0], normal: left };
  const { point, normal } = body.mirror;
  const sign = dot(normal, left) < 0 ? -1 : 1;
  return { point, normal: [sign * normal[0], sign * normal[1], sign * normal[2]] };
}

/** Distance of a point from the plane, positive on the wearer's left, mm. */
export function sideOf(plane: Plane, at: Vec3): number {
  return dot(plane.normal, at) - dot(plane.normal, plane.point);
}

/** The mirror image of a point. */
export function mirrored(plane: Plane, at: Vec3): Vec3 {
  const twice = 2 * sideOf(plane, at);
  return [at[0] - twice * plane.normal[0], at[1] - twice * plane.normal[1], at[2] - twice * plane.normal[2]];
}

/** The foot of a point on the plane. */
export function ontoPlane(plane: Plane, at: Vec3): Vec3 {
  const distance = sideOf(plane, at);
  return [at[0] - distance * plane.normal[0], at[1] - distance * plane.normal[1], at[2] - distance * plane.normal[2]];
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
