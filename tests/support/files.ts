/*
 * Files for the reading tests, written here byte by byte, and what readers must say about them.
 */
import { expect } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { quietRun } from '../../src/base/run.ts';
import { readMesh } from '../../src/read/index.ts';
import type { SourceFile, TriangleSoup } from '../../src/read/triangle-soup.ts';

export const textFile = (name: string, text: string): SourceFile => ({ name, bytes: new TextEncoder().encode(text) });

export const readText = (name: string, text: string): Promise<TriangleSoup> => readMesh(textFile(name, text), quietRun);

/** The Failure that a promise ends in; anything else fails the test. */
export async function failureOf(work: Promise<unknown>): Promise<Failure> {
  try {
    await work;
  } catch (cause) {
    expect(cause).toBeInstanceOf(Failure);
    const failure = cause as Failure;
    // Every failure says what, and what to do about it, in whole sentences.
    expect(failure.what.length).toBeGreaterThan(15);
    expect(failure.mend.length).toBeGreaterThan(10);
    return failure;
  }
  throw new Error('no failure came');
}

/** Corners of a unit cube and its twelve triangles, outward. */
export const cube = {
  positions: [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1],
  faces: [0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7],
} as const;

/** A binary STL of triangles. */
export function binaryStl(positions: readonly number[], faces: readonly number[], header = 'made for a test', count?: number): Uint8Array {
  const total = faces.length / 3;
  const bytes = new Uint8Array(84 + 50 * total);
  bytes.set(new TextEncoder().encode(header).subarray(0, 80));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count ?? total, true);
  faces.forEach((v, h) => {
    const at = 84 + 50 * Math.floor(h / 3) + 12 + 12 * (h % 3);
    for (let k = 0; k < 3; k++) view.setFloat32(at + 4 * k, positions[3 * v + k], true);
  });
  return bytes;
}

/** A GLB of one JSON chunk and one binary chunk. */
export function glb(json: unknown, bin?: Uint8Array): Uint8Array {
  const text = new TextEncoder().encode(JSON.stringify(json));
  const padded = new Uint8Array(4 * Math.ceil(text.length / 4)).fill(32);
  padded.set(text);
  const total = 20 + padded.length + (bin === undefined ? 0 : 8 + bin.length);
  const bytes = new Uint8Array(total);
  const view = new DataView(bytes.buffer);
  [0x46546c67, 2, total, padded.length, 0x4e4f534a].forEach((word, i) => view.setUint32(4 * i, word, true));
  bytes.set(padded, 20);
  if (bin !== undefined) {
    view.setUint32(20 + padded.length, bin.length, true);
    view.setUint32(24 + padded.length, 0x004e4942, true);
    bytes.set(bin, 28 + padded.length);
  }
  return bytes;
}

/** Little-endian bytes of numbers: 32-bit floats, then 16-bit indices padded to four bytes. */
export function floatsAndIndices(floats: readonly number[], indices: readonly number[]): Uint8Array {
  const bytes = new Uint8Array(4 * floats.length + 4 * Math.ceil(indices.length / 2));
  const view = new DataView(bytes.buffer);
  floats.forEach((value, i) => view.setFloat32(4 * i, value, true));
  indices.forEach((value, i) => view.setUint16(4 * floats.length + 2 * i, value, true));
  return bytes;
}

/** The glTF of one primitive whose bytes `floatsAndIndices` made; `change` can damage it. */
export function primitiveJson(vertexTotal: number, indexTotal: number, mode = 4): Record<string, unknown> {
  return {
    asset: { version: '2.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1, mode }] }],
    accessors: [
      { bufferView: 0, componentType: 5126, count: vertexTotal, type: 'VEC3' },
      { bufferView: 1, componentType: 5123, count: indexTotal, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: 12 * vertexTotal },
      { buffer: 0, byteOffset: 12 * vertexTotal, byteLength: 2 * indexTotal },
    ],
    buffers: [{ byteLength: 12 * vertexTotal + 2 * indexTotal }],
  };
}
