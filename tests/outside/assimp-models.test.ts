/*
 * Broken and odd files of other people: each gives a body or a Failure that names the fault; none throws raw, none hangs.
 */
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { readMesh } from '../../src/read/index.ts';
import type { SourceFile } from '../../src/read/triangle-soup.ts';

const folder = '/usr/share/assimp/models';
const filesIn = (path: string): string[] =>
  readdirSync(path).flatMap((name) => (statSync(join(path, name)).isDirectory() ? filesIn(join(path, name)) : [join(path, name)]));

async function outcomeOf(file: SourceFile): Promise<string> {
  try {
    const body = await makeBody(await readMesh(file, quietRun), {}, quietRun);
    return body.mesh.positions.every(Number.isFinite) && body.mesh.faces.length > 0 ? 'body' : 'bad body';
  } catch (cause) {
    return cause instanceof Failure && cause.what.length > 15 && cause.mend.length > 10 ? cause.code : `raw: ${String(cause)}`;
  }
}

/** The glTF with the files beside it put inside, so that its own faults come to light. */
function embedded(path: string): SourceFile | undefined {
  const text = readFileSync(path, 'utf8').replace(/"uri"\s*:\s*"([^":]+\.bin)"/g, (whole, name: string) => {
    const beside = join(path, '..', decodeURIComponent(name));
    return existsSync(beside) ? `"uri": "data:application/octet-stream;base64,${readFileSync(beside).toString('base64')}"` : whole;
  });
  return { name: path, bytes: new TextEncoder().encode(text) };
}

describe.skipIf(!existsSync(folder))('files of assimp-testmodels', () => {
  const all = existsSync(folder) ? filesIn(folder).filter((path) => /\/(OBJ|PLY|STL|glTF|glTF2|invalid)\//.test(path)) : [];

  it('each gives a body or a failure that names the fault [corpus: Debian assimp-testmodels]', async () => {
    expect(all.length).toBeGreaterThan(100);
    const wrong: string[] = [];
    for (const path of all) {
      const outcome = await outcomeOf({ name: path, bytes: new Uint8Array(readFileSync(path)) });
      if (outcome !== 'body' && !/^(read|body|mesh)\//.test(outcome)) wrong.push(`${path}: ${outcome}`);
    }
    expect(wrong).toEqual([]);
  });

  it('the same with the data files of glTF put inside [corpus]', async () => {
    const outcomes = new Map<string, string>();
    for (const path of all.filter((name) => name.endsWith('.gltf'))) {
      const file = embedded(path);
      if (file !== undefined) outcomes.set(path.split('/').at(-1) ?? '', await outcomeOf(file));
    }
    expect([...outcomes].filter(([, outcome]) => outcome !== 'body' && !/^(read|body|mesh)\//.test(outcome))).toEqual([]);
    expect(outcomes.get('IndexOutOfRange.gltf')).toBe('read/bad-index');
  });
});

describe('snowden', () => {
  it('a dirty scan with 88 crowded edges gives a manifold body [corpus: npm snowden]', async () => {
    // @ts-expect-error the package has no types
    const { default: snowden } = (await import('snowden')) as unknown as { default: { positions: number[][]; cells: number[][] } };
    const soup = {
      positions: Float64Array.from(snowden.positions.flat()),
      faces: Uint32Array.from(snowden.cells.flat()),
      unit: 'unknown',
      format: 'obj',
      findings: [],
    } as const;
    const body = await makeBody(soup, { up: 'y', front: 'z' }, quietRun);
    expect(body.mesh.faces.length).toBeGreaterThan(0.95 * soup.faces.length);
    expect(body.repairs.some((repair) => repair.step === 'orient')).toBe(true);
  });
});
