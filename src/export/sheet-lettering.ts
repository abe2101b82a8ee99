/*
 * Letters that the sheets themselves carry (size of the test square, name of the sheet): a label with its strokes.
 */
import type { Drawing, DrawingLabel } from '../draft/drawing.ts';

/** A label and the strokes that spell it, on TEXT. */
export function letterLabel(label: DrawingLabel): Drawing {
  return { labels: [label], paths: [] };
}
