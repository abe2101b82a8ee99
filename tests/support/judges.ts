/*
 * Programs that are not ours as judges of our files. A judge that the machine lacks is left out with a printed reason; where CI is set it
 * is a failed test instead, so nothing is left out unseen.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { U8 } from '../../src/base/arrays.ts';

/** The Python that Debian's packages belong to. */
export const python = '/usr/bin/python3';

/** What is missing of a list: programs by name, Python packages as `python:name`. */
export function missingJudges(needs: readonly string[]): readonly string[] {
  return needs.filter((need) => {
    if (!need.startsWith('python:')) return spawnSync('which', [need]).status !== 0;
    return spawnSync(python, ['-c', `import ${need.slice(7)}`]).status !== 0;
  });
}

/** `describe` for tests that need outside judges. */
export function describeWithJudges(title: string, needs: readonly string[], body: () => void): void {
  const missing = missingJudges(needs);
  if (missing.length === 0) describe(title, body);
  else if (process.env.CI === 'true')
    describe(title, () => {
      it(`has its judges: ${missing.join(', ')}`, () => expect(missing).toEqual([]));
    });
  else {
    console.warn(`Left out: ${title}. Not installed: ${missing.join(', ')}.`);
    describe.skip(title, body);
  }
}

/** Runs `use` with a folder of its own that is gone afterwards. */
export function inScratch<T>(use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'plastron-judge-'));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Writes bytes into a folder and gives the path. */
export function putFile(folder: string, name: string, bytes: U8 | string): string {
  const path = join(folder, name);
  writeFileSync(path, typeof bytes === 'string' ? bytes : Uint8Array.from(bytes as Uint8Array));
  return path;
}

/** Standard output of a program, which must end well. */
export function runJudge(program: string, words: readonly string[]): string {
  return execFileSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'pipe'] });
}

/** The JSON value that one of our judge scripts (tests/outside/judges) prints. */
export function askScript<T>(script: string, words: readonly string[]): T {
  return JSON.parse(runJudge(python, [join(import.meta.dirname, '../outside/judges', script), ...words])) as T;
}

/** A path as a judge read it from a file, mm, y up. */
export interface JudgedPath {
  readonly layer: string;
  readonly part: string | null;
  readonly closed: boolean;
  readonly points: readonly (readonly [number, number])[];
}

export type Polyline = readonly (readonly [number, number])[];

/** Points of a flat array as pairs, the first one repeated when closed. */
export function pairs(points: ArrayLike<number>, closed: boolean): [number, number][] {
  const list: [number, number][] = [];
  for (let k = 0; k < points.length; k += 2) list.push([points[k], points[k + 1]]);
  if (closed) list.push([points[0], points[1]]);
  return list;
}

/** Largest distance of a vertex of one polyline from the other, both ways, mm; fine polylines only, as vertices alone are measured. */
export function apartMm(a: Polyline, b: Polyline): number {
  return Math.max(reach(a, b), reach(b, a));
}

function reach(from: Polyline, to: Polyline): number {
  let worst = 0;
  let k0 = 1;
  for (const [x, y] of from) {
    let best = Infinity;
    const first = k0;
    // The nearest piece is mostly near the last one: begin there, leave as soon as nothing can be better.
    for (let step = 0; step < to.length - 1 && best > 0; step++) {
      const k = 1 + ((first - 1 + step) % (to.length - 1));
      const d = toPiece(x, y, to[k - 1], to[k]);
      if (d < best) {
        best = d;
        if (d < worst) break;
        k0 = k;
      }
    }
    worst = Math.max(worst, best);
  }
  return worst;
}

function toPiece(x: number, y: number, [ax, ay]: readonly [number, number], [bx, by]: readonly [number, number]): number {
  const span = (bx - ax) ** 2 + (by - ay) ** 2;
  const t = span === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / span));
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}

/** Signed area of a judged outline, mm². */
export function areaOf(points: Polyline): number {
  let twice = 0;
  for (let k = 0; k < points.length; k++) {
    const [ax, ay] = points[k];
    const [bx, by] = points[(k + 1) % points.length];
    twice += ax * by - bx * ay;
  }
  return twice / 2;
}
