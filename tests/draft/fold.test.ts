import { describe, expect, it } from 'vitest';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { Patch } from '../../src/patches/patch.ts';
import { bordersOf } from '../../src/draft/border.ts';
import type { SeamMember } from '../../src/draft/fold.ts';
import { foldAlong, foldAtFraction } from '../../src/draft/fold.ts';
import { makeSheet } from '../../src/draft/sheet-normal.ts';
import { goreHemisphere, roof } from '../support/patches.ts';

const member = (patch: Patch, flat: FlatPart, side: number): SeamMember => {
  const borders = bordersOf(patch, flat.positions, 'A');
  return { sheet: makeSheet(patch, flat.positions, borders, 6), side: borders[side] };
};
const degrees = (angle: number): number => (angle * 180) / Math.PI;

describe('foldAlong', () => {
  for (const fold of [30, 60, 90, -45])
    it(`finds the ${fold}° of a roof everywhere, positive on a ridge [closed form]`, () => {
      const { patches, flats } = roof(fold, 100, 200);
      const { folds } = foldAlong(member(patches[0], flats[0], 1), member(patches[1], flats[1], 3));
      for (const found of folds) expect(degrees(found)).toBeCloseTo(fold, 8);
    });

  it('is the same from either side of the seam [invariant]', () => {
    const { patches, flats } = goreHemisphere(8, 100, 'bent');
    const [a, b] = [member(patches[0], flats[0], 1), member(patches[1], flats[1], 2)];
    const [there, back] = [foldAlong(a, b), foldAlong(b, a)];
    for (const share of [0.1, 0.4, 0.7]) expect(degrees(foldAtFraction(there, share) - foldAtFraction(back, 1 - share))).toBeCloseTo(0, 1);
  });

  /** Angle between the middle normals of two neighbouring gores at a latitude: cos = cos²φ·cos(2π/n) + sin²φ. */
  const goreFold = (latitude: number, count: number): number =>
    degrees(Math.acos(Math.cos(latitude) * Math.cos(latitude) * Math.cos((2 * Math.PI) / count) + Math.sin(latitude) * Math.sin(latitude)));

  for (const fineness of [16, 24, 48])
    it(`bevels eight bent gores of a hemisphere by 22.5° at the rim, 15.7° at 45°, 0° at the pole (${fineness} rows) [contract: Fold]`, () => {
      const { patches, flats } = goreHemisphere(8, 100, 'bent', fineness);
      const first = member(patches[0], flats[0], 1);
      const profile = foldAlong(first, member(patches[1], flats[1], 2));
      expect(goreFold(0, 8) / 2).toBeCloseTo(22.5, 9);
      expect(goreFold(Math.PI / 4, 8) / 2).toBeCloseTo(15.7, 1);
      // The share of the border's length at which the edge has a latitude, from the border's own vertices.
      const shareAt = (latitude: number): number =>
        first.side.lengths[Math.round((latitude / (Math.PI / 2)) * fineness)] / first.side.lengthMm;
      const bevelAt = (share: number): number => degrees(foldAtFraction(profile, share)) / 2;
      const slack = 0.1;
      expect(Math.abs(bevelAt(0) - 22.5)).toBeLessThan(slack);
      expect(Math.abs(bevelAt(shareAt(Math.PI / 4)) - 15.7)).toBeLessThan(slack);
      expect(Math.abs(bevelAt(shareAt((3 * Math.PI) / 8)) - goreFold((3 * Math.PI) / 8, 8) / 2)).toBeLessThan(slack);
      // In the tip a mesh of 16 rows is a single face of 10 mm.
      expect(Math.abs(bevelAt(1))).toBeLessThan(fineness === 16 ? 3 : 0.3);
    });

  it('lets domed gores of a sphere meet without a fold, on coarse and fine meshes [contract: Fold]', () => {
    for (const fineness of [16, 24, 48]) {
      const { patches, flats } = goreHemisphere(8, 100, 'domed', fineness);
      const { folds, fractions } = foldAlong(member(patches[0], flats[0], 1), member(patches[1], flats[1], 2));
      // A plain mean over the 2·t beside the seam would say 2·t/R = 6.9°. The last 10 mm of a tip are left out: see above.
      expect(Math.max(...folds.map((fold, i) => (fractions[i] > 0.94 ? 0 : Math.abs(degrees(fold)))))).toBeLessThan(
        fineness === 48 ? 0.1 : 1,
      );
    }
  });
});
