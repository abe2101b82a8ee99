/*
 * Measure: lays a tape on the body. What the mesh says stands beside it at once; the tape's own value is typed in the panel.
 */
import type { MeasureMark } from '../../src/body/settings.ts';
import { act, engine } from '../desk.ts';
import { showMm } from '../fields/quantity.ts';
import { job, measureKind, selection, station } from '../state.ts';
import { pointsHand } from './points-hand.ts';
import type { Tool } from './tool.ts';

const needs: Readonly<Record<MeasureMark['kind'], { readonly least: number; readonly most: number }>> = {
  girth: { least: 1, most: 1 },
  height: { least: 1, most: 1 },
  distance: { least: 2, most: 2 },
  length: { least: 2, most: Infinity },
};

export const measureTool: Tool = {
  name: 'measure',
  title: 'Measure',
  icon: 'tape',
  key: 'M',
  hint: 'Girth and height: one click. Distance: two. Length over the skin: click points, Enter ends. Then type what your tape says.',
  take: (view) =>
    pointsHand(view, {
      colour: () => '#b98a1f',
      trace: async (points) => {
        if (points.length < needs[measureKind.value].least) return undefined;
        const { positions, meshMm } = await engine.ask({
          kind: 'measure',
          measure: { name: 'preview', kind: measureKind.value, points, tapeMm: 0 },
        });
        return { positions, lengthMm: meshMm };
      },
      words: (lengthMm) => `${measureKind.value} ${showMm(lengthMm)}`,
      least: () => needs[measureKind.value].least,
      most: () => needs[measureKind.value].most,
      canClose: false,
      finish: (points) => {
        const measures = job.value?.body.measures ?? [];
        const kind = measureKind.value;
        const number = measures.filter((measure) => measure.kind === kind).length + 1;
        if (!act({ kind: 'add-measure', args: { measure: { name: `${kind} ${number}`, kind, points, tapeMm: 0 } } })) return;
        station.value = 'body';
        selection.value = { kind: 'measure', index: measures.length };
      },
    }),
};
