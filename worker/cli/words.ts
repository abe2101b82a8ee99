/*
 * The words of the command line: what each command takes, and the help made from the same table.
 */
import { parseArgs } from 'node:util';
import type { Run } from '../../src/base/run.ts';

export interface CliOption {
  readonly type: 'string' | 'boolean';
  /** What stands after the option in the help, for strings. */
  readonly value?: string;
  readonly help: string;
}

export interface ParsedWords {
  readonly positionals: readonly string[];
  readonly options: Readonly<Record<string, string | boolean | undefined>>;
}

export interface CliAnswer {
  readonly ok: boolean;
  /** The one value of `--json`. */
  readonly json: unknown;
  readonly text: readonly string[];
}

export interface CliCommand {
  readonly name: string;
  readonly positionals: string;
  readonly summary: string;
  readonly options: Readonly<Record<string, CliOption>>;
  readonly run: (words: ParsedWords, run: Run) => Promise<CliAnswer>;
}

/** The maker typed words that no command takes. */
export class WrongWords extends Error {}

const everywhere: Readonly<Record<string, CliOption>> = {
  json: { type: 'boolean', help: 'print one JSON value on standard output and nothing else' },
  help: { type: 'boolean', help: 'show these words' },
};

/** @throws WrongWords */
export function parseWords(command: CliCommand, words: readonly string[]): ParsedWords {
  try {
    const { values, positionals } = parseArgs({
      args: [...words],
      allowPositionals: true,
      strict: true,
      options: Object.fromEntries(
        Object.entries({ ...command.options, ...everywhere }).map(([name, option]) => [name, { type: option.type }]),
      ),
    });
    // Options are declared string or boolean, never repeated.
    return { positionals, options: values };
  } catch (error) {
    throw new WrongWords(error instanceof Error ? error.message : String(error));
  }
}

/** The one positional word. @throws WrongWords */
export function onlyPositional(words: ParsedWords, name: string): string {
  const [only, ...more] = words.positionals;
  if (only === undefined) throw new WrongWords(`${name} is missing`);
  if (more.length > 0) throw new WrongWords(`one ${name} at a time, not ${words.positionals.length}`);
  return only;
}

/** A string option or undefined. */
export function textOption(words: ParsedWords, name: string): string | undefined {
  const value = words.options[name];
  return typeof value === 'string' ? value : undefined;
}

/** Comma-separated numbers of an option. @throws WrongWords */
export function numbersOption(words: ParsedWords, name: string): readonly number[] | undefined {
  const text = textOption(words, name);
  if (text === undefined) return undefined;
  const numbers = text.split(',').map(Number);
  if (numbers.some((value) => !Number.isFinite(value))) throw new WrongWords(`--${name} takes numbers with commas between, not "${text}"`);
  return numbers;
}

/** One of the listed words. @throws WrongWords */
export function choiceOption<T extends string>(words: ParsedWords, name: string, choices: readonly T[]): T | undefined {
  const text = textOption(words, name);
  if (text === undefined) return undefined;
  const choice = choices.find((known) => known === text);
  if (choice === undefined) throw new WrongWords(`--${name} takes one of ${choices.join(', ')}, not "${text}"`);
  return choice;
}

export function usage(commands: readonly CliCommand[]): string {
  const lines = ['Plastron: from a body mesh to flat parts that can be cut.', ''];
  for (const command of commands) {
    lines.push(`plastron ${command.name} ${command.positionals}`.trimEnd(), `    ${command.summary}`);
    for (const [name, option] of Object.entries({ ...command.options, ...everywhere })) {
      const head = `--${name}${option.value === undefined ? '' : ` ${option.value}`}`;
      lines.push(`    ${head.padEnd(26)} ${option.help}`);
    }
    lines.push('');
  }
  return lines.join('\n').trimEnd();
}
