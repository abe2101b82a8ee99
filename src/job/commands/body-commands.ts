/*
 * The body: unit, scale, axes, mending, tape measures, plane of symmetry; and the clearance over it.
 */
import type { Vec3 } from '../../base/arrays.ts';
import type { BodySettings, MeasureMark, MendStep } from '../../body/settings.ts';
import type { StandoffSettings } from '../../standoff/settings.ts';
import type { Job } from '../job.ts';
import { command, replaceAt, withoutAt } from './command.ts';

const withBody = (job: Job, change: Partial<BodySettings>): Job => ({ ...job, body: { ...job.body, ...change } });

/** Every stored point and length-free place times a factor: a change of unit or scale moves the marks with the body. */
function rescaled(job: Job, factor: number): Job {
  const move = (p: Vec3): Vec3 => [p[0] * factor, p[1] * factor, p[2] * factor];
  const plane = <T extends { readonly point: Vec3 }>(old: T): T => ({ ...old, point: move(old.point) });
  return {
    ...job,
    body: {
      ...job.body,
      measures: job.body.measures.map((measure) => ({ ...measure, points: measure.points.map(move) })),
      mend: job.body.mend.map((step) => (step.plane ? { ...step, plane: plane(step.plane) } : step)),
      ...(job.body.mirror ? { mirror: plane(job.body.mirror) } : {}),
    },
    marks: {
      ...job.marks,
      areas: job.marks.areas.map((area) => ({
        ...area,
        strokes: area.strokes.map((stroke) => ({ ...stroke, points: stroke.points.map(move), radiusMm: stroke.radiusMm * factor })),
      })),
      lines: job.marks.lines.map((line) => ({ ...line, points: line.points.map(move) })),
      points: job.marks.points.map((point) => ({ ...point, at: move(point.at) })),
      names: job.marks.names.map((name) => ({ ...name, at: move(name.at) })),
    },
  };
}

export const bodyCommands = {
  'set-body': command<{ readonly change: Partial<Omit<BodySettings, 'unit' | 'scale'>> }>({
    title: ({ change }) => `Set ${Object.keys(change).join(', ')} of the body`,
    apply: (job, { change }) => withBody(job, change),
  }),
  /** `factor` = new size / old size of the body in mm; marks follow in the same step. */
  'set-scale': command<{ readonly unit?: BodySettings['unit']; readonly scale?: number; readonly factor: number }>({
    title: ({ unit, scale }) => (unit === undefined ? `Scale the body by ${scale ?? 1}` : `Read the body in ${unit}`),
    apply: (job, { unit, scale, factor }) =>
      withBody(rescaled(job, factor), { ...(unit === undefined ? {} : { unit }), ...(scale === undefined ? {} : { scale }) }),
  }),
  'set-mend-step': command<{ readonly step: MendStep }>({
    title: ({ step }) => `${step.accept ? 'Do' : 'Leave out'} ${step.step}`,
    apply: (job, { step }) => {
      const known = job.body.mend.some((old) => old.step === step.step);
      return withBody(job, { mend: known ? job.body.mend.map((old) => (old.step === step.step ? step : old)) : [...job.body.mend, step] });
    },
  }),
  'add-measure': command<{ readonly measure: MeasureMark }>({
    title: ({ measure }) => `Tape ${measure.name}`,
    apply: (job, { measure }) => withBody(job, { measures: [...job.body.measures, measure] }),
  }),
  'change-measure': command<{ readonly index: number; readonly change: Partial<MeasureMark> }>({
    title: () => 'Change a tape measure',
    apply: (job, { index, change }) =>
      withBody(job, { measures: replaceAt(job.body.measures, index, (old) => ({ ...old, ...change }), 'tape measure') }),
  }),
  'remove-measure': command<{ readonly index: number }>({
    title: () => 'Remove a tape measure',
    apply: (job, { index }) => withBody(job, { measures: withoutAt(job.body.measures, index, 'tape measure') }),
  }),
  'set-standoff': command<{ readonly change: Partial<StandoffSettings> }>({
    title: ({ change }) => `Set ${Object.keys(change).join(', ')} of the clearance`,
    apply: (job, { change }) => ({ ...job, standoff: { ...job.standoff, ...change } }),
  }),
};
