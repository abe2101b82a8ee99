/*
 * A part of a mesh as a mesh of its own, with the way back.
 */
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import { buildMesh } from './build.ts';

export interface Submesh {
  readonly mesh: HalfEdgeMesh;
  /** Vertex of the whole mesh for each vertex of the part. */
  readonly vertexOf: Uint32Array;
  /** Face of the whole mesh for each face of the part. */
  readonly faceOf: Uint32Array;
}

/**
 * The faces for which `isTaken` says so, vertices in the whole mesh's order.
 * Vertices where two fans meet stay one vertex.
 */
export function submesh(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, isTaken: (f: number) => boolean): Submesh {
  const faceTotal = mesh.faces.length / 3;
  const isUsed = new Uint8Array(mesh.positions.length / 3);
  const faceOf: number[] = [];
  for (let f = 0; f < faceTotal; f++) {
    if (!isTaken(f)) continue;
    faceOf.push(f);
    for (let h = 3 * f; h < 3 * f + 3; h++) isUsed[mesh.faces[h]] = 1;
  }
  const number = new Uint32Array(isUsed.length);
  const vertexOf: number[] = [];
  for (let v = 0; v < isUsed.length; v++) {
    if (isUsed[v] === 0) continue;
    number[v] = vertexOf.length;
    vertexOf.push(v);
  }
  const positions = new Float64Array(3 * vertexOf.length);
  for (let v = 0; v < vertexOf.length; v++) for (let k = 0; k < 3; k++) positions[3 * v + k] = mesh.positions[3 * vertexOf[v] + k];
  const faces = new Uint32Array(3 * faceOf.length);
  for (let f = 0; f < faceOf.length; f++) for (let i = 0; i < 3; i++) faces[3 * f + i] = number[mesh.faces[3 * faceOf[f] + i]];
  return { mesh: buildMesh(positions, faces), vertexOf: Uint32Array.from(vertexOf), faceOf: Uint32Array.from(faceOf) };
}
