/*
 * The body stands in the picture with its up axis up and its front towards the viewer: x = wearer's left (up × front), y = up, z = front.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { Axis } from '../../src/body/body.ts';

export function axisVector(axis: Axis): Vec3 {
  const sign = axis.startsWith('-') ? -1 : 1;
  const letter = axis.slice(-1);
  return [letter === 'x' ? sign : 0, letter === 'y' ? sign : 0, letter === 'z' ? sign : 0];
}

export const cross = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const plus = (a: Vec3, b: Vec3, times = 1): Vec3 => [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]];
export const size = (a: Vec3): number => Math.hypot(...a);
export const unit = (a: Vec3): Vec3 => {
  const length = size(a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
};

/** Rows of the turn from the body's axes to the picture's: left, up, front. A front along up is taken as any level direction. */
export function pictureAxes(up: Axis, front: Axis): readonly [Vec3, Vec3, Vec3] {
  const u = axisVector(up);
  const asked = axisVector(front);
  const f: Vec3 = Math.abs(dot(u, asked)) > 0.5 ? [u[1], u[2], u[0]] : asked;
  return [cross(u, f), u, f];
}

/** A point mirrored in a plane; undefined without a plane. */
export function mirrored(point: Vec3, plane: { readonly point: Vec3; readonly normal: Vec3 } | undefined): Vec3 | undefined {
  if (!plane) return undefined;
  const n = unit(plane.normal);
  return plus(point, n, -2 * dot(minus(point, plane.point), n));
}
