/*
 * The surface that one layer's neutral plane follows, with the way back to the body.
 */
import type { Finding } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { Correspondence } from '../mesh/surface-point.ts';

export interface Surface {
  /** 0 is the innermost layer. */
  readonly layer: number;
  /** Id of the layer's material. */
  readonly material: string;
  readonly mesh: HalfEdgeMesh;
  /** Where each vertex of `mesh` comes from on the body. */
  readonly toBody: Correspondence;
  /** Nominal distance from the skin to this surface, mm (without ease and per-area clearance). */
  readonly distanceMm: number;
  readonly findings: readonly Finding[];
}
