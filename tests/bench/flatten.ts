/*
 * The flattening bench: whole maps from positions, beside judges in C++ where a compiler and Debian's libraries are there, in the same run.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { MethodName } from '../../src/flatten/flatten-method.ts';
import { farthestBoundaryPair } from '../../src/flatten/pins.ts';
import { askJudge } from '../support/mesh-exchange.ts';
import { compileJudge } from '../support/native.ts';
import { benchMesh } from './flatten-mesh.ts';
import type { BenchRow } from './bench-row.ts';

const generated = [20_000, 100_000, 250_000, 1_000_000];
/** Above this the real form of a general library takes minutes. */
const realFormLimit = 300_000;

/**
 * Measures one method.
 * @param files OBJ files; without them irregular patches of 20k, 100k, 250k and 1M faces are generated
 */
export async function benchFlatten(options: {
  readonly files?: readonly string[];
  readonly method: MethodName;
  readonly repeat: number;
}): Promise<BenchRow[]> {
  const sources = options.files ?? generated.map(String);
  const rows: BenchRow[] = [];
  for (const source of sources) {
    const repeat = source === '1000000' ? Math.min(options.repeat, 2) : options.repeat;
    const one = measure(source, options.method, repeat);
    const file = /^\d+$/.test(source) ? `generated ${source}` : basename(source);
    const judges =
      options.method === 'conformal' ? judgeConformal(source, one, repeat) : options.method === 'shape' ? judgeShape(source, one) : [];
    rows.push({
      file,
      faces: one.faces,
      method: options.method,
      repeat,
      medianSeconds: one.medianSeconds,
      peakMb: Math.round(one.peakMb),
      quality: one.quality,
      judges,
    });
  }
  return rows;
}

interface Measured {
  readonly faces: number;
  readonly medianSeconds: Readonly<Record<string, number>>;
  readonly peakMb: number;
  readonly quality: Readonly<Record<string, unknown>>;
}

function measure(source: string, method: string, repeat: number): Measured {
  const script = fileURLToPath(new URL('./flatten-one.ts', import.meta.url));
  const text = execFileSync(process.execPath, ['--import', 'tsx', script, source, method, String(repeat)], {
    encoding: 'utf8',
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
  });
  return JSON.parse(text) as Measured;
}

function judgeConformal(source: string, ours: Measured, repeat: number): BenchRow['judges'] {
  const judge = compileJudge('flatten-conformal', ['-lcholmod']);
  if ('missing' in judge) {
    console.error(`no native judge: ${judge.missing}`);
    return [];
  }
  const mesh = benchMesh(/^\d+$/.test(source) ? Number(source) : readFileSync(source, 'utf8'));
  const pins = farthestBoundaryPair(mesh).map(String);
  const modes = ours.faces <= realFormLimit ? ['eigen', 'cholmod'] : ['cholmod'];
  return modes.map((mode) => {
    const times = askJudge(judge.path, mesh, { before: [mode], after: [...pins, String(Math.min(repeat, 3))] }).lines.map(
      (line) => line.seconds,
    );
    const seconds = times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
    const name = mode === 'eigen' ? 'Eigen LDLT, real 2n form' : 'CHOLMOD, complex n form, minimum degree';
    return { name, seconds, ratio: ours.medianSeconds.total / seconds };
  });
}

function judgeShape(source: string, ours: Measured): BenchRow['judges'] {
  if (ours.faces > 120_000) return [];
  const judge = compileJudge('flatten-cgal', ['-lgmp', '-lmpfr']);
  if ('missing' in judge) {
    console.error(`no native judge: ${judge.missing}`);
    return [];
  }
  const mesh = benchMesh(/^\d+$/.test(source) ? Number(source) : readFileSync(source, 'utf8'));
  const { seconds } = askJudge(judge.path, mesh, {}).lines[0];
  return [{ name: 'CGAL as-rigid-as-possible, its defaults', seconds, ratio: ours.medianSeconds.total / seconds }];
}
