/*
 * A part's drawing for the build sheet: lines without letters, and where the name of each edge stands, a little inside its middle.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { DrawingPath } from '../draft/drawing.ts';
import { boxOf, polylineOf, type Box } from './curve.ts';

/** Pictures need no finer curves, mm. */
const pictureMm = 0.1;

export interface PartPicture {
  readonly box: Box;
  readonly paths: readonly DrawingPath[];
  readonly edges: readonly { readonly name: string; readonly at: Vec2 }[];
}

/**
 * @param insideMm how far inside its edge a name stands, mm of the part
 */
export function partPicture(part: DraftedPart, insideMm: number): PartPicture {
  const paths = part.drawing.paths.filter(({ layer }) => layer !== 'TEXT');
  const box = boxOf(...paths.filter(({ layer }) => layer === 'CUT').map(({ curve }) => polylineOf(curve, pictureMm)), part.outline);
  const edges = part.sides.map(({ id, seamLine }) => {
    const k = 2 * Math.floor(seamLine.length / 4);
    const [a, b] = [Math.max(0, k - 2), Math.min(seamLine.length - 2, k + 2)];
    const [dx, dy] = [seamLine[b] - seamLine[a], seamLine[b + 1] - seamLine[a + 1]];
    const length = Math.hypot(dx, dy) || 1;
    const middle: Vec2 = [(seamLine[a] + seamLine[b]) / 2, (seamLine[a + 1] + seamLine[b + 1]) / 2];
    // Of the two normals the one whose foot lies nearer to the middle of the part.
    const normal: Vec2 = [-dy / length, dx / length];
    const [left, right]: readonly [Vec2, Vec2] = [
      [middle[0] + insideMm * normal[0], middle[1] + insideMm * normal[1]],
      [middle[0] - insideMm * normal[0], middle[1] - insideMm * normal[1]],
    ];
    return { name: id, at: isInside(part.outline, left) ? left : right };
  });
  return { box, paths, edges };
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
