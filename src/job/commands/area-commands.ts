/*
 * Painting: areas and their strokes.
 */
import type { AreaMark, Stroke } from '../../areas/area.ts';
import type { Job } from '../job.ts';
import { command, replaceById, withItem, withoutAt, withoutId } from './command.ts';

const withAreas = (job: Job, areas: readonly AreaMark[]): Job => ({ ...job, marks: { ...job.marks, areas } });

export const areaCommands = {
  'add-area': command<{ readonly area: AreaMark }>({
    title: ({ area }) => `Add area ${area.name || area.id}`,
    apply: (job, { area }) => withAreas(job, withItem(job.marks.areas, area)),
  }),
  'change-area': command<{ readonly id: string; readonly change: Partial<Omit<AreaMark, 'id' | 'strokes'>> }>({
    title: ({ id }) => `Change area ${id}`,
    apply: (job, { id, change }) =>
      withAreas(
        job,
        replaceById(job.marks.areas, id, (area) => ({ ...area, ...change })),
      ),
  }),
  'remove-area': command<{ readonly id: string }>({
    title: ({ id }) => `Remove area ${id}`,
    apply: (job, { id }) => withAreas(job, withoutId(job.marks.areas, id)),
  }),
  'add-stroke': command<{ readonly area: string; readonly stroke: Stroke }>({
    title: ({ area, stroke }) => `${stroke.mode === 'paint' ? 'Paint' : stroke.mode === 'erase' ? 'Erase' : 'Fill'} ${area}`,
    apply: (job, { area, stroke }) =>
      withAreas(
        job,
        replaceById(job.marks.areas, area, (old) => ({ ...old, strokes: [...old.strokes, stroke] })),
      ),
  }),
  'remove-stroke': command<{ readonly area: string; readonly index: number }>({
    title: ({ area }) => `Remove a stroke of ${area}`,
    apply: (job, { area, index }) =>
      withAreas(
        job,
        replaceById(job.marks.areas, area, (old) => ({ ...old, strokes: withoutAt(old.strokes, index, 'stroke') })),
      ),
  }),
};
