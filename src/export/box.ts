/*
 * What the writers need of curves beside the drawing's own: axis-parallel boxes of polylines, 2·n, mm.
 */
import type { F64 } from '../base/arrays.ts';

/** An axis-parallel box, mm. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The box of a polyline, or of several. Infinite and inside out when there is no point. */
export function boxOf(...polylines: readonly F64[]): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const points of polylines)
    for (let k = 0; k < points.length; k += 2) {
      minX = Math.min(minX, points[k]);
      maxX = Math.max(maxX, points[k]);
      minY = Math.min(minY, points[k + 1]);
      maxY = Math.max(maxY, points[k + 1]);
    }
  return { minX, minY, maxX, maxY };
}

/** True when two boxes share a point. */
export const boxesMeet = (a: Box, b: Box): boolean => a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
