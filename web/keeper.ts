/*
 * Keeps the open job on disk: each command is journalled when the gesture ends, and the whole job is saved within two seconds of a change.
 * Requests go out one after the other. When the server does not answer, the page keeps the job and tries again; when another window saved
 * meanwhile, nothing more is written until the maker has chosen.
 */
import type { Account } from '../src/base/failure.ts';
import { Failure, toAccount } from '../src/base/failure.ts';
import type { Command } from '../src/job/commands/index.ts';
import type { Job } from '../src/job/job.ts';
import type { Store } from './store.ts';

export type KeptState =
  | { readonly kind: 'saved' }
  | { readonly kind: 'changed' }
  | { readonly kind: 'saving' }
  | { readonly kind: 'trouble'; readonly account: Account }
  | { readonly kind: 'conflict'; readonly account: Account };

export interface KeeperOptions {
  readonly store: Pick<Store, 'save' | 'journal' | 'revision'>;
  readonly id: string;
  /** Number of the save that was opened. */
  readonly revision: number;
  readonly readJob: () => Job;
  readonly onState: (state: KeptState) => void;
  /** Quiet time after a change before the whole job is saved, ms. */
  readonly quietMs?: number;
  /** Longest time from a change to its save, ms. */
  readonly longestMs?: number;
  readonly retryMs?: number;
}

export interface Keeper {
  /** A command was performed. */
  readonly note: (command: Command) => void;
  /** The job changed in a way that the journal does not tell (undo, redo): saved at once. */
  readonly noteStep: () => void;
  /** Saves what is not yet saved; resolves when it is, or when it cannot be. */
  readonly flush: () => Promise<void>;
  /** Asks whether another window saved meanwhile. */
  readonly look: () => Promise<void>;
  readonly dispose: () => void;
}

export function createKeeper(options: KeeperOptions): Keeper {
  const { store, id, onState, quietMs = 900, longestMs = 1800, retryMs = 3000 } = options;
  let revision = options.revision;
  let saved = options.readJob();
  let waiting: Command[] = [];
  let isSaveDue = false;
  let isHalted = false;
  let changedAt: number | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let working: Promise<void> | undefined;

  function schedule(ms: number): void {
    clearTimeout(timer);
    timer = setTimeout(() => {
      isSaveDue = true;
      void work();
    }, ms);
  }

  function changed(): void {
    changedAt ??= Date.now();
    onState({ kind: 'changed' });
    schedule(Math.max(0, Math.min(quietMs, changedAt + longestMs - Date.now())));
  }

  /** One worker at a time; a call while it works waits for the same end. */
  function work(): Promise<void> {
    working ??= drain().finally(() => {
      working = undefined;
    });
    return working;
  }

  async function drain(): Promise<void> {
    while (!isHalted && (isSaveDue || waiting.length > 0)) {
      try {
        await (isSaveDue ? saveAll() : journalNext());
      } catch (error) {
        if (!(error instanceof Failure)) throw error;
        stumble(error);
        return;
      }
    }
  }

  async function saveAll(): Promise<void> {
    const job = options.readJob();
    isSaveDue = false;
    waiting = [];
    changedAt = undefined;
    clearTimeout(timer);
    if (job === saved) return onState({ kind: 'saved' });
    onState({ kind: 'saving' });
    try {
      revision = await store.save(id, job, revision);
    } catch (error) {
      isSaveDue = true;
      throw error;
    }
    saved = job;
    if (options.readJob() === job) onState({ kind: 'saved' });
  }

  async function journalNext(): Promise<void> {
    const [command] = waiting;
    await store.journal(id, command, revision);
    // A save that came between has taken the command with it.
    if (waiting[0] === command) waiting = waiting.slice(1);
  }

  function stumble(failure: Failure): void {
    const account = toAccount(failure);
    if (failure.code === 'store/conflict' || failure.code === 'store/no-such-job') {
      isHalted = true;
      clearTimeout(timer);
      onState({ kind: 'conflict', account });
      return;
    }
    onState({ kind: 'trouble', account });
    schedule(retryMs);
  }

  return {
    note: (command) => {
      if (isHalted) return;
      waiting.push(command);
      changed();
      void work();
    },
    noteStep: () => {
      if (isHalted) return;
      changed();
      isSaveDue = true;
      void work();
    },
    flush: async () => {
      if (isHalted || (!isSaveDue && waiting.length === 0 && options.readJob() === saved)) return;
      isSaveDue = true;
      await work();
    },
    look: async () => {
      if (isHalted || working) return;
      try {
        const newest = await store.revision(id);
        if (!working && newest !== revision)
          stumble(
            new Failure(
              'store/conflict',
              'Another window saved this job meanwhile.',
              { stage: 'store', item: id },
              'Take its version, or save yours as a new job.',
            ),
          );
      } catch (error) {
        if (!(error instanceof Failure)) throw error;
        if (error.code === 'store/no-such-job') stumble(error);
      }
    },
    dispose: () => {
      isHalted = true;
      clearTimeout(timer);
    },
  };
}
