/*
 * Points and paths on a mesh's surface, as values of the mesh floor so that areas, lines and patches can exchange them.
 */
import type { F64, U32, Vec3 } from '../base/arrays.ts';

/** A point of the surface: a face and its barycentric weights (order of the face's corners, sum 1). */
export interface SurfacePoint {
  readonly face: number;
  readonly weights: Vec3;
}

/** Where a node of a surface path lies: exactly at a vertex, inside a half-edge's edge (at `t` from its start), or inside a face. */
export type PathNode =
  | { readonly on: 'vertex'; readonly vertex: number }
  | { readonly on: 'edge'; readonly halfEdge: number; readonly t: number }
  | { readonly on: 'face'; readonly face: number; readonly weights: Vec3 };

/**
 * A polyline over the surface. Consecutive nodes always share a face (or an edge), so each segment is straight in space.
 * `positions` repeats the nodes' places, 3·nodes, mm.
 */
export interface SurfacePath {
  readonly nodes: readonly PathNode[];
  readonly positions: F64;
  readonly closed: boolean;
  /** Length over the surface, mm. */
  readonly length: number;
}

/** The way back from one mesh's vertices to another mesh: for each vertex a face there and its weights. */
export interface Correspondence {
  /** Face of the other mesh; shape vertexCount. */
  readonly face: U32;
  /** Barycentric weights in that face; shape 3·vertexCount. */
  readonly weights: F64;
}
