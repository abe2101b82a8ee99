import * as fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import type { Command } from '../../src/job/commands/index.ts';
import type { History } from '../../src/job/history.ts';
import { perform, redo, startHistory, undo } from '../../src/job/history.ts';
import type { Asked, Client } from '../../worker/client.ts';
import type { Answers, Ask, AskKind, AskOf } from '../../worker/protocol.ts';
import { createEngine } from '../../web/engine.ts';
import { history, job } from '../../web/state.ts';
import { smallJob } from '../support/jobs.ts';

type WithoutId<T> = T extends Ask ? Omit<T, 'id'> : never;
type AskBody = WithoutId<Ask>;

/** A worker of which only the replica is real; it may be struck down at any time. */
function fakeClient(): Client & { readonly replica: () => History | undefined; readonly sent: AskKind[]; strike: () => void } {
  let replica: History | undefined;
  let id = 0;
  const sent: AskKind[] = [];
  const step = (revision: number, change: (old: History) => History): unknown => {
    if (!replica) throw new Failure('worker/no-job', 'No job.', {}, 'Open it.');
    if (replica.revision !== revision) throw new Failure('worker/out-of-step', 'Out of step.', {}, 'Send again.');
    replica = change(replica);
    return { revision: replica.revision };
  };
  function answer(ask: AskBody): unknown {
    sent.push(ask.kind);
    switch (ask.kind) {
      case 'open':
        replica = startHistory(ask.job);
        return { revision: 0, findings: [] };
      case 'command':
        return step(ask.revision, (old) => perform(old, ask.command));
      case 'undo':
        return step(ask.revision, undo);
      case 'redo':
        return step(ask.revision, redo);
      case 'run':
        if (!replica) throw new Failure('worker/no-job', 'No job.', {}, 'Open it.');
        return { findings: [], standoff: [] };
      default:
        return {};
    }
  }
  return {
    sent,
    replica: () => replica,
    strike: () => {
      replica = undefined;
    },
    ask: <Kind extends AskKind>(ask: AskOf<Kind>): Asked<Kind> => {
      let done: Promise<Answers[Kind]>;
      try {
        done = Promise.resolve(answer(ask as unknown as AskBody) as Answers[Kind]);
      } catch (error) {
        done = Promise.reject(error instanceof Error ? error : new Error(String(error)));
      }
      return { id: ++id, done, stop: () => undefined };
    },
    respawn: () => {
      replica = undefined;
    },
    dispose: () => undefined,
  };
}

const file = { name: 'body.obj', bytes: new Uint8Array([1]) };
const rename = (name: string): Command => ({ kind: 'rename-job', args: { name } });
const breathe = async (): Promise<void> => {
  for (let i = 0; i < 6; i++) await Promise.resolve();
};

type Deed = 'perform' | 'undo' | 'redo' | 'back' | 'strike';

afterEach(() => {
  history.value = undefined;
});

describe('createEngine', () => {
  it('keeps the worker’s replica equal to the page after any commands, undos, redos and losses of the worker [invariant]', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom<Deed>('perform', 'perform', 'undo', 'redo', 'back', 'strike'), { maxLength: 30 }),
        async (deeds) => {
          const client = fakeClient();
          const engine = createEngine(client, (account) => expect(account.code).toBe('never'));
          engine.open(smallJob(), file);
          let count = 0;
          for (const deed of deeds) {
            const { past, future } = history.value ?? { past: [], future: [] };
            if (deed === 'perform') engine.perform(rename(`name ${++count}`));
            else if (deed === 'undo' && past.length > 0) engine.undo();
            else if (deed === 'redo' && future.length > 0) engine.redo();
            else if (deed === 'back' && past.length > 1) engine.goBack(2);
            else if (deed === 'strike') client.strike();
            await breathe();
          }
          // Whatever was lost, the next run finds the worker with the page's job.
          engine.run();
          await breathe();
          engine.run();
          await breathe();
          expect(client.replica()?.present.job).toEqual(job.value);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('sends a stroke as its command alone: the job crosses once [invariant]', async () => {
    const client = fakeClient();
    const engine = createEngine(client, () => undefined);
    engine.open(smallJob(), file);
    await breathe();
    engine.perform(rename('a'));
    engine.perform(rename('b'));
    engine.undo();
    engine.redo();
    await breathe();
    expect(client.sent.filter((kind) => kind === 'open').length).toBe(1);
    expect(client.sent.filter((kind) => kind === 'command').length).toBe(2);
  });

  it('leaves everything as it was when a command is refused [invariant]', () => {
    const client = fakeClient();
    const engine = createEngine(client, () => undefined);
    engine.open(smallJob(), file);
    const before = history.value;
    expect(() => engine.perform({ kind: 'remove-line', args: { id: 'nothing' } })).toThrow(/job\/no-such-item/);
    expect(history.value).toBe(before);
    expect(client.sent).not.toContain('command');
  });
});
