/*
 * The floors of `src` (DEVELOPERS.md): a file imports from its own folder, from a strictly lower floor, or sideways where it is allowed.
 */
import { describe, expect, it } from 'vitest';
import { importsOf, projectFiles } from '../support/sources.ts';

const floors: readonly (readonly string[])[] = [
  ['base'],
  ['units', 'materials'],
  ['linalg', 'plane', 'mesh', 'read'],
  ['body', 'standoff'],
  ['areas', 'lines'],
  ['patches'],
  ['flatten', 'suggest'],
  ['draft'],
  ['nest'],
  ['export'],
  ['job'],
];

const sideways = new Set(['mesh>linalg', 'mesh>plane', 'standoff>body', 'areas>lines', 'suggest>flatten']);

/** Outside packages and the only file that may import each. */
const gateways: Readonly<Record<string, readonly string[]>> = {
  three: ['src/mesh/spatial.ts'],
  'three-mesh-bvh': ['src/mesh/spatial.ts'],
  'ml-matrix': ['src/linalg/dense.ts'],
  'robust-predicates': ['src/plane/predicates.ts'],
  'clipper2-ts': ['src/plane/offset.ts'],
  '@gltf-transform/core': ['src/read/gltf.ts', 'src/export/gltf.ts'],
  '@gltf-transform/extensions': ['src/read/gltf.ts'],
  draco3dgltf: ['src/read/gltf.ts'],
  meshoptimizer: ['src/read/gltf.ts', 'src/body/simplify.ts'],
  fflate: ['src/job/bundle.ts', 'src/export/zip.ts', 'src/export/pdf-writer.ts'],
  valibot: ['src/job/schema.ts'],
};

const sources = projectFiles().filter((path) => /^(src|worker|web|samples)\/.*\.tsx?$/.test(path) && !path.includes('/wasm/'));
const floorOf = (path: string): number => floors.findIndex((names) => names.includes(folderOf(path)));
const folderOf = (path: string): string => path.split('/')[1] ?? '';
const isTop = (path: string): boolean => /^src\/[^/]+\.ts$/.test(path);

describe('floors', () => {
  it('src imports only downwards, in its own folder, or sideways where the guide allows it [architecture]', () => {
    const wrong = sources
      .filter((path) => path.startsWith('src/') && !isTop(path))
      .flatMap(importsOf)
      .filter((line) => line.isOwn)
      .filter(({ from, to }) => {
        if (!to.startsWith('src/') || isTop(to)) return true;
        const [a, b] = [folderOf(from), folderOf(to)];
        return a !== b && floorOf(to) >= floorOf(from) && !sideways.has(`${a}>${b}`);
      });
    expect(wrong.map(({ from, to }) => `${from} → ${to}`)).toEqual([]);
  });

  it('every folder of src has its floor [architecture]', () => {
    const unknown = new Set(sources.filter((path) => path.startsWith('src/') && !isTop(path) && floorOf(path) < 0).map(folderOf));
    expect([...unknown]).toEqual([]);
  });

  it('outside packages enter src through their gateway only [architecture]', () => {
    const wrong = sources
      .filter((path) => path.startsWith('src/'))
      .flatMap(importsOf)
      .filter((line) => !line.isOwn && !(gateways[line.to] ?? []).includes(line.from));
    expect(wrong.map(({ from, to }) => `${from} → ${to}`)).toEqual([]);
  });

  it('nothing but worker and web imports worker and web, and web sees only the worker’s protocol and client [architecture]', () => {
    const wrong = sources
      .flatMap(importsOf)
      .filter((line) => line.isOwn)
      .filter(({ from, to }) => {
        const [a, b] = [from.split('/')[0], to.split('/')[0]];
        if (b === 'worker') return a !== 'worker' && !(a === 'web' && /^worker\/(protocol|client|browser)\.ts/.test(to));
        if (b === 'web') return a !== 'web' && !(from === 'worker/cli/serve.ts' && to.startsWith('web/server/'));
        if (b === 'tests') return true;
        return false;
      });
    expect(wrong.map(({ from, to }) => `${from} → ${to}`)).toEqual([]);
  });
});
