/*
 * A part's drawing for the build sheet: lines without letters, and where the name of each edge stands.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { DrawingPath } from '../draft/drawing.ts';
import { distanceToPolyline } from '../plane/polyline.ts';
import { flattenCurve } from '../draft/curve.ts';
import { boxOf, type Box } from './box.ts';

/** Pictures need no finer curves, mm. */
const pictureMm = 0.1;

export interface PartPicture {
  readonly box: Box;
  readonly paths: readonly DrawingPath[];
  readonly edges: readonly { readonly name: string; readonly at: Vec2 }[];
}

/** Places along an edge where its name may stand, shares of its points; nearest to its middle first. */
const shares = [0.5, 0.38, 0.62, 0.26, 0.74] as const;

/**
 * A part's picture. A name stands inside its edge, or outside where it would touch a line, the arrow or another name; an edge shorter than
 * its name has none.
 * @param letterMm height of the names, mm of the part
 */
export function partPicture(part: DraftedPart, letterMm: number): PartPicture {
  const paths = part.drawing.paths.filter(({ layer }) => layer !== 'TEXT');
  const box = boxOf(...paths.filter(({ layer }) => layer === 'CUT').map(({ curve }) => flattenCurve(curve, pictureMm)), part.outline);
  const lines = paths
    .filter(({ layer }) => layer === 'CUT' || layer === 'CUT_INSIDE' || layer === 'ARROW' || layer === 'NOTCH' || layer === 'DRAWN')
    .map(({ curve }) => ({ points: flattenCurve(curve, pictureMm), closed: curve.closed }));
  const edges: { readonly name: string; readonly at: Vec2 }[] = [];
  for (const { id, seamLine, lengthMm } of part.sides) {
    if (lengthMm < 1.5 * letterMm) continue;
    const clearance = (at: Vec2): number =>
      Math.min(
        ...lines.map(({ points, closed }) => distanceToPolyline(points, closed, at[0], at[1])),
        ...edges.map((edge) => Math.hypot(edge.at[0] - at[0], edge.at[1] - at[1]) - letterMm),
      );
    const places = shares.flatMap((share) => besideEdge(seamLine, share, 1.3 * letterMm));
    const sorted = [...places.filter((at) => isInside(part.outline, at)), ...places.filter((at) => !isInside(part.outline, at))];
    const free = sorted.find((at) => clearance(at) >= letterMm);
    const at = free ?? sorted.reduce((best, other) => (clearance(other) > clearance(best) ? other : best));
    edges.push({ name: id, at });
  }
  return { box, paths, edges };
}

/** The two places beside a point of an edge. */
function besideEdge(line: DraftedPart['outline'], share: number, byMm: number): readonly Vec2[] {
  const k = 2 * Math.floor((share * line.length) / 2);
  const [a, b] = [Math.max(0, k - 2), Math.min(line.length - 2, k + 2)];
  const [dx, dy] = [line[b] - line[a], line[b + 1] - line[a + 1]];
  const length = Math.hypot(dx, dy);
  if (length === 0) return [[line[a], line[a + 1]]];
  const middle: Vec2 = line.length === 4 ? [line[0] + share * dx, line[1] + share * dy] : [line[k], line[k + 1]];
  return [1, -1].map((way): Vec2 => [middle[0] - (way * byMm * dy) / length, middle[1] + (way * byMm * dx) / length]);
}

/** Even–odd test against an outline. */
function isInside(outline: DraftedPart['outline'], [x, y]: Vec2): boolean {
  let inside = false;
  for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
    const [ax, ay, bx, by] = [outline[j], outline[j + 1], outline[k], outline[k + 1]];
    if (ay <= y !== by <= y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  }
  return inside;
}
