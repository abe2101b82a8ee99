/*
 * Meshes and maps as the C++ judges take and give them: counts, positions and faces in; plane positions out.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';

/** A mesh in the judges' binary form. */
export function meshBytes(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Buffer {
  const counts = Int32Array.from([mesh.positions.length / 3, mesh.faces.length / 3]);
  const arrays = [counts, Float64Array.from(mesh.positions), Int32Array.from(mesh.faces)];
  return Buffer.concat(arrays.map((array) => Buffer.from(array.buffer)));
}

/**
 * Runs a judge on a mesh in a folder of its own.
 * @param words what follows before and after the names of the mesh and the map
 * @returns the plane positions and the values of its lines
 */
export function askJudge(
  program: string,
  mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>,
  words: { readonly before?: readonly string[]; readonly after?: readonly string[] },
): { readonly map: Float64Array; readonly lines: readonly Readonly<Record<string, number>>[] } {
  const folder = mkdtempSync(join(tmpdir(), 'plastron-flatten-'));
  try {
    const [input, output] = [join(folder, 'mesh'), join(folder, 'map')];
    writeFileSync(input, meshBytes(mesh));
    const text = execFileSync(program, [...(words.before ?? []), input, output, ...(words.after ?? [])], {
      encoding: 'utf8',
      maxBuffer: 1 << 24,
    });
    const lines = text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as Record<string, number>);
    const bytes = readFileSync(output);
    return { map: new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength)), lines };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
