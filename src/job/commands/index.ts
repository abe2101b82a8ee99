/*
 * The table of commands. Page, worker and journal send `Command` values; the union is derived from the table.
 */
import { Failure } from '../../base/failure.ts';
import type { Job } from '../job.ts';
import { areaCommands } from './area-commands.ts';
import { bodyCommands } from './body-commands.ts';
import type { CommandRecord } from './command.ts';
import { lineCommands } from './line-commands.ts';
import { outputCommands } from './output-commands.ts';

export const commands = { ...areaCommands, ...lineCommands, ...bodyCommands, ...outputCommands };

export type CommandKind = keyof typeof commands;

type ArgsOf<Kind extends CommandKind> = (typeof commands)[Kind] extends CommandRecord<infer Args> ? Args : never;

/** One thing that a maker does to a job: plain data that survives JSON and `structuredClone`. */
export type Command = { readonly [Kind in CommandKind]: { readonly kind: Kind; readonly args: ArgsOf<Kind> } }[CommandKind];

function recordOf(command: Command): CommandRecord<unknown> {
  const record: unknown = Object.hasOwn(commands, command.kind) ? commands[command.kind] : undefined;
  if (record === undefined)
    throw new Failure(
      'job/unknown-command',
      `"${command.kind}" is not a command.`,
      { stage: 'job', item: command.kind },
      'Reload the page: it may be older than the program.',
    );
  // The table pairs each kind with its own argument type; the union lost that pairing.
  return record as CommandRecord<unknown>;
}

/** The job after a command. @throws what the command throws; the given job is never changed. */
export function applyCommand(job: Job, command: Command): Job {
  return recordOf(command).apply(job, command.args);
}

/** The command in the maker's words. */
export function commandTitle(command: Command): string {
  return recordOf(command).title(command.args);
}
