/*
 * Drawing: lines and their points, fittings, names, and the mirror switch.
 */
import type { Vec3 } from '../../base/arrays.ts';
import { Failure } from '../../base/failure.ts';
import type { LineMark, PointMark } from '../../lines/line.ts';
import type { Job } from '../job.ts';
import { command, replaceAt, replaceById, withItem, withoutAt, withoutId } from './command.ts';

const withLines = (job: Job, lines: readonly LineMark[]): Job => ({ ...job, marks: { ...job.marks, lines } });
const withFittings = (job: Job, points: readonly PointMark[]): Job => ({ ...job, marks: { ...job.marks, points } });

const kindTitle = { seam: 'seam', dart: 'dart', opening: 'opening', drawn: 'drawn line', reference: 'reference line' } as const;

export const lineCommands = {
  'add-line': command<{ readonly line: LineMark }>({
    title: ({ line }) => `Draw ${kindTitle[line.kind]} ${line.id}`,
    apply: (job, { line }) => withLines(job, withItem(job.marks.lines, line)),
  }),
  'add-lines': command<{ readonly lines: readonly LineMark[] }>({
    title: ({ lines }) => `Take ${lines.length === 1 ? 'a proposed line' : `${lines.length} proposed lines`}`,
    apply: (job, { lines }) => withLines(job, lines.reduce(withItem, job.marks.lines)),
  }),
  'change-line': command<{ readonly id: string; readonly change: Partial<Omit<LineMark, 'id' | 'points'>> }>({
    title: ({ id }) => `Change line ${id}`,
    apply: (job, { id, change }) =>
      withLines(
        job,
        replaceById(job.marks.lines, id, (line) => ({ ...line, ...change })),
      ),
  }),
  'remove-line': command<{ readonly id: string }>({
    title: ({ id }) => `Remove line ${id}`,
    apply: (job, { id }) => withLines(job, withoutId(job.marks.lines, id)),
  }),
  'move-line-point': command<{ readonly line: string; readonly index: number; readonly to: Vec3 }>({
    title: ({ line }) => `Move a point of ${line}`,
    apply: (job, { line, index, to }) =>
      withLines(
        job,
        replaceById(job.marks.lines, line, (old) => ({ ...old, points: replaceAt(old.points, index, () => to, 'point') })),
      ),
  }),
  'insert-line-point': command<{ readonly line: string; readonly index: number; readonly at: Vec3 }>({
    title: ({ line }) => `Insert a point into ${line}`,
    apply: (job, { line, index, at }) =>
      withLines(
        job,
        replaceById(job.marks.lines, line, (old) => ({ ...old, points: [...old.points.slice(0, index), at, ...old.points.slice(index)] })),
      ),
  }),
  'remove-line-point': command<{ readonly line: string; readonly index: number }>({
    title: ({ line }) => `Remove a point of ${line}`,
    apply: (job, { line, index }) =>
      withLines(
        job,
        replaceById(job.marks.lines, line, (old) => {
          if (old.points.length <= 2)
            throw new Failure(
              'job/line-too-short',
              `"${line}" has only ${old.points.length} points; a line needs two.`,
              { stage: 'job', item: line },
              'Remove the whole line instead.',
            );
          return { ...old, points: withoutAt(old.points, index, 'point') };
        }),
      ),
  }),
  'add-fitting': command<{ readonly point: PointMark }>({
    title: ({ point }) => `Place ${point.kind} ${point.id}`,
    apply: (job, { point }) => withFittings(job, withItem(job.marks.points, point)),
  }),
  'change-fitting': command<{ readonly id: string; readonly change: Partial<Omit<PointMark, 'id'>> }>({
    title: ({ id }) => `Change fitting ${id}`,
    apply: (job, { id, change }) =>
      withFittings(
        job,
        replaceById(job.marks.points, id, (point) => ({ ...point, ...change })),
      ),
  }),
  'remove-fitting': command<{ readonly id: string }>({
    title: ({ id }) => `Remove fitting ${id}`,
    apply: (job, { id }) => withFittings(job, withoutId(job.marks.points, id)),
  }),
  'name-part': command<{ readonly at: Vec3; readonly name: string; readonly index?: number }>({
    title: ({ name }) => `Name a part ${name}`,
    apply: (job, { at, name, index }) => {
      const names =
        index === undefined ? [...job.marks.names, { at, name }] : replaceAt(job.marks.names, index, () => ({ at, name }), 'name');
      return { ...job, marks: { ...job.marks, names } };
    },
  }),
  'set-mirrored': command<{ readonly mirrored: boolean }>({
    title: ({ mirrored }) => `Mirror ${mirrored ? 'on' : 'off'}`,
    apply: (job, { mirrored }) => ({ ...job, marks: { ...job.marks, mirrored } }),
  }),
};
