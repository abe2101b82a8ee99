import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import type { Command } from '../../src/job/commands/index.ts';
import type { Job } from '../../src/job/job.ts';
import { newJob } from '../../src/job/schema.ts';
import type { Keeper, KeptState } from '../../web/keeper.ts';
import { createKeeper } from '../../web/keeper.ts';

const command: Command = { kind: 'set-mirrored', args: { mirrored: false } };

/** A store that counts saves as the real one does, and writes down what it was asked. */
function fakeStore(): {
  log: string[];
  revision: number;
  fail: Failure | undefined;
  journal: (id: string, command: Command, revision: number) => Promise<void>;
  save: (id: string, job: Job, revision: number) => Promise<number>;
  readRevision: () => number;
} {
  const store = {
    log: [] as string[],
    revision: 1,
    fail: undefined as Failure | undefined,
    check(basedOn: number): void {
      if (store.fail) throw store.fail;
      if (basedOn !== store.revision) throw new Failure('store/conflict', 'Another window saved.', {}, 'Choose.');
    },
    journal: async (_id: string, { kind }: Command, revision: number): Promise<void> => {
      await Promise.resolve();
      store.check(revision);
      store.log.push(`journal ${kind} on ${revision}`);
    },
    save: async (_id: string, job: Job, revision: number): Promise<number> => {
      await Promise.resolve();
      store.check(revision);
      store.log.push(`save ${job.name} on ${revision}`);
      return ++store.revision;
    },
    readRevision: (): number => store.revision,
  };
  return store;
}

let store: ReturnType<typeof fakeStore>;
let job: Job;
let states: KeptState[];
let keeper: Keeper;

beforeEach(() => {
  vi.useFakeTimers();
  store = fakeStore();
  job = newJob('a', 'body.obj', '2026-11-25');
  states = [];
  keeper = createKeeper({
    store: { save: store.save, journal: store.journal, revision: async () => store.readRevision() },
    id: 'job',
    revision: 1,
    readJob: () => job,
    onState: (state) => states.push(state),
  });
});

afterEach(() => {
  keeper.dispose();
  vi.useRealTimers();
});

const change = (name: string): void => {
  job = { ...job, name };
  keeper.note(command);
};

describe('createKeeper', () => {
  it('journals a command at once and saves the job within two seconds [issue: jobs are never lost]', async () => {
    change('b');
    await vi.advanceTimersByTimeAsync(0);
    expect(store.log).toEqual(['journal set-mirrored on 1']);
    await vi.advanceTimersByTimeAsync(2000);
    expect(store.log).toEqual(['journal set-mirrored on 1', 'save b on 1']);
    expect(states.at(-1)).toEqual({ kind: 'saved' });
  });

  it('saves within two seconds even when changes never pause [issue: jobs are never lost]', async () => {
    for (let i = 0; i < 10; i++) {
      change(`b${i}`);
      await vi.advanceTimersByTimeAsync(300);
    }
    expect(store.log.filter((line) => line.startsWith('save')).length).toBeGreaterThan(0);
  });

  it('saves an undo at once: the journal alone would bring the undone command back [invariant]', async () => {
    change('b');
    await vi.advanceTimersByTimeAsync(0);
    job = { ...job, name: 'a' };
    keeper.noteStep();
    await vi.advanceTimersByTimeAsync(0);
    expect(store.log.at(-1)).toBe('save a on 1');
  });

  it('numbers commands by the save that they follow [contract of the store]', async () => {
    change('b');
    await vi.advanceTimersByTimeAsync(2000);
    change('c');
    await vi.advanceTimersByTimeAsync(0);
    expect(store.log.at(-1)).toBe('journal set-mirrored on 2');
  });

  it('keeps the job and tries again when the server does not answer [invariant]', async () => {
    store.fail = new Failure('page/no-server', 'No answer.', {}, 'Start it.');
    change('b');
    await vi.advanceTimersByTimeAsync(10);
    expect(states.at(-1)?.kind).toBe('trouble');
    store.fail = undefined;
    await vi.advanceTimersByTimeAsync(4000);
    expect(store.log).toEqual(['save b on 1']);
    expect(states.at(-1)).toEqual({ kind: 'saved' });
  });

  it('writes nothing more once another window has saved [issue: never overwrite silently]', async () => {
    store.revision = 5;
    change('b');
    await vi.advanceTimersByTimeAsync(10);
    expect(states.at(-1)?.kind).toBe('conflict');
    change('c');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(store.log).toEqual([]);
  });

  it('notices another window without having anything to save [issue: two windows notice each other]', async () => {
    store.revision = 2;
    await keeper.look();
    expect(states.at(-1)?.kind).toBe('conflict');
  });

  it('says saved only when nothing newer waits [invariant]', async () => {
    change('b');
    await vi.advanceTimersByTimeAsync(899);
    await vi.advanceTimersByTimeAsync(1);
    const saving = states.filter(({ kind }) => kind === 'saved').length;
    change('c');
    expect(states.at(-1)?.kind).toBe('changed');
    expect(saving).toBeLessThanOrEqual(1);
  });

  it('flushes what waits, and nothing when nothing waits [invariant]', async () => {
    await keeper.flush();
    expect(store.log).toEqual([]);
    change('b');
    await keeper.flush();
    expect(store.log.at(-1)).toBe('save b on 1');
  });
});
