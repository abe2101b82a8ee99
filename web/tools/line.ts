/*
 * Line: a seam, an opening, a drawn or a reference line through clicked points.
 */
import type { LineKind } from '../../src/lines/line.ts';
import { act, engine } from '../desk.ts';
import { showMm } from '../fields/quantity.ts';
import { job, lineKind, selection } from '../state.ts';
import { lineColours, lineWords } from './line-words.ts';
import { freeId } from './names.ts';
import { pointsHand } from './points-hand.ts';
import type { Tool, ToolHand, ToolView } from './tool.ts';

/** @param kind read when it is needed: it may change while the tool is in hand */
export function lineHand(view: ToolView, kind: () => LineKind): ToolHand {
  return pointsHand(view, {
    colour: () => lineColours[kind()],
    trace: async (points, isClosed) =>
      points.length < 2
        ? undefined
        : engine.ask({ kind: 'trace', line: { id: 'preview', kind: kind(), path: 'shortest', closed: isClosed, mirror: false, points } }),
    words: (lengthMm) => `${lineWords[kind()].toLowerCase()} ${showMm(lengthMm)}`,
    least: () => 2,
    canClose: kind() !== 'dart',
    finish: (points, closed) => {
      const lines = job.value?.marks.lines ?? [];
      const id = freeId(kind(), lines);
      if (act({ kind: 'add-line', args: { line: { id, kind: kind(), path: 'shortest', closed, mirror: true, points } } }))
        selection.value = { kind: 'line', id };
    },
  });
}

export const lineTool: Tool = {
  name: 'line',
  title: 'Line',
  icon: 'seam',
  key: 'S',
  hint: 'Click points over the body. Enter or a double click ends, Backspace takes a point back, the first point closes, Esc lets go.',
  station: 'draw',
  take: (view) => lineHand(view, () => lineKind.value),
};
