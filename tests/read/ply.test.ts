import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { enclosedVolume } from '../../src/mesh/measure.ts';
import { readMesh } from '../../src/read/index.ts';
import { cube, failureOf, readText } from '../support/files.ts';

const vertexHeader = 'property float x\nproperty float y\nproperty float z\n';
const head = (format: string, vertexTotal: number, faceTotal: number): string =>
  `ply\nformat ${format} 1.0\ncomment a test\nobj_info none\nelement vertex ${vertexTotal}\n${vertexHeader}element face ${faceTotal}\nproperty list uchar int vertex_indices\nend_header\n`;
const cubeText =
  head('ascii', 8, 12) +
  Array.from({ length: 8 }, (_, v) => `${cube.positions.slice(3 * v, 3 * v + 3).join(' ')}\n`).join('') +
  Array.from({ length: 12 }, (_, f) => `3 ${cube.faces.slice(3 * f, 3 * f + 3).join(' ')}\n`).join('');

/** The cube in one of the binary orders, with an element before and a list property in between. */
function binaryCube(isLittle: boolean): Uint8Array {
  const text =
    `ply\r\nformat binary_${isLittle ? 'little' : 'big'}_endian 1.0\r\nelement camera 2\r\nproperty ushort id\r\n` +
    `element vertex 8\r\nproperty double x\r\nproperty list uchar short tags\r\nproperty double y\r\nproperty double z\r\nproperty uchar red\r\nproperty uchar green\r\nproperty uchar blue\r\n` +
    `element face 12\r\nproperty uchar material\r\nproperty list uint ushort vertex_index\r\nend_header\r\n`;
  const bytes: number[] = [...new TextEncoder().encode(text)];
  const put = (size: number, write: (view: DataView) => void): void => {
    const view = new DataView(new ArrayBuffer(size));
    write(view);
    bytes.push(...new Uint8Array(view.buffer));
  };
  for (const id of [7, 8]) put(2, (view) => view.setUint16(0, id, isLittle));
  for (let v = 0; v < 8; v++) {
    put(8, (view) => view.setFloat64(0, cube.positions[3 * v], isLittle));
    put(1, (view) => view.setUint8(0, v % 3));
    for (let i = 0; i < v % 3; i++) put(2, (view) => view.setInt16(0, -i, isLittle));
    for (const k of [1, 2]) put(8, (view) => view.setFloat64(0, cube.positions[3 * v + k], isLittle));
    bytes.push(v, 2 * v, 255);
  }
  for (let f = 0; f < 12; f++) {
    bytes.push(9);
    put(4, (view) => view.setUint32(0, 3, isLittle));
    for (let i = 0; i < 3; i++) put(2, (view) => view.setUint16(0, cube.faces[3 * f + i], isLittle));
  }
  return Uint8Array.from(bytes);
}

