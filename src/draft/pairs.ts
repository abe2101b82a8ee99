/*
 * Left and right: a part and its mirror image are one drawing, "cut one left, one right". They are a pair when the marks say so and their outlines,
 * one of them mirrored, agree.
 */
import type { F64 } from '../base/arrays.ts';
import { boxOf } from '../plane/polygon.ts';
import { furthestFrom } from '../plane/polyline.ts';

/** Outlines of a pair agree within this, mm: what a knife does by hand. Common practice. */
export const pairToleranceMm = 0.5;

/** The polygon mirrored across the y axis, orientation kept (points reversed). */
export function mirrorPolygon(points: F64): Float64Array {
  const mirrored = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    mirrored[points.length - 2 - i] = -points[i];
    mirrored[points.length - 1 - i] = points[i + 1];
  }
  return mirrored;
}

/**
 * Largest distance between one outline and the mirror image of another, boxes laid on each other, both ways, mm.
 * Both stand upright, so no turn is sought.
 */
export function mirrorDistance(left: F64, right: F64): number {
  const mirrored = mirrorPolygon(right);
  const [a, b] = [boxOf(left), boxOf(mirrored)];
  const shift = [0, 1].map((k) => (a.min[k] + a.max[k] - b.min[k] - b.max[k]) / 2);
  const moved = mirrored.map((value, i) => value + shift[i % 2]);
  return Math.max(furthestFrom(left, moved, true), furthestFrom(moved, left, true));
}
