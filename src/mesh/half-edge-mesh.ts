/*
 * The mesh value that every stage shares. Triangles only; half-edge h = 3f + i runs from faces[h] to the next corner of face f,
 * and is also the corner at its start. No element objects: an index is an element.
 */
import type { F64, I32, U32 } from '../base/arrays.ts';

/** An oriented triangle mesh, manifold edge by edge. Made by `buildMesh` only. */
export interface HalfEdgeMesh {
  /** x0 y0 z0 x1 …, mm unless a reader says otherwise; shape 3·vertexCount. */
  readonly positions: F64;
  /** Vertex of each corner, counter-clockwise seen from outside; shape 3·faceCount. */
  readonly faces: U32;
  /** Opposite half-edge, −1 on an open edge; shape 3·faceCount. */
  readonly twin: I32;
  /** One outgoing half-edge of each vertex, the one without a twin on an open border (so a walk starts there); −1 if the vertex has no face. */
  readonly vertexHalfEdge: I32;
}

export const vertexCount = (mesh: HalfEdgeMesh): number => mesh.positions.length / 3;
export const faceCount = (mesh: HalfEdgeMesh): number => mesh.faces.length / 3;
/** The half-edge after h in its face. */
export const nextHalfEdge = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
/** The half-edge before h in its face. */
export const previousHalfEdge = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);
