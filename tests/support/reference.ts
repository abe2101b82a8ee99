/*
 * The reference meshes and maps that stand beside the project. Absent in a plain clone: tests skip and print why.
 */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';

const folder = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

export const hasReference = existsSync(`${folder}reference/README.md`);
export const hasBodies = existsSync(`${folder}meshes`);

if (!hasReference) console.log('skipped where used: no ../shared/data/reference beside the project');

/** A triangle mesh from an OBJ text of v and f lines. */
export function meshFromObj(text: string): HalfEdgeMesh {
  const positions: number[] = [];
  const faces: number[] = [];
  for (const line of text.split('\n')) {
    const [key, ...rest] = line.trim().split(/\s+/);
    if (key === 'v') positions.push(...rest.slice(0, 3).map(Number));
    if (key !== 'f') continue;
    const corners = rest.map((word) => Number(word.split('/')[0]) - 1);
    for (let i = 2; i < corners.length; i++) faces.push(corners[0], corners[i - 1], corners[i]);
  }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

export function referenceMesh(name: string): HalfEdgeMesh {
  return meshFromObj(readFileSync(`${folder}reference/${name}.obj`, 'utf8'));
}

/** A stored plane map, shape 2·n. */
export function referenceMap(name: string, solver: string): Float64Array {
  const text = readFileSync(`${folder}reference/${name}.${solver}.uv.txt`, 'utf8');
  return Float64Array.from(text.trim().split(/\s+/), Number);
}

/** Path of a shared body mesh. */
export const bodyFile = (name: string): string => `${folder}meshes/${name}`;
