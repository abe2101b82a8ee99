/*
 * Makes bridged stretches fair: a ball's path over a meshed body leaves ripples a few edges long. Smoothing that does not shrink [taubin1995]: steps of
 * λ inward and μ outward along the umbrella vector damp ripples and keep waves longer than about twenty edges.
 */
import type { U8 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';

/** λ and μ; 1/λ + 1/μ = 0.1 is the pass band. */
const steps = [0.5, -1 / (1 / 0.5 - 0.1)] as const;
const rounds = 40;

/**
 * Positions after smoothing the marked vertices; the others stay.
 * @param isFree 1 where a vertex may move; shape vertexCount
 */
export function smoothWithoutShrinking(mesh: HalfEdgeMesh, isFree: U8): Float64Array {
  const p = Float64Array.from(mesh.positions);
  const total = p.length / 3;
  const valence = new Uint32Array(total);
  for (let h = 0; h < mesh.faces.length; h++) valence[mesh.faces[h]]++;
  const sums = new Float64Array(p.length);
  for (let round = 0; round < rounds; round++)
    for (const step of steps) {
      sums.fill(0);
      for (let h = 0; h < mesh.faces.length; h++) {
        const [a, b] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)]];
        for (let k = 0; k < 3; k++) sums[a + k] += p[b + k];
      }
      for (let v = 0; v < total; v++) {
        if (isFree[v] === 0) continue;
        for (let k = 0; k < 3; k++) p[3 * v + k] += step * (sums[3 * v + k] / valence[v] - p[3 * v + k]);
      }
    }
  return p;
}
