/*
 * The last word on a layout: parts on their original outlines, exact orientation tests for crossing and containment, and distances between edges.
 */
import type { F64 } from '../base/arrays.ts';
import { boxOf, containsPoint } from '../plane/polygon.ts';
import { distanceToSegment } from '../plane/polyline.ts';
import { segmentsMeet } from '../plane/predicates.ts';

export interface PlacedOutline {
  readonly id: string;
  /** Outline and holes as they lie on the sheet, mm. */
  readonly rings: readonly F64[];
}

/** Pairs that come closer than the spacing, with their distance (0: they overlap). Slack for rounding, mm. */
export function tooClose(
  placed: readonly PlacedOutline[],
  spacingMm: number,
  slackMm: number,
): { readonly a: string; readonly b: string; readonly distanceMm: number }[] {
  const found: { a: string; b: string; distanceMm: number }[] = [];
  const boxes = placed.map((part) => boxOf(part.rings[0]));
  for (let i = 0; i < placed.length; i++) {
    for (let j = i + 1; j < placed.length; j++) {
      const isFar = [0, 1].some((k) => boxes[i].min[k] > boxes[j].max[k] + spacingMm || boxes[j].min[k] > boxes[i].max[k] + spacingMm);
      if (isFar) continue;
      const distanceMm = distanceBetween(placed[i].rings, placed[j].rings);
      if (distanceMm < spacingMm - slackMm) found.push({ a: placed[i].id, b: placed[j].id, distanceMm });
    }
  }
  return found;
}

/** Distance between two parts with holes, mm; 0 if they overlap. */
export function distanceBetween(a: readonly F64[], b: readonly F64[]): number {
  if (isWithin(a, b[0][0], b[0][1]) || isWithin(b, a[0][0], a[0][1])) return 0;
  let least = Infinity;
  for (const ring of a) for (const other of b) least = Math.min(least, ringDistance(ring, other));
  return least;
}

const isWithin = ([outline, ...holes]: readonly F64[], x: number, y: number): boolean =>
  containsPoint(outline, x, y) && !holes.some((hole) => containsPoint(hole, x, y));

function ringDistance(a: F64, b: F64): number {
  let least = Infinity;
  for (let i = 0; i < a.length; i += 2) {
    const i2 = (i + 2) % a.length;
    for (let j = 0; j < b.length; j += 2) {
      const j2 = (j + 2) % b.length;
      // Boxes of the two edges: most pairs are further apart than the least distance so far.
      const gapX = Math.max(Math.min(a[i], a[i2]) - Math.max(b[j], b[j2]), Math.min(b[j], b[j2]) - Math.max(a[i], a[i2]));
      const gapY = Math.max(
        Math.min(a[i + 1], a[i2 + 1]) - Math.max(b[j + 1], b[j2 + 1]),
        Math.min(b[j + 1], b[j2 + 1]) - Math.max(a[i + 1], a[i2 + 1]),
      );
      if (gapX >= least || gapY >= least) continue;
      if (segmentsMeet(a[i], a[i + 1], a[i2], a[i2 + 1], b[j], b[j + 1], b[j2], b[j2 + 1])) return 0;
      least = Math.min(
        least,
        distanceToSegment(a[i], a[i + 1], b[j], b[j + 1], b[j2], b[j2 + 1]),
        distanceToSegment(b[j], b[j + 1], a[i], a[i + 1], a[i2], a[i2 + 1]),
      );
    }
  }
  return least;
}
