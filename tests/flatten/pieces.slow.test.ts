/*
 * Two hundred random patches of the shared bodies, 40 to 400 mm across, with and without darts and holes.
 */
import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { quietRun } from '../../src/base/run.ts';
import { faceDistortion } from '../../src/flatten/distortion.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import { shapeMap } from '../../src/flatten/shape.ts';
import { randomPiece } from '../support/body-patches.ts';
import { hasBodies } from '../support/reference.ts';

describe.skipIf(!hasBodies)('shapeMap of 200 random patches', () => {
  it('has no flips, no overlaps, no NaN; every failure is named [invariant]', async () => {
    let flattened = 0;
    for (let seed = 0; seed < 200; seed++) {
      const piece = pieceOf(seed);
      if (piece === undefined) continue;
      try {
        const map = await shapeMap(piece.mesh, {}, quietRun);
        flattened++;
        const sound = [
          flippedFaces(piece.mesh, map.positions).length,
          borderOverlaps(piece.mesh, map.positions).count,
          faceDistortion(piece.mesh, map.positions).sigma1.some(Number.isNaN),
        ];
        expect([piece.title, ...sound]).toEqual([piece.title, 0, 0, false]);
      } catch (error) {
        if (!(error instanceof Failure)) throw error;
        expect(error.code).toMatch(/^(flatten|linalg)\//);
        expect(['flatten/no-faces']).toContain(error.code);
      }
    }
    expect(flattened).toBeGreaterThan(185);
  });
});

/** A piece; undefined where the ball held less than one face. */
function pieceOf(seed: number): ReturnType<typeof randomPiece> | undefined {
  try {
    return randomPiece(seed);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
