/*
 * Undo is keeping the old value. A job holds points only and shares structure with its past, so a step costs what it changed.
 */
import { Failure } from '../base/failure.ts';
import type { Command } from './commands/index.ts';
import { applyCommand, commandTitle } from './commands/index.ts';
import type { Job } from './job.ts';

export interface HistoryEntry {
  /** What led to this job. */
  readonly title: string;
  readonly job: Job;
}

export interface History {
  /** Oldest first. */
  readonly past: readonly HistoryEntry[];
  readonly present: HistoryEntry;
  /** Next redo first. */
  readonly future: readonly HistoryEntry[];
  /** Counts every change, undo and redo: page and worker compare it. */
  readonly revision: number;
}

/** Steps that are kept; older ones are forgotten (the store on disk keeps versions). */
export const historyLimit = 200;

export function startHistory(job: Job, title = 'Open'): History {
  return { past: [], present: { title, job }, future: [], revision: 0 };
}

/** @throws what the command throws; history is then as it was. */
export function perform(history: History, command: Command): History {
  const job = applyCommand(history.present.job, command);
  const past = [...history.past, history.present].slice(-historyLimit);
  return { past, present: { title: commandTitle(command), job }, future: [], revision: history.revision + 1 };
}

/** @throws job/nothing-to-undo */
export function undo(history: History): History {
  const previous = history.past.at(-1);
  if (!previous) throw new Failure('job/nothing-to-undo', 'There is nothing to undo.', { stage: 'job' }, 'This is how the job was opened.');
  return {
    past: history.past.slice(0, -1),
    present: previous,
    future: [history.present, ...history.future],
    revision: history.revision + 1,
  };
}

/** @throws job/nothing-to-redo */
export function redo(history: History): History {
  const next = history.future[0];
  if (!next) throw new Failure('job/nothing-to-redo', 'There is nothing to redo.', { stage: 'job' }, 'This is the newest state.');
  return { past: [...history.past, history.present], present: next, future: history.future.slice(1), revision: history.revision + 1 };
}
