/*
 * What the flattening bench flattens: an OBJ text, or a generated irregular bumpy disc with about so many faces.
 */
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { randomPatch } from '../support/random-patch.ts';
import { meshFromObj } from '../support/reference.ts';

export function benchMesh(source: number | string): HalfEdgeMesh {
  if (typeof source === 'string') return meshFromObj(source);
  const { positions, faces } = randomPatch(Math.round(source / 1.99));
  return buildMesh(positions, faces);
}