describe('plyReader', () => {
  it('reads a text cube of volume 1 [closed form]', async () => {
    const soup = await readText('cube.ply', cubeText);
    expect([soup.format, soup.unit, soup.faces.length]).toEqual(['ply', 'unknown', 36]);
    expect(enclosedVolume(soup)).toBeCloseTo(1, 12);
  });

  it('reads both binary orders, stepping over other elements and lists, with colours [second route]', async () => {
    for (const isLittle of [true, false]) {
      const soup = await readMesh({ name: 'cube.ply', bytes: binaryCube(isLittle) }, quietRun);
      expect([...soup.positions]).toEqual([...cube.positions]);
      expect([...soup.faces]).toEqual([...cube.faces]);
      expect([...(soup.colors ?? [])].slice(9, 12)).toEqual([3, 6, 255]);
    }
  });

  it('reads polygons and real colours [closed form]', async () => {
    const text =
      `ply\nformat ascii 1.0\nelement vertex 4\n${vertexHeader}property float red\nproperty float green\nproperty float blue\n` +
      'element face 1\nproperty list uchar int vertex_indices\nend_header\n0 0 0 1 0 0.5\n1 0 0 0 0 0\n1 1 0 0 0 0\n0 1 0 0 0 0\n4 0 1 2 3\n';
    const soup = await readText('q.ply', text);
    expect(soup.faces.length).toBe(6);
    expect([...(soup.colors ?? [])].slice(0, 3)).toEqual([255, 0, 128]);
  });

  it('turns every second triangle of a strip and begins anew at −1 [spec: triangle strips]', async () => {
    const text =
      `ply\nformat ascii 1.0\nelement vertex 5\n${vertexHeader}element tristrips 1\nproperty list int int vertex_indices\nend_header\n` +
      '0 0 0\n1 0 0\n0 1 0\n1 1 0\n0 2 0\n9 0 1 2 3 4 -1 0 1 2\n';
    const soup = await readText('s.ply', text);
    expect([...soup.faces]).toEqual([0, 1, 2, 2, 1, 3, 2, 3, 4, 0, 1, 2]);
    // All four look the same way: the strip is flat.
    for (let f = 0; f < 4; f++) {
      const [a, b, c] = [0, 1, 2].map((i) => soup.faces[3 * f + i]);
      const [p, q] = [b, c].map((v) => [0, 1].map((k) => soup.positions[3 * v + k] - soup.positions[3 * a + k]));
      expect(p[0] * q[1] - p[1] * q[0]).toBeGreaterThan(0);
    }
  });

  it('names the byte or line of what is cut off, no number, or out of range [repro]', async () => {
    const whole = binaryCube(true);
    for (const length of [whole.length - 1, whole.length - 30, whole.length - 200]) {
      const failure = await failureOf(readMesh({ name: 'c.ply', bytes: whole.subarray(0, length) }, quietRun));
      expect(failure.code).toBe('read/cut-off');
      expect(failure.where.byte).toBeLessThanOrEqual(length);
    }
    expect((await failureOf(readText('c.ply', cubeText.slice(0, -20)))).code).toBe('read/cut-off');
    expect((await failureOf(readText('c.ply', cubeText.slice(0, 100)))).code).toBe('read/cut-off');
    const nan = await failureOf(readText('c.ply', cubeText.replace('1 1 0', '1 nan 0')));
    expect([nan.code, nan.where.line]).toEqual(['read/not-a-number', 14]);
    const index = await failureOf(readText('c.ply', cubeText.replace('3 0 2 1', '3 0 2 8')));
    expect([index.code, index.where.line]).toEqual(['read/bad-index', 20]);
    const bytes = binaryCube(true);
    // The last vertex ends in z and three colour bytes; behind it stand twelve faces of eleven bytes.
    const z = bytes.length - 12 * 11 - 3 - 8;
    new DataView(bytes.buffer).setFloat64(z, Infinity, true);
    const broken = await failureOf(readMesh({ name: 'c.ply', bytes }, quietRun));
    expect([broken.code, broken.where.byte]).toEqual(['read/not-a-number', z + 8]);
  });

  it('refuses headers that make no sense or promise more than the file holds [repro]', async () => {
    const replaced = (from: string, to: string): string => cubeText.replace(from, to);
    for (const [text, code] of [
      [replaced('format ascii 1.0', 'format fancy 1.0'), 'read/malformed'],
      [replaced('element vertex 8', 'element vertex many'), 'read/malformed'],
      [replaced('property float x', 'property complex x'), 'read/malformed'],
      [replaced('property float x', 'property float u'), 'read/malformed'],
      [replaced('element vertex 8', 'element vertex 4000000000'), 'read/cut-off'],
      [replaced('element face 12', 'element face 0'), 'read/points-only'],
      [replaced('element vertex 8', 'element vertex 0'), 'read/no-vertices'],
    ] as const)
      expect((await failureOf(readText('c.ply', text))).code, text.slice(0, 200)).toBe(code);
  });
});
