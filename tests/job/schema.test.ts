import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { checkJob, newJob } from '../../src/job/schema.ts';
import { smallJob } from '../support/jobs.ts';

const codeOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof Failure) return `${error.code} ${error.where.item ?? ''}`;
    throw error;
  }
  return 'no failure';
};

describe('checkJob', () => {
  it('needs nothing but a body file: everything else has the default of the contract [spec: job file]', () => {
    const { job, findings } = checkJob({ plastron: 1, body: { file: 'body.glb' } });
    expect(findings).toEqual([]);
    expect(job.standoff).toEqual({ clearanceMm: 5, paddingMm: 0, bridgeHollowsMm: 0, ease: [], layers: ['eva-6'] });
    expect(job.flats.method).toBe('shape');
    expect(job.output.formats).toEqual(['svg', 'dxf-r12', 'pdf-tiles', 'build-sheet']);
    expect(job.draft.tracedFace).toBe('inner');
  });

  it('gives back the job that it was given, through JSON [round trip]', () => {
    const job = smallJob();
    expect(checkJob(JSON.parse(JSON.stringify(job))).job).toEqual(job);
  });

  it('reads the example of the contract [spec: job file]', () => {
    const example = {
      plastron: 1,
      name: 'Tide warden, chest',
      date: '2026-11-25',
      body: {
        file: 'body.glb',
        unit: 'mm',
        up: 'y',
        front: 'z',
        wornMm: 0,
        mend: [{ step: 'fill-holes', accept: true, maxMm: 80 }],
        measures: [{ name: 'bust girth', kind: 'girth', points: [[0, 1250, 90]], tapeMm: 946 }],
        mirror: { point: [0, 0, 0], normal: [1, 0, 0], shape: 'as-is' },
      },
      standoff: { clearanceMm: 5, paddingMm: 0, bridgeHollowsMm: 0, ease: [{ measure: 'bust girth', mm: 40 }], layers: ['eva-6'] },
      marks: {
        mirrored: true,
        areas: [
          {
            id: 'breast',
            name: 'Breast',
            layer: 0,
            growMm: 0,
            forming: 'bent',
            strokes: [{ mode: 'paint', points: [[80, 1255, 120]], radiusMm: 90 }],
          },
        ],
        lines: [
          {
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
          },
        ],
        points: [{ id: 'strap-1', kind: 'strap', at: [60, 1340, 60] }],
        names: [{ at: [80, 1300, 110], name: 'Breast, upper' }],
      },
      flats: { method: 'shape' },
      draft: { tracedFace: 'inner', notch: 'tick', sides: [{ area: 'breast', line: 'breast-split', allowanceMm: 0, takeInMm: 0 }] },
      sheets: {
        spacingMm: 3,
        stock: [{ name: 'tile', material: 'eva-6', widthMm: 600, heightMm: 600, count: 8, marginMm: 20, turns: 'any', price: 5 }],
      },
      output: { tool: 'knife', formats: ['svg', 'dxf-r12'], paper: 'a4', printFactor: [1, 1] },
      materials: [],
    };
    const { job, findings } = checkJob(example);
    expect(findings).toEqual([]);
    expect(job).toMatchObject(example);
  });

  it('names a field that it does not know, leaves it out and keeps the rest [invariant]', () => {
    const { job, findings } = checkJob({ ...smallJob(), colour: 'sea', body: { ...smallJob().body, fil: 1 } });
    expect(findings.map((entry) => entry.where.item).sort()).toEqual(['body.fil', 'colour']);
    expect(job).toEqual(smallJob());
  });

  it('refuses a wrong shape and says which field [invariant]', () => {
    expect(codeOf(() => checkJob({ plastron: 1, body: { file: 'a.obj', unit: 'ft' } }))).toBe('job/wrong-shape body.unit');
    expect(codeOf(() => checkJob({ plastron: 1, body: {} }))).toBe('job/wrong-shape body.file');
    expect(codeOf(() => checkJob({ plastron: 1, body: { file: 'a.obj' }, standoff: { clearanceMm: -1 } }))).toBe(
      'job/wrong-shape standoff.clearanceMm',
    );
    expect(
      codeOf(() => checkJob({ plastron: 1, body: { file: 'a.obj' }, marks: { lines: [{ id: 'x', points: [[0, 0, 0]] }] } })),
    ).toContain('job/wrong-shape marks.lines.0.points');
    expect(codeOf(() => checkJob('nonsense'))).toContain('job/wrong-shape');
  });

  it('refuses a later version and a repeated id [invariant]', () => {
    expect(codeOf(() => checkJob({ plastron: 2, body: { file: 'a.obj' } }))).toBe('job/newer plastron');
    const job = smallJob();
    expect(codeOf(() => checkJob({ ...job, marks: { ...job.marks, lines: [...job.marks.lines, ...job.marks.lines] } }))).toBe(
      'job/repeated-id marks.lines: breast-split',
    );
  });

  it('newJob starts from a body file alone [invariant]', () => {
    expect(newJob('A', 'b.obj', '2026-11-25')).toMatchObject({ name: 'A', body: { file: 'b.obj' }, date: '2026-11-25' });
  });
});
