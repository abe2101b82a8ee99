/*
 * A map without flips to start from: the conformal map where it has none, else the harmonic map onto a disc (`tutte`), else that map
 * untangled. A long tube shrinks so much in the first two that rounding flips faces; the third mends those.
 */
import type { F64 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { conformalMap, scaleToArea } from './conformal.ts';
import { flippedFaces } from './overlap.ts';
import { tutteMap } from './tutte.ts';
import { untangle } from './untangle.ts';

/**
 * @returns plane positions with the surface's area, no face flipped by exact predicates; shape 2·n
 * @throws flatten/no-start if no way gave a map without flips
 */
export async function injectiveStart(mesh: HalfEdgeMesh, run: Run): Promise<F64> {
  const conformal = (await conformalMap(mesh, {}, run)).positions;
  if (flippedFaces(mesh, conformal).length === 0) return conformal;
  const disc = scaleToArea(mesh, await tutteMap(mesh, run));
  const flipped = flippedFaces(mesh, disc);
  if (flipped.length === 0) return disc;
  const mended = (await untangle(mesh, conformal, run)) ?? (await untangle(mesh, disc, run));
  if (mended !== undefined) return mended;
  throw new Failure(
    'flatten/no-start',
    `No map without turned-over faces was found for the piece: ${flipped.length} stay turned over.`,
    { stage: 'flatten', faces: flipped.slice(0, 20) },
    'Draw a seam through the marked place.',
  );
}
