/*
 * placeholder, replaced below
 */
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
export function bestRatio(_mesh: HalfEdgeMesh): number {
  return 1;
}
