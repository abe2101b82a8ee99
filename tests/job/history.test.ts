import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { createRandom } from '../../src/base/random.ts';
import type { Command } from '../../src/job/commands/index.ts';
import { applyCommand, commands, commandTitle } from '../../src/job/commands/index.ts';
import type { History } from '../../src/job/history.ts';
import { historyLimit, perform, redo, startHistory, undo } from '../../src/job/history.ts';
import { checkJob } from '../../src/job/schema.ts';
import { breast, smallJob, split } from '../support/jobs.ts';

/** One command of every kind that fits the small job. */
const samples: readonly Command[] = [
  { kind: 'add-area', args: { area: { ...breast, id: 'side', name: 'Side' } } },
  { kind: 'change-area', args: { id: 'breast', change: { growMm: 4 } } },
  { kind: 'remove-area', args: { id: 'breast' } },
  { kind: 'add-stroke', args: { area: 'breast', stroke: { mode: 'erase', points: [[80, 1200, 120]], radiusMm: 20 } } },
  { kind: 'remove-stroke', args: { area: 'breast', index: 0 } },
  { kind: 'add-line', args: { line: { ...split, id: 'other' } } },
  {
    kind: 'add-lines',
    args: {
      lines: [
        { ...split, id: 'other' },
        { ...split, id: 'third' },
      ],
    },
  },
  { kind: 'change-line', args: { id: 'breast-split', change: { kind: 'dart' } } },
  { kind: 'remove-line', args: { id: 'breast-split' } },
  { kind: 'move-line-point', args: { line: 'breast-split', index: 1, to: [84, 1251, 149] } },
  { kind: 'insert-line-point', args: { line: 'breast-split', index: 1, at: [82, 1290, 130] } },
  { kind: 'remove-line-point', args: { line: 'breast-split', index: 1 } },
  { kind: 'add-fitting', args: { point: { id: 'strap-2', kind: 'snap', at: [0, 1, 2] } } },
  { kind: 'change-fitting', args: { id: 'strap-1', change: { kind: 'buckle' } } },
  { kind: 'remove-fitting', args: { id: 'strap-1' } },
  { kind: 'name-part', args: { at: [80, 1300, 110], name: 'Breast, upper' } },
  { kind: 'set-mirrored', args: { mirrored: false } },
  { kind: 'set-body', args: { change: { wornMm: 2 } } },
  { kind: 'set-scale', args: { unit: 'cm', factor: 10 } },
  { kind: 'set-mend-step', args: { step: { step: 'fill-holes', accept: false } } },
  { kind: 'add-measure', args: { measure: { name: 'waist', kind: 'girth', points: [[0, 1050, 80]], tapeMm: 740 } } },
  { kind: 'change-measure', args: { index: 0, change: { tapeMm: 950 } } },
  { kind: 'remove-measure', args: { index: 0 } },
  { kind: 'set-standoff', args: { change: { clearanceMm: 8 } } },
  { kind: 'rename-job', args: { name: 'Second warden' } },
  { kind: 'set-method', args: { method: 'least-worst' } },
  { kind: 'set-draft', args: { change: { notch: 'v' } } },
  { kind: 'set-side', args: { side: { area: 'breast', line: 'breast-split', allowanceMm: 10, takeInMm: 2 } } },
  {
    kind: 'add-stock',
    args: { stock: { name: 'tile', material: 'eva-6', widthMm: 600, heightMm: 600, count: 8, marginMm: 20, turns: 'any' } },
  },
  { kind: 'set-sheets', args: { change: { spacingMm: 4 } } },
  { kind: 'set-output', args: { change: { paper: 'a3' } } },
];

describe('commands', () => {
  it('keep a job valid and leave the given one untouched [invariant]', () => {
    for (const command of samples) {
      const before = smallJob();
      const copy = structuredClone(before);
      const after = applyCommand(before, command);
      expect(before, command.kind).toEqual(copy);
      expect(after, command.kind).not.toEqual(before);
      expect(checkJob(JSON.parse(JSON.stringify(after))).job, command.kind).toEqual(after);
    }
  });

  it('are all tried here, and survive JSON and structuredClone [round trip]', () => {
    const untried = Object.keys(commands).filter((kind) => !samples.some((command) => command.kind === kind));
    expect(untried.sort()).toEqual(['change-stock', 'remove-material', 'remove-stock', 'set-material']);
    for (const command of samples) {
      expect(JSON.parse(JSON.stringify(command))).toEqual(command);
      expect(commandTitle(structuredClone(command)).length).toBeGreaterThan(3);
    }
  });

  it('rescaling moves every stored point and brush with the body [invariant]', () => {
    const job = applyCommand(smallJob(), { kind: 'set-scale', args: { unit: 'cm', factor: 10 } });
    expect(job.body.unit).toBe('cm');
    expect(job.marks.lines[0].points[0]).toEqual([800, 13300, 1100]);
    expect(job.marks.areas[0].strokes[0]).toEqual({ mode: 'paint', points: [[800, 12550, 1200]], radiusMm: 900 });
    expect(job.marks.points[0].at).toEqual([600, 13400, 600]);
    expect(job.body.measures[0].points[0]).toEqual([0, 12500, 900]);
    expect(job.body.measures[0].tapeMm).toBe(946);
  });

  it('refuse what does not fit, by name [invariant]', () => {
    const refused = (command: Command): string => {
      try {
        applyCommand(smallJob(), command);
      } catch (error) {
        if (error instanceof Failure) return error.code;
      }
      return 'no failure';
    };
    expect(refused({ kind: 'remove-area', args: { id: 'nowhere' } })).toBe('job/no-such-item');
    expect(refused({ kind: 'add-area', args: { area: breast } })).toBe('job/repeated-id');
    expect(refused({ kind: 'move-line-point', args: { line: 'breast-split', index: 3, to: [0, 0, 0] } })).toBe('job/no-such-item');
    expect(refused({ kind: 'toString' } as unknown as Command)).toBe('job/unknown-command');
  });
});

describe('history', () => {
  it('undo and redo walk over the very same jobs [invariant]', () => {
    const random = createRandom(7);
    let history = startHistory(smallJob());
    const jobs = [history.present.job];
    for (let i = 0; i < 40; i++) {
      const command = samples[Math.floor(random() * samples.length)];
      try {
        history = perform(history, command);
        jobs.push(history.present.job);
      } catch (error) {
        expect(error).toBeInstanceOf(Failure);
      }
    }
    let back: History = history;
    for (let i = jobs.length - 2; i >= 0; i--) {
      back = undo(back);
      expect(back.present.job).toBe(jobs[i]);
    }
    for (let i = 1; i < jobs.length; i++) {
      back = redo(back);
      expect(back.present.job).toBe(jobs[i]);
    }
    expect(back.revision).toBe(history.revision + 2 * (jobs.length - 1));
  });

  it('a new command forgets the redone future; an empty side refuses [invariant]', () => {
    const first = perform(startHistory(smallJob()), samples[0]);
    const second = perform(undo(first), samples[4]);
    expect(second.future).toEqual([]);
    expect(() => redo(second)).toThrow(/nothing-to-redo/);
    expect(() => undo(startHistory(smallJob()))).toThrow(/nothing-to-undo/);
  });

  it(`keeps ${historyLimit} steps [invariant]`, () => {
    let history = startHistory(smallJob());
    for (let i = 0; i < historyLimit + 10; i++) history = perform(history, { kind: 'rename-job', args: { name: `Job ${i}` } });
    expect(history.past.length).toBe(historyLimit);
  });
});
