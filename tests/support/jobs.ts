/*
 * Small jobs for tests: valid, and small enough to read.
 */
import type { AreaMark } from '../../src/areas/area.ts';
import type { Job } from '../../src/job/job.ts';
import { newJob } from '../../src/job/schema.ts';
import type { LineMark } from '../../src/lines/line.ts';

export const breast: AreaMark = {
  id: 'breast',
  name: 'Breast',
  layer: 0,
  growMm: 0,
  forming: 'domed',
  strokes: [{ mode: 'paint', points: [[80, 1255, 120]], radiusMm: 90 }],
};

export const split: LineMark = {
  id: 'breast-split',
  kind: 'seam',
  path: 'shortest',
  closed: false,
  mirror: true,
  points: [
    [80, 1330, 110],
    [85, 1250, 150],
    [80, 1190, 120],
  ],
};

/** A job with one area, one line, one fitting and one tape measure. */
export function smallJob(): Job {
  const job = newJob('Tide warden, chest', 'body.obj', '2026-11-25');
  return {
    ...job,
    body: { ...job.body, unit: 'mm', measures: [{ name: 'bust girth', kind: 'girth', points: [[0, 1250, 90]], tapeMm: 946 }] },
    marks: { ...job.marks, areas: [breast], lines: [split], points: [{ id: 'strap-1', kind: 'strap', at: [60, 1340, 60] }] },
  };
}
