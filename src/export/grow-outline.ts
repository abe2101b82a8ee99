/*
 * A closed outline moved sideways by a constant distance with mitred corners: what half a kerf does to a cut line. Bays narrower than the kerf
 * close and loops of sharp inside corners are taken away, which is what the beam does too.
 */
import type { F64 } from '../base/arrays.ts';
import { offsetPolygons } from '../plane/offset.ts';
import { signedArea } from '../plane/polygon.ts';

/** Longest mitre, in distances: corners sharper than 2·asin(1/8) = 14° are cut square. */
const miterLimit = 8;

/**
 * @param points a counter-clockwise polygon, 2·n, mm
 * @param byMm distance, mm; positive outward
 * @returns the moved outlines, counter-clockwise, largest first; none when nothing is left. Coordinates are rounded to 0.1 µm.
 */
export function growOutline(points: F64, byMm: number): readonly Float64Array[] {
  return offsetPolygons([points], byMm, { join: 'miter', miterLimit })
    .filter((polygon) => signedArea(polygon) > 0)
    .sort((a, b) => signedArea(b) - signedArea(a));
}
