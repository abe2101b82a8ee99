/*
 * The contract of a flattening method: one record a file, one line in `index.ts`.
 */
import type { F64, U32, U8 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';

/** Method names of the contract. */
export type MethodName = 'conformal' | 'spectral' | 'shape' | 'least-worst';

export interface FlattenOptions {
  /** Pinned vertices of `conformal`; without it the method's own rule. */
  readonly pins?: readonly [number, number];
  /** Plane positions to start the refinement from (a dragged seam, the last result); shape 2·n, mm. */
  readonly start?: F64;
  /** 1 for each face that is not to be judged (at the tip of a cut); shape faceCount. */
  readonly leftOut?: U8;
  /** A clock in seconds for the timings; without it all timings are 0. */
  readonly clock?: () => number;
}

export interface StageSeconds {
  readonly assemble: number;
  readonly order: number;
  readonly factor: number;
  readonly solve: number;
  readonly refine: number;
  readonly total: number;
}

/** The bare result of a method: plane positions and how the iteration ended. */
export interface PlaneMap {
  /** x0 y0 x1 y1 …, same unit as the mesh; shape 2·n. Counter-clockwise faces. */
  readonly positions: F64;
  readonly iterations: number;
  readonly converged: boolean;
  readonly pins: readonly number[];
  readonly seconds: StageSeconds;
  /** Border half-edges, in pairs, that would lie over each other in the best shape and were held apart. */
  readonly heldApart?: U32;
}

export interface FlattenMethod {
  readonly name: MethodName;
  /** The sentence that menus and the command line show. */
  readonly title: string;
  /** True if the result's scale is free and is set by equal total area. */
  readonly rescaled: boolean;
  /**
   * @param mesh one connected, oriented patch with at least one boundary loop; no face of zero area.
   * @throws flatten/* and linalg/* Failures
   */
  readonly flatten: (mesh: HalfEdgeMesh, options: FlattenOptions, run: Run) => Promise<PlaneMap>;
}
