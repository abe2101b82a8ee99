/*
 * The page's side of the worker: numbered asks, promises, progress, stop, and a fresh worker when one must be ended.
 * An ask that was stopped or superseded rejects with run/stopped; tells with unknown numbers are dropped.
 */
import type { Account } from '../src/base/failure.ts';
import { Failure, fromAccount } from '../src/base/failure.ts';
import type { Answers, Ask, AskKind, AskOf, Tell } from './protocol.ts';
import { transferables } from './transfer.ts';

/** What a Worker must be able to do; tests bind a host to it directly. */
export interface WorkerLike {
  postMessage(message: unknown, transfer?: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: { data: Tell }) => void) | null;
  onerror: ((event: { message?: string }) => void) | null;
}

export type StageTell = Extract<Tell, { kind: 'stage' | 'stage-failed' }>;

export interface AskOptions {
  readonly onProgress?: (stage: string, fraction: number) => void;
  readonly onStage?: (tell: StageTell) => void;
}

/** A running ask: its promise and its stop. */
export interface Asked<Kind extends AskKind> {
  readonly id: number;
  readonly done: Promise<Answers[Kind]>;
  readonly stop: () => void;
}

export interface Client {
  readonly ask: <Kind extends AskKind>(ask: AskOf<Kind>, options?: AskOptions) => Asked<Kind>;
  /** Ends the worker whatever it is doing; every open ask fails with run/stopped. The next ask starts a fresh one (open the job again first). */
  readonly respawn: () => void;
  readonly dispose: () => void;
}

interface Waiting {
  readonly resolve: (answer: unknown) => void;
  readonly reject: (failure: Failure) => void;
  readonly options: AskOptions;
}

/**
 * @param makeWorker starts a worker; called at once and again after `respawn` or a crash
 * @param onCrash told when the worker died by itself (out of memory, a fault of ours)
 */
export function createClient(makeWorker: () => WorkerLike, onCrash?: (account: Account) => void): Client {
  let next = 1;
  let worker = start();
  const waiting = new Map<number, Waiting>();

  function start(): WorkerLike {
    const fresh = makeWorker();
    fresh.onmessage = (event) => receive(event.data);
    fresh.onerror = (event) => {
      const crash = new Failure(
        'worker/crashed',
        `The worker broke down: ${event.message ?? 'no reason given'}.`,
        { stage: 'worker' },
        'Your job is safe. Try again; if it happens once more, use a smaller scan detail.',
      );
      restart(crash);
      onCrash?.(crash);
    };
    return fresh;
  }

  function receive(tell: Tell): void {
    const entry = waiting.get(tell.id);
    if (!entry) return;
    switch (tell.kind) {
      case 'progress':
        entry.options.onProgress?.(tell.stage, tell.fraction);
        return;
      case 'stage':
      case 'stage-failed':
        entry.options.onStage?.(tell);
        return;
      case 'done':
        waiting.delete(tell.id);
        entry.resolve(tell.answer);
        return;
      case 'failed':
        waiting.delete(tell.id);
        entry.reject(fromAccount(tell.account));
        return;
      default:
        tell satisfies never;
    }
  }

  function restart(reason: Failure): void {
    worker.onmessage = null;
    worker.onerror = null;
    worker.terminate();
    const open = [...waiting.values()];
    waiting.clear();
    worker = start();
    for (const entry of open) entry.reject(reason);
  }

  const stopped = (): Failure =>
    new Failure('run/stopped', 'The work was stopped.', {}, 'Start it again when you are ready; nothing was lost.');

  return {
    ask: <Kind extends AskKind>(ask: AskOf<Kind>, options: AskOptions = {}): Asked<Kind> => {
      const id = next++;
      const done = new Promise<Answers[Kind]>((resolve, reject) => {
        // The host answers an ask of kind K with Answers[K]; the map of waiting asks cannot say so.
        waiting.set(id, { resolve: resolve as (answer: unknown) => void, reject, options });
      });
      // Spreading a generic member of the union loses its kind for the compiler.
      const message = { ...ask, id } as unknown as Ask;
      worker.postMessage(message, transferables(message));
      return { id, done, stop: () => worker.postMessage({ id: next++, kind: 'cancel', target: id } satisfies Ask) };
    },
    respawn: () => restart(stopped()),
    dispose: () => {
      restart(stopped());
      worker.terminate();
    },
  };
}
