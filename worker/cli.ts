/*
 * The command line: words in, one call into `src`, an answer out. With `--json` exactly one value goes to standard output;
 * progress and talk go to standard error. Exit: 0 done, 1 a Failure or something refused, 2 wrong words, 70 our own fault, 130 stopped.
 */
import { Failure, toAccount } from '../src/base/failure.ts';
import type { CliCommand } from './cli/words.ts';
import { parseWords, usage, WrongWords } from './cli/words.ts';
import { createTerminalRun } from './cli/terminal-run.ts';

/** Each command is loaded when it is called: `inspect` need not wait for the server. */
const commands: Readonly<Record<string, () => Promise<CliCommand>>> = {
  inspect: async () => (await import('./cli/inspect.ts')).inspectCommand,
  flatten: async () => (await import('./cli/flatten.ts')).flattenCommand,
  make: async () => (await import('./cli/make.ts')).makeCommand,
  pack: async () => (await import('./cli/pack.ts')).packCommand,
  serve: async () => (await import('./cli/serve.ts')).serveCommand,
};

const allCommands = (): Promise<CliCommand[]> => Promise.all(Object.values(commands).map((load) => load()));

async function main(words: readonly string[]): Promise<number> {
  const [name, ...rest] = words;
  const load = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!load) {
    const wantsHelp = name === undefined || name === 'help' || name === '--help' || name === '-h';
    const text = usage(await allCommands());
    if (wantsHelp) console.log(text);
    else console.error(`plastron: there is no command "${name}".\n\n${text}`);
    return wantsHelp ? 0 : 2;
  }
  const command = await load();
  const isJson = rest.includes('--json');
  const print = (value: unknown): void => console.log(JSON.stringify(value, undefined, 1));
  try {
    const parsed = parseWords(command, rest);
    if (parsed.options.help === true) {
      console.log(usage([command]));
      return 0;
    }
    const answer = await command.run(parsed, createTerminalRun(!isJson));
    if (isJson) print(answer.json);
    else for (const line of answer.text) console.log(line);
    return answer.ok ? 0 : 1;
  } catch (error) {
    const failure = asFailure(error);
    const failures = [toAccount(failure)];
    if (isJson) print({ plastron: 1, kind: command.name === 'make' ? 'report' : command.name, ok: false, failures });
    else console.error(`plastron ${command.name}: ${failure.what}\n  ${failure.mend}${placeOf(failure)}`);
    if (error instanceof WrongWords) return 2;
    if (failure.code === 'run/stopped') return 130;
    if (error instanceof Failure) return 1;
    if (!isJson) console.error(error);
    return 70;
  }
}

function placeOf({ where, code }: Failure): string {
  const place = Object.entries(where).map(([key, value]) => `${key} ${String(value)}`);
  return `\n  (${[code, ...place].join(', ')})`;
}

function asFailure(error: unknown): Failure {
  if (error instanceof Failure) return error;
  if (error instanceof WrongWords)
    return new Failure('cli/wrong-words', error.message, {}, 'Run plastron help to see the words of each command.');
  const text = error instanceof Error ? error.message : String(error);
  return new Failure('cli/fault', `Plastron made a mistake: ${text}.`, {}, 'Please report this with the file.', error);
}

process.exitCode = await main(process.argv.slice(2));
