/*
 * Fittings: where straps, snaps, magnets and buckles go; carried to the parts as marks.
 */
import { act } from '../desk.ts';
import { fittingKind, job } from '../state.ts';
import { freeId } from './names.ts';
import type { Tool } from './tool.ts';
import { rounded } from './tool.ts';

export const fittingTool: Tool = {
  name: 'fitting',
  title: 'Fitting',
  icon: 'fitting',
  key: 'T',
  hint: 'Click where a strap, snap, magnet or buckle goes.',
  station: 'draw',
  take: ({ scene }) => ({
    over: (at) => scene.setRings(at.hit ? [{ at: at.hit.at, radiusMm: 5 }] : []),
    out: () => scene.setRings([]),
    click: (at) => {
      if (!at.hit) return;
      const kind = fittingKind.value;
      act({ kind: 'add-fitting', args: { point: { id: freeId(kind, job.value?.marks.points ?? []), kind, at: rounded(at.hit.at) } } });
    },
    cancel: () => {
      scene.setRings([]);
      return false;
    },
  }),
};
