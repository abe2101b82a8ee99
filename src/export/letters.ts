/*
 * Which strokes on TEXT spell which label. A drawing keeps a label and its single-stroke letters apart; files want them together (a
 * title for the screen reader, letters that are carried whole, never mirrored or scaled). A stroke spells the label in whose box it lies.
 */
import type { Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import type { Drawing, DrawingLabel, DrawingPath } from '../draft/drawing.ts';
import { flattenCurve } from '../draft/curve.ts';

/** Space around the capital height that a label's strokes may fill, in capital heights: descenders, accents, wide letters. */
const room = { below: 0.6, above: 0.7, before: 0.4, advance: 1.4 } as const;

/** A label with the strokes that spell it. */
export interface LabelLetters {
  readonly label: DrawingLabel;
  readonly paths: readonly DrawingPath[];
  /** Extent of the strokes along the label, mm; estimated when it has none. */
  readonly widthMm: number;
}

export interface Letters {
  readonly labels: readonly LabelLetters[];
  /** Every other path, in order. */
  readonly others: readonly DrawingPath[];
}

/** Sorts a drawing's paths into the strokes of its labels and the rest (leaders, cut lines, marks). */
export function groupLetters(drawing: Drawing): Letters {
  const strokes: DrawingPath[][] = drawing.labels.map(() => []);
  const width = drawing.labels.map(() => 0);
  const others: DrawingPath[] = [];
  for (const path of drawing.paths) {
    const found = path.layer === 'TEXT' ? findLabel(path, drawing.labels) : undefined;
    if (found === undefined) others.push(path);
    else {
      strokes[found.index].push(path);
      width[found.index] = Math.max(width[found.index], found.reach);
    }
  }
  const labels = drawing.labels.map((label, index) => ({
    label,
    paths: strokes[index],
    widthMm: strokes[index].length > 0 ? width[index] : 0.8 * label.heightMm * label.text.length,
  }));
  return { labels, others };
}

/** The label whose box holds the whole path; of several, the one whose middle line is nearest. */
function findLabel(path: DrawingPath, labels: readonly DrawingLabel[]): { readonly index: number; readonly reach: number } | undefined {
  const points = flattenCurve(path.curve, Infinity);
  let best: { readonly index: number; readonly reach: number } | undefined;
  let bestDistance = Infinity;
  for (const [index, label] of labels.entries()) {
    if (label.part !== path.part) continue;
    const fit = fitInBox(points, label);
    if (fit === undefined || fit.distance >= bestDistance) continue;
    best = { index, reach: fit.reach };
    bestDistance = fit.distance;
  }
  return best;
}

function fitInBox(points: Float64Array, label: DrawingLabel): { readonly distance: number; readonly reach: number } | undefined {
  const h = label.heightMm;
  const along: Vec2 = [cos(label.angle), sin(label.angle)];
  let [reach, least, middle] = [0, Infinity, 0];
  for (let k = 0; k < points.length; k += 2) {
    const [dx, dy] = [points[k] - label.at[0], points[k + 1] - label.at[1]];
    const u = dx * along[0] + dy * along[1];
    const v = dy * along[0] - dx * along[1];
    if (v < -room.below * h || v > (1 + room.above) * h) return undefined;
    if (u < -room.before * h || u > room.advance * h * Math.max(1, label.text.length)) return undefined;
    reach = Math.max(reach, u);
    least = Math.min(least, u);
    middle += v;
  }
  const off = Math.abs(middle / (points.length / 2) - h / 2);
  // Two labels on one line: the nearer start wins.
  return { distance: off + 0.01 * Math.max(0, least), reach };
}
