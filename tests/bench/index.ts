/*
 * `npm run bench`: how fast and how good, beside programs that are not ours where they are installed. Not a test: nothing here passes or fails.
 *   flatten FILE.obj… [--method M] [--repeat N]    nest INSTANCE.json… [--seconds N] [--seed N]    read FILE…    marks FILE.obj…
 * Without files each measures generated input; without words all of them run. `--json` prints one JSON value.
 */
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import type { MethodName } from '../../src/flatten/flatten-method.ts';
import { methodOf } from '../../src/flatten/index.ts';
import { benchFlatten } from './flatten.ts';
import { benchMarks } from './marks.ts';
import { benchNest, randomInstance } from './nest.ts';
import { benchRead } from './read.ts';
import type { BenchRow } from './bench-row.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    json: { type: 'boolean' },
    method: { type: 'string' },
    repeat: { type: 'string' },
    seconds: { type: 'string' },
    seed: { type: 'string' },
  },
});
const [word, ...files] = positionals;
const machine = { cpu: cpus()[0]?.model ?? 'unknown', node: process.version };
const repeat = Number(values.repeat ?? 5);

const benches: Readonly<Record<string, () => Promise<object>>> = {
  flatten: async () => {
    const methods: MethodName[] = values.method === undefined ? ['conformal', 'shape'] : [methodOf(values.method).name];
    const rows: BenchRow[] = [];
    for (const method of methods) rows.push(...(await benchFlatten({ ...(files.length > 0 ? { files } : {}), method, repeat })));
    return { rows };
  },
  nest: async () => {
    const runs = [];
    for (const given of files.length > 0 ? files : [randomInstance()])
      runs.push(await benchNest(given, { seconds: Number(values.seconds ?? 10), seed: Number(values.seed ?? 1) }));
    return { runs };
  },
  read: async () => ({ rows: await benchRead({ ...(files.length > 0 ? { files } : {}), repeat }) }),
  marks: async () => ({ rows: await benchMarks({ ...(files.length > 0 ? { files } : {}), repeat }) }),
};

const wanted = word === undefined ? Object.keys(benches) : [word];
for (const name of wanted) {
  if (!Object.hasOwn(benches, name)) {
    console.error(`bench: there is no "${name}"; there are ${Object.keys(benches).join(', ')}.`);
    process.exitCode = 2;
    break;
  }
  const value = { plastron: 1, kind: 'bench', bench: name, ok: true, machine, ...(await benches[name]()) };
  if (values.json === true) console.log(JSON.stringify(value, undefined, 1));
  else print(value);
}

function print(value: {
  readonly bench: string;
  readonly rows?: readonly BenchRow[];
  readonly runs?: readonly {
    readonly instance: string;
    readonly seconds: number;
    readonly density: number;
    readonly stripLength: number;
  }[];
}): void {
  console.log(`\n${value.bench} (${machine.cpu}, Node ${machine.node})`);
  for (const row of value.rows ?? []) {
    const times = Object.entries(row.medianSeconds).map(([step, seconds]) => `${step} ${(1000 * seconds).toFixed(1)} ms`);
    const judges = row.judges.map(
      (judge) => `${judge.name} ${(1000 * judge.seconds).toFixed(0)} ms (ours is ${judge.ratio.toFixed(2)} of it)`,
    );
    console.log(
      `  ${row.file}, ${row.faces} faces, ${row.method}: ${[...times, `peak ${row.peakMb.toFixed(0)} MB`, ...judges].join(', ')}`,
    );
  }
  for (const run of value.runs ?? [])
    console.log(
      `  ${run.instance}: ${(100 * run.density).toFixed(2)} % of the strip in ${run.seconds} s, length ${run.stripLength.toFixed(1)}`,
    );
}
