/*
 * Rules about files: their length, their opening lines, their tests, their sources, and what they may not say.
 */
import { describe, expect, it } from 'vitest';
import { importsOf, projectFiles, textOf } from '../support/sources.ts';

const files = projectFiles();
const code = files.filter((path) => /^(src|worker|web|samples|tests)\/.*\.tsx?$/.test(path) && !path.endsWith('.d.ts'));
const src = code.filter((path) => path.startsWith('src/') && !path.includes('/wasm/'));
const texts = files.filter((path) => !/\.(png|glb|ico)$/.test(path) && path !== 'package-lock.json');

/** Data that no one reads line by line. */
const longData = new Set(['src/draft/stroke-font.ts', 'src/draft/glyphs.ts']);

describe('files', () => {
  it('have at most 400 lines [conventions]', () => {
    const long = code.filter((path) => !path.includes('/wasm/') && !longData.has(path) && textOf(path).split('\n').length > 401);
    expect(long).toEqual([]);
  });

  it('of src open by saying what they are for [conventions]', () => {
    expect(src.filter((path) => !textOf(path).startsWith('/*'))).toEqual([]);
  });

  it('are named in kebab case and never utils, helpers, common, misc or manager [conventions]', () => {
    const wrong = code.filter((path) => {
      const name = path.split('/').at(-1) ?? '';
      return !/^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9-]+)*\.tsx?$/.test(name) || /^(utils|helpers|common|misc|manager)\./.test(name);
    });
    expect(wrong).toEqual([]);
  });

  it('say nothing of a machine or of a registry [rules of the project]', () => {
    const forbidden = new RegExp(['/' + 'work/', '/' + 'root/', '/' + 'home/[a-z]', 'registry\\.' + 'npm', 'deb\\.' + 'debian'].join('|'));
    expect(texts.filter((path) => forbidden.test(textOf(path)))).toEqual([]);
  });

  it('hold no tolerance without a name outside tolerance.ts [conventions]', () => {
    const bare = src
      .filter((path) => path !== 'src/base/tolerance.ts' && path !== 'src/base/elementary.ts')
      .flatMap((path) =>
        textOf(path)
          .split('\n')
          .filter((line) => /\b\d(\.\d+)?e-\d+\b/.test(line.replace(/\/\/.*|\/\*.*|^\s*\*.*|'[^']*'|`[^`]*`/g, '')))
          .map((line) => `${path}: ${line.trim()}`),
      );
    expect(bare).toEqual([]);
  });
});

describe('source keys', () => {
  it('are listed in DEVELOPERS.md and every listed one is cited [conventions]', () => {
    const shape = /\[([a-z]{2,}(?:-[a-z]+)*\d{2,4}[a-z]?|[a-z]+(?:-[a-z]+)+\d{2,4})(?:[ ,§][^\]\n]*)?\]/g;
    const cited = new Set(
      src
        .concat(code.filter((path) => path.startsWith('tests/')))
        .flatMap((path) => [...textOf(path).matchAll(shape)].map((match) => match[1])),
    );
    const listed = new Set([...textOf('DEVELOPERS.md').matchAll(/^- `\[([^\]]+)\]`/gm)].map((match) => match[1]));
    expect([...cited].filter((key) => !listed.has(key)).sort()).toEqual([]);
    expect([...listed].filter((key) => !cited.has(key)).sort()).toEqual([]);
  });
});

describe('tests', () => {
  it('reach every file of src: a test imports it, or it serves a file of its folder that a test imports [conventions]', () => {
    const tested = new Set(code.filter((path) => path.startsWith('tests/')).flatMap((path) => importsOf(path).map((line) => line.to)));
    const open = [...tested];
    for (let path = open.pop(); path !== undefined; path = open.pop()) {
      if (!path.startsWith('src/') || !src.includes(path)) continue;
      for (const { to } of importsOf(path)) {
        if (tested.has(to) || to.split('/').slice(0, 2).join('/') !== path.split('/').slice(0, 2).join('/')) continue;
        tested.add(to);
        open.push(to);
      }
    }
    const hasLogic = (path: string): boolean => /export (async )?function|export const \w+ = (async )?\(|export class/.test(textOf(path));
    expect(src.filter((path) => hasLogic(path) && !tested.has(path))).toEqual([]);
  });
});
