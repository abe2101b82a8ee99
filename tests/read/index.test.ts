/*
 * The choice of a reader: index.ts, not-a-mesh.ts, text-encoding.ts, faults.ts, growing.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRun, quietRun } from '../../src/base/run.ts';
import { grownF64, grownU32 } from '../../src/read/growing.ts';
import { meshReaders, readMesh } from '../../src/read/index.ts';
import { binaryStl, cube, failureOf, floatsAndIndices, glb, primitiveJson, readText, textFile } from '../support/files.ts';

const obj = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n';
const ply =
  'ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n';
const stl = 'solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid\n';

describe('readMesh', () => {
  it('goes by content and says so when the name is wrong [matrix]', async () => {
    const gltf = new TextDecoder('latin1').decode(glb(primitiveJson(8, 36), floatsAndIndices(cube.positions, cube.faces)));
    const files: [string, Uint8Array][] = [
      ['obj', new TextEncoder().encode(obj)],
      ['ply', new TextEncoder().encode(ply)],
      ['stl', new TextEncoder().encode(stl)],
      ['stl', binaryStl(cube.positions, cube.faces, 'solid')],
      ['gltf', Uint8Array.from(gltf, (letter) => letter.charCodeAt(0))],
    ];
    for (const [format, bytes] of files) {
      for (const name of ['a.obj', 'a.PLY', 'a.stl', 'a.glb', 'a.gltf', 'a.txt', 'scan']) {
        const soup = await readMesh({ name, bytes }, quietRun);
        expect(soup.format, name).toBe(format);
        const belongs = meshReaders
          .find((reader) => reader.format === format)
          ?.extensions.includes(name.split('.')[1]?.toLowerCase() ?? '');
        expect(
          soup.findings.map((found) => found.code),
          name,
        ).toEqual(belongs ? [] : ['read/wrong-extension']);
      }
    }
  });

  it('refuses an empty file and one of blanks [repro]', async () => {
    for (const text of ['', ' \n\t\r\n', '\0\0\0']) expect((await failureOf(readText('a.obj', text))).code).toBe('read/empty');
  });

  it('knows what is often opened by mistake [repro]', async () => {
    for (const [text, word] of [
      ['<!DOCTYPE html><html><body>Sign in</body></html>', 'web page'],
      ['<?xml version="1.0"?><COLLADA></COLLADA>', 'XML'],
      ['PK\u0003\u0004 zip', 'zip'],
      ['%PDF-1.7', 'PDF'],
      ['newmtl skin\nKd 1 1 1\n', 'material'],
      ['Once upon a time there was a lighthouse.', 'none of the formats'],
    ]) {
      const failure = await failureOf(readText('download.bin', text));
      expect([failure.code, failure.what.includes(word)], text).toEqual(['read/not-a-mesh', true]);
    }
    for (const [bytes, word] of [
      [[0x1f, 0x8b, 8, 0], 'gzip'],
      [[0x89, 0x50, 0x4e, 0x47, 13, 10], 'picture'],
      [[0xff, 0xd8, 0xff, 0xe0], 'picture'],
    ] as const) {
      const failure = await failureOf(readMesh({ name: 'a.obj', bytes: Uint8Array.from(bytes) }, quietRun));
      expect(failure.what).toContain(word);
    }
  });

  it('gives the fault of the named format where the content shows nothing [repro]', async () => {
    expect((await failureOf(readText('a.obj', 'hello there'))).code).toBe('read/no-vertices');
    expect((await failureOf(readText('a.stl', 'hello there'))).code).toBe('read/cut-off');
    expect((await failureOf(readText('a.glb', 'hello there'))).code).toBe('read/malformed');
    expect((await failureOf(readText('a.ply', 'hello there'))).code).toBe('read/cut-off');
  });

  it('reports rising fractions and stops when told to [invariant]', async () => {
    const many = Array.from({ length: 60_000 }, (_, i) => `v ${i} 0 1\n`).join('') + 'f 1 2 3\n';
    const seen: number[] = [];
    const run = createRun({ now: () => 0, pause: () => Promise.resolve(), onReport: (_, fraction) => seen.push(fraction) });
    await readMesh(textFile('a.obj', many), run);
    expect(seen.length).toBeGreaterThan(3);
    expect([...seen].sort((a, b) => a - b)).toEqual(seen);
    expect(seen.at(-1)).toBe(1);
    const stopped = createRun({ now: () => 0, pause: () => Promise.resolve(), isStopped: () => seen.length > 0 });
    expect((await failureOf(readMesh(textFile('a.obj', many), stopped))).code).toBe('run/stopped');
  });

  it('does not change the bytes [invariant]', async () => {
    const bytes = new TextEncoder().encode(obj);
    await readMesh({ name: 'a.obj', bytes }, quietRun);
    expect(new TextDecoder().decode(bytes)).toBe(obj);
  });
});

describe('grown arrays', () => {
  it('keep their content and have the room asked for [invariant]', () => {
    const real = grownF64(Float64Array.from([1, 2]), 9);
    expect([real[0], real[1], real.length >= 9]).toEqual([1, 2, true]);
    const whole = Uint32Array.from([1, 2]);
    expect(grownU32(whole, 2)).toBe(whole);
    expect(grownU32(whole, 3).length).toBeGreaterThanOrEqual(3);
  });
});
