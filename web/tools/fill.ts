/*
 * Fill: paints everything up to the lines around a place.
 */
import { brushMm } from '../state.ts';
import { takeStroke } from './stroke-hand.ts';
import type { Tool } from './tool.ts';
import { rounded } from './tool.ts';

export const fillTool: Tool = {
  name: 'fill',
  title: 'Fill',
  icon: 'fill',
  key: 'F',
  hint: 'Click inside a ring of lines to fill it with the chosen area.',
  station: 'draw',
  take: ({ scene, note }) => ({
    over: (at) => scene.setRings(at.hit ? [{ at: at.hit.at, radiusMm: 3 }] : []),
    out: () => scene.setRings([]),
    click: (at) => {
      if (!at.hit) return note('Click on the body.');
      takeStroke({ mode: 'fill', points: [rounded(at.hit.at)], radiusMm: brushMm.value });
    },
    cancel: () => {
      scene.setRings([]);
      return false;
    },
  }),
};
