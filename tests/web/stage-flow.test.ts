import { describe, expect, it } from 'vitest';
import type { Account } from '../../src/base/failure.ts';
import type { Stages } from '../../web/stage-flow.ts';
import { noStages, stageArrived, stageFailed, stagesHalted, stagesStarted } from '../../web/stage-flow.ts';
import { stageNames } from '../../worker/protocol.ts';

const account: Account = { code: 'patches/not-a-disc', what: 'A part is a ring.', where: {}, mend: 'Draw a seam across it.' };
const statuses = (stages: Stages): string[] => stageNames.map((name) => stages[name].status);

/** All stages ready with a value that tells which it is. */
const ready = stageNames.reduce<Stages>((stages, name) => stageArrived(stages, name, name as never), noStages);

describe('the picture of the stages', () => {
  it('keeps every old value on show while a run is under way [invariant]', () => {
    const started = stagesStarted(ready);
    expect(statuses(started)).toEqual(stageNames.map(() => 'working'));
    for (const name of stageNames) expect(started[name].value).toBe(name);
  });

  it('makes a stage ready alone when its value arrives [invariant]', () => {
    const next = stageArrived(stagesStarted(ready), 'body', 'new' as never);
    expect(statuses(next)).toEqual(['ready', 'working', 'working', 'working', 'working', 'working']);
    expect(next.body.value).toBe('new');
  });

  it('shows nothing behind a stage that failed, and its account [invariant]', () => {
    const failed = stageFailed(stagesStarted(ready), 'draw', account);
    expect(failed.draw).toEqual({ status: 'failed', account });
    expect(failed.body.value).toBe('body');
    for (const name of ['lay-flat', 'draft', 'sheets'] as const) expect(failed[name]).toEqual({ status: 'empty' });
  });

  it('keeps what is ready when the work is stopped, and calls the rest not worked out [invariant]', () => {
    const halted = stagesHalted(stageArrived(stagesStarted(ready), 'body', 'new' as never));
    expect(statuses(halted)).toEqual(['ready', 'empty', 'empty', 'empty', 'empty', 'empty']);
    expect(halted.sheets.value).toBe('sheets');
  });

  it('never changes the picture before [invariant]', () => {
    const before = structuredClone(ready);
    stageFailed(ready, 'body', account);
    stagesStarted(ready);
    expect(ready).toEqual(before);
  });
});
