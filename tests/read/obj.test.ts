import { describe, expect, it } from 'vitest';
import { enclosedVolume } from '../../src/mesh/measure.ts';
import { cube, failureOf, readText } from '../support/files.ts';

const quads = 'f 1 4 3 2\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n';
const vertices = Array.from({ length: 8 }, (_, v) => `v ${cube.positions.slice(3 * v, 3 * v + 3).join(' ')}\n`).join('');

describe('objReader', () => {
  it('reads a cube of quads as twelve outward triangles of volume 1 [closed form]', async () => {
    const soup = await readText('cube.obj', vertices + quads);
    expect(soup.format).toBe('obj');
    expect(soup.faces.length).toBe(36);
    expect(enclosedVolume(soup)).toBeCloseTo(1, 12);
    expect(soup.findings).toEqual([]);
  });

  it('reads the same cube with faces first, CRLF, groups, normals, joined lines and no last line end [second route]', async () => {
    const plain = await readText('cube.obj', vertices + quads);
    const variants = [
      quads + vertices,
      (vertices + quads).replaceAll('\n', '\r\n'),
      (vertices + quads).replaceAll('\n', '\r'),
      `# Körper\nmtllib a b.mtl\no Brustpanzer größe\n${vertices}vn 0 0 1\nvt 0 0\ng one two\nusemtl x\ns off\n${quads.replace(/ (\d)/g, ' $1/1/1')}`,
      vertices + quads.replace(/ (\d)/g, ' $1//1'),
      vertices + quads.replace(/ (\d) (\d)\n/g, ' $1 \\\n  $2\n'),
      (vertices + quads).trimEnd(),
      `\ufeff${vertices}${quads}`,
      vertices.replaceAll(' ', ' \t ') + quads,
    ];
    for (const text of variants) {
      const soup = await readText('cube.obj', text);
      expect([...soup.positions], text).toEqual([...plain.positions]);
      expect([...soup.faces], text).toEqual([...plain.faces]);
    }
  });

  it('counts negative references from the last vertex so far [spec: OBJ relative references]', async () => {
    const soup = await readText('two.obj', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\nv 5 5 5\nf -4 -2 -1\n');
    expect([...soup.faces]).toEqual([0, 1, 2, 0, 2, 3]);
  });

  it('reads 16-bit text with a byte-order mark [second route]', async () => {
    const text = vertices + quads;
    const units = [0xfeff, ...Array.from(text, (letter) => letter.charCodeAt(0))];
    const { readMesh } = await import('../../src/read/index.ts');
    const { quietRun } = await import('../../src/base/run.ts');
    for (const big of [true, false]) {
      const bytes = Uint8Array.from(units.flatMap((unit) => (big ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8])));
      const soup = await readMesh({ name: 'cube.obj', bytes }, quietRun);
      expect(soup.faces.length).toBe(36);
    }
  });

  it('takes colours in 0…1 and in 0…255, and leaves the weight alone [closed form]', async () => {
    const unit = await readText('c.obj', 'v 0 0 0 1 0.5 0\nv 1 0 0 0 0 1\nv 0 1 0 1 1 1\nf 1 2 3\n');
    expect([...(unit.colors ?? [])]).toEqual([255, 128, 0, 0, 0, 255, 255, 255, 255]);
    const bytes = await readText('c.obj', 'v 0 0 0 255 128 0\nv 1 0 0 0 0 255\nv 0 1 0 255 255 255\nf 1 2 3\n');
    expect([...(bytes.colors ?? [])]).toEqual([...(unit.colors ?? [])]);
    const weighted = await readText('c.obj', 'v 0 0 0 1.0\nv 1 0 0 1.0\nv 0 1 0 1.0\nf 1 2 3\n');
    expect(weighted.colors).toBeUndefined();
  });

  it('names the line of a coordinate that is no number, and knows decimal commas [repro]', async () => {
    const failure = await failureOf(readText('c.obj', 'v 0 0 0\nv 1 nan 0\nv 0 1 0\nf 1 2 3\n'));
    expect([failure.code, failure.where.line]).toEqual(['read/not-a-number', 2]);
    const comma = await failureOf(readText('c.obj', 'v 0 0 0\n\n\nv 1,5 0 0\nv 0 1 0\nf 1 2 3\n'));
    expect([comma.code, comma.where.line]).toEqual(['read/not-a-number', 4]);
    expect(comma.mend).toContain('decimal');
    expect((await failureOf(readText('c.obj', 'v 0 0 1e999\nf 1 1 1\n'))).code).toBe('read/not-a-number');
  });

  it('names the line of a reference that is out of range, zero or too negative [repro]', async () => {
    const head = 'v 0 0 0\nv 1 0 0\nv 0 1 0\n';
    for (const [face, line] of [
      ['f 1 2 3\nf 1 2 4\n', 5],
      ['f 0 1 2\n', 4],
      ['f -4 1 2\n', 4],
    ] as const) {
      const failure = await failureOf(readText('c.obj', head + face));
      expect([failure.code, failure.where.line]).toEqual(['read/bad-index', line]);
    }
  });

  it('tells a cut-off vertex or face at the end from a short one in the middle [repro]', async () => {
    expect((await failureOf(readText('c.obj', 'v 0 0 0\nv 1 0'))).code).toBe('read/cut-off');
    expect((await failureOf(readText('c.obj', 'v 0 0 0\nv 1 0\nv 0 1 0\nf 1 2 3\n'))).code).toBe('read/malformed');
    expect((await failureOf(readText('c.obj', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 2'))).code).toBe('read/cut-off');
    const thin = await readText('c.obj', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 2\nf\n');
    expect(thin.findings.map((found) => found.code)).toEqual(['read/thin-polygons']);
    expect(thin.findings[0].what).toContain('2 faces');
  });

  it('says that points, lines or curves are no surface [repro]', async () => {
    const points = await failureOf(readText('c.obj', 'v 0 0 0\nv 1 0 0\np 1 2\nl 1 2\n'));
    expect(points.code).toBe('read/points-only');
    expect(points.what).toContain('2 points');
    const curves = await readText('c.obj', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nsurf 0 1 0 1 1 2 3\n');
    expect(curves.findings.map((found) => found.code)).toEqual(['read/curves']);
  });

  it('refuses a face with a word in it [repro]', async () => {
    const failure = await failureOf(readText('c.obj', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 two 3\n'));
    expect([failure.code, failure.where.line]).toEqual(['read/malformed', 4]);
    expect(failure.what).toContain('two');
  });
});
