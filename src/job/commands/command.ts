/*
 * The contract of a command: plain data in, a new job out. No inverse exists; undo keeps the old job.
 */
import { Failure } from '../../base/failure.ts';
import type { Job } from '../job.ts';

export interface CommandRecord<Args> {
  /** What the history shows, in the maker's words. */
  readonly title: (args: Args) => string;
  /** @throws a Failure when the command does not fit the job; the job is then unchanged. */
  readonly apply: (job: Job, args: Args) => Job;
}

/** Declares a command with its arguments' type. */
export const command = <Args>(record: CommandRecord<Args>): CommandRecord<Args> => record;

/** Replaces the one item with this id. @throws job/no-such-item */
export function replaceById<T extends { readonly id: string }>(items: readonly T[], id: string, change: (item: T) => T): readonly T[] {
  requireId(items, id);
  return items.map((item) => (item.id === id ? change(item) : item));
}

/** Leaves out the one item with this id. @throws job/no-such-item */
export function withoutId<T extends { readonly id: string }>(items: readonly T[], id: string): readonly T[] {
  requireId(items, id);
  return items.filter((item) => item.id !== id);
}

/** Appends an item whose id must be new. @throws job/repeated-id */
export function withItem<T extends { readonly id: string }>(items: readonly T[], item: T): readonly T[] {
  if (items.some((other) => other.id === item.id))
    throw refuse('job/repeated-id', `"${item.id}" exists already.`, item.id, 'Give it another id.');
  return [...items, item];
}

/** Replaces entry `index`. @throws job/no-such-item */
export function replaceAt<T>(items: readonly T[], index: number, change: (item: T) => T, name: string): readonly T[] {
  requireIndex(items, index, name);
  return items.map((item, i) => (i === index ? change(item) : item));
}

/** Leaves out entry `index`. @throws job/no-such-item */
export function withoutAt<T>(items: readonly T[], index: number, name: string): readonly T[] {
  requireIndex(items, index, name);
  return items.filter((_, i) => i !== index);
}

function requireId(items: readonly { readonly id: string }[], id: string): void {
  if (!items.some((item) => item.id === id))
    throw refuse('job/no-such-item', `There is no "${id}" in this job.`, id, 'It may have been removed: undo, or pick another.');
}

function requireIndex(items: readonly unknown[], index: number, name: string): void {
  if (!(Number.isInteger(index) && index >= 0 && index < items.length))
    throw refuse('job/no-such-item', `There is no ${name} number ${index + 1} (there are ${items.length}).`, name, 'Pick one that exists.');
}

function refuse(code: string, what: string, item: string, mend: string): Failure {
  return new Failure(code, what, { stage: 'job', item }, mend);
}
