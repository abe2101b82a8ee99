import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { enclosedVolume } from '../../src/mesh/measure.ts';
import { readMesh } from '../../src/read/index.ts';
import type { TriangleSoup } from '../../src/read/triangle-soup.ts';
import { binaryStl, cube, failureOf, readText } from '../support/files.ts';

const corner = (v: number): string => `vertex ${cube.positions.slice(3 * v, 3 * v + 3).join(' ')}`;
const facets = Array.from(
  { length: 12 },
  (_, f) => `facet normal 0 0 0\n outer loop\n${[0, 1, 2].map((i) => `  ${corner(cube.faces[3 * f + i])}\n`).join('')} endloop\nendfacet\n`,
).join('');
const cubeText = `solid a cube\n${facets}endsolid a cube\n`;
const readBytes = (bytes: Uint8Array): Promise<TriangleSoup> => readMesh({ name: 'cube.stl', bytes }, quietRun);

describe('stlReader', () => {
  it('reads text and binary cubes of volume 1, corner by corner the same [second route]', async () => {
    const text = await readText('cube.stl', cubeText);
    const binary = await readBytes(binaryStl(cube.positions, cube.faces));
    expect(enclosedVolume(text)).toBeCloseTo(1, 12);
    expect([...binary.positions]).toEqual([...text.positions]);
    expect([...binary.faces]).toEqual([...text.faces]);
    expect(binary.findings).toEqual([]);
  });

  it('reads capitals, CRLF, NaN normals, several solids and an empty one [corpus]', async () => {
    for (const text of [
      cubeText.toUpperCase(),
      cubeText.replaceAll('\n', '\r\n'),
      cubeText.replaceAll('normal 0 0 0', 'normal nan nan nan'),
      `solid\nendsolid\n${cubeText}`,
      cubeText.replace('endsolid a cube\n', `endsolid\nsolid two facet vertex words\n`) + 'endsolid\n',
    ]) {
      const soup = await readText('cube.stl', text);
      expect(soup.faces.length, text.slice(0, 60)).toBe(36);
    }
  });

  it('knows a binary file that begins with "solid" by its size [corpus]', async () => {
    const soup = await readBytes(binaryStl(cube.positions, cube.faces, 'solid facet normal'));
    expect(enclosedVolume(soup)).toBeCloseTo(1, 12);
  });

  it('reads on with a warning where the count of the header is wrong [repro]', async () => {
    for (const count of [0, 0xffffffff, 5]) {
      const soup = await readBytes(binaryStl(cube.positions, cube.faces, 'exported', count));
      expect(soup.findings.map((found) => found.code)).toEqual(['read/wrong-count']);
      expect(soup.faces.length).toBe(count === 5 ? 15 : 36);
    }
  });

  it('refuses a cut-off file, text or binary [repro]', async () => {
    const bytes = binaryStl(cube.positions, cube.faces);
    for (const length of [90, 200, bytes.length - 1, bytes.length - 50])
      expect((await failureOf(readBytes(bytes.subarray(0, length)))).code, String(length)).toBe('read/cut-off');
    for (const length of [cubeText.length - 20, cubeText.length - 40, 300]) {
      const failure = await failureOf(readText('cube.stl', cubeText.slice(0, length)));
      expect(['read/cut-off', 'read/malformed']).toContain(failure.code);
      expect(failure.where.line).toBeGreaterThan(1);
    }
  });

  it('names the line or byte of a coordinate that is no number [repro]', async () => {
    const text = await failureOf(readText('cube.stl', cubeText.replace('vertex 0 0 0', 'vertex 0 inf 0')));
    expect([text.code, text.where.line]).toEqual(['read/not-a-number', 4]);
    const bytes = binaryStl(cube.positions, cube.faces);
    new DataView(bytes.buffer).setUint32(84 + 50 + 12 + 16, 0x7fc00000, true);
    const binary = await failureOf(readBytes(bytes));
    expect([binary.code, binary.where.byte]).toEqual(['read/not-a-number', 84 + 50 + 12 + 16]);
  });

  it('refuses facets of two vertices and solids without any [repro]', async () => {
    const thin = 'solid a\nfacet normal 0 0 0\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nendloop\nendfacet\nendsolid\n';
    expect((await failureOf(readText('a.stl', thin))).code).toBe('read/malformed');
    expect((await failureOf(readText('a.stl', 'solid a\nendsolid\n'))).code).toBe('read/no-vertices');
  });
});
