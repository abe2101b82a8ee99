import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import type { DraftInput } from '../../src/draft/draft-parts.ts';
import { draftParts } from '../../src/draft/draft-parts.ts';
import { goreHemisphere, roof } from '../support/patches.ts';

const settings = { tracedFace: 'outer', notch: 'tick', bevel: true, sides: [] } as const;
const common: Omit<DraftInput, 'patches' | 'flats' | 'seams'> = {
  materials: [],
  settings,
  lines: [],
  up: 'y',
  front: 'z',
  jobName: 'The Tide Wardens, chest',
  date: '2026-11-25',
};

describe('draftParts', () => {
  for (const fold of [30, 60, 90])
    it(`bevels a roof of ${fold}° by half on each edge [closed form: fold rule]`, async () => {
      const { seams } = await draftParts({ ...common, ...roof(fold, 120, 200) }, quietRun);
      expect(seams[0].bevelDeg.min).toBeCloseTo(fold / 2, 9);
      expect(seams[0].bevelDeg.max).toBeCloseTo(fold / 2, 9);
    });

  it('gives eight domed gores of a hemisphere no bevel [contract: Fold]', async () => {
    const { seams } = await draftParts({ ...common, ...goreHemisphere(8, 100, 'domed') }, quietRun);
    for (const seam of seams) expect(Math.max(Math.abs(seam.bevelDeg.min), Math.abs(seam.bevelDeg.max))).toBeLessThan(0.5);
  });
});
