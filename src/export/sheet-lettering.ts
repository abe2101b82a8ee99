/*
 * Letters that the sheets themselves carry (size of the test square, name of the sheet): a label with its strokes on TEXT.
 */
import type { Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import type { Drawing, DrawingLabel } from '../draft/drawing.ts';
import { letterText } from '../draft/lettering.ts';

/** A label and the strokes that spell it, lettered smaller where it would be wider than its room. */
export function letterLabel(label: DrawingLabel, roomMm = Infinity): Drawing {
  const { widthMm } = letterText(label.text, label.heightMm);
  const heightMm = widthMm > roomMm ? (label.heightMm * roomMm) / widthMm : label.heightMm;
  const [along, up]: readonly [Vec2, Vec2] = [
    [cos(label.angle), sin(label.angle)],
    [-sin(label.angle), cos(label.angle)],
  ];
  const place = ([u, v]: Vec2): Vec2 => [label.at[0] + u * along[0] + v * up[0], label.at[1] + u * along[1] + v * up[1]];
  const paths = letterText(label.text, heightMm).strokes.map((stroke): Drawing['paths'][number] => {
    const [start, ...rest] = stroke.map(place);
    return {
      layer: 'TEXT',
      curve: { start, segments: rest.map((to) => ({ kind: 'line', to })), closed: false },
      ...(label.part === undefined ? {} : { part: label.part }),
    };
  });
  return { labels: [{ ...label, heightMm }], paths };
}
