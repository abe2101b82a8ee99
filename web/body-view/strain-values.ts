/*
 * What the strain colours show: per face the larger of stretch (positive) and squeeze (negative), and the same smoothed to the corners.
 */
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { faceAreas } from '../../src/mesh/measure.ts';

/** Below this a face has collapsed or flipped; its strain is shown as very large, not as infinite. */
const leastShown = 0.1;

/** Signed strain of each face, a ratio: 1/σ₂ − 1 where that is larger than 1 − 1/σ₁, else minus the latter. */
export function signedStrain(part: Pick<FlatPart, 'sigma1' | 'sigma2'>): Float64Array {
  const strain = new Float64Array(part.sigma1.length);
  for (let f = 0; f < strain.length; f++) {
    const stretch = Math.max(0, 1 / Math.max(part.sigma2[f], leastShown) - 1);
    const squeeze = Math.max(0, 1 - 1 / Math.max(part.sigma1[f], leastShown));
    strain[f] = stretch >= squeeze ? stretch : -squeeze;
  }
  return strain;
}

export interface CornerStrain {
  readonly ofFace: Float64Array;
  /** Mean over the faces around, weighted by their area. */
  readonly atVertex: Float64Array;
}

export function cornerStrain(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, part: FlatPart): CornerStrain {
  const ofFace = signedStrain(part);
  const area = faceAreas(mesh);
  const atVertex = new Float64Array(mesh.positions.length / 3);
  const weight = new Float64Array(atVertex.length);
  for (let h = 0; h < mesh.faces.length; h++) {
    const f = Math.floor(h / 3);
    atVertex[mesh.faces[h]] += area[f] * ofFace[f];
    weight[mesh.faces[h]] += area[f];
  }
  for (let v = 0; v < atVertex.length; v++) atVertex[v] /= weight[v] || 1;
  return { ofFace, atVertex };
}
