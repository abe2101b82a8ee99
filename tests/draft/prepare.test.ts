import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { prepareParts } from '../../src/draft/prepare.ts';
import { materialOf } from '../../src/materials/index.ts';
import { draftInput, sideDraft } from '../support/drafting.ts';
import { goreHemisphere, roof } from '../support/patches.ts';

const widthOf = (points: ArrayLike<number>): number => {
  const xs = Array.from(points).filter((_, i) => i % 2 === 0);
  return Math.max(...xs) - Math.min(...xs);
};

describe('prepareParts', () => {
  it('letters parts in order and names their sides [contract: Ids]', () => {
    const { patches, flats, seams } = goreHemisphere(8, 100, 'bent');
    const { parts } = prepareParts(draftInput(patches, flats, seams));
    expect(parts.map(({ letter }) => letter).join('')).toBe('ABCDEFGH');
    expect(parts[2].borders.map(({ id }) => id)).toEqual(['C1', 'C2', 'C3']);
  });

  it('pairs the sides of a seam, the second against the first [architecture: Sides]', () => {
    const { patches, flats, seams } = roof(60, 100, 200);
    const { seams: pairs } = prepareParts(draftInput(patches, flats, seams));
    expect(pairs[0].first).toEqual({ part: 0, side: 1, against: false });
    expect(pairs[0].second).toEqual({ part: 1, side: 3, against: true });
  });

  it('leaves out a patch that did not lie flat and says which seam lost its mate [product: honest results]', () => {
    const { patches, flats, seams } = roof(60, 100, 200);
    const { parts, seams: pairs, findings } = prepareParts(draftInput(patches, flats.slice(0, 1), seams));
    expect(parts.length).toBe(1);
    expect(pairs).toEqual([]);
    expect(findings.map(({ code }) => code)).toEqual(['draft/mate-missing']);
  });

  it('gives a side its own allowance, a mirrored line its original’s, and finished edges theirs by the word border [contract: draft.sides]', () => {
    const { patches, flats, seams } = roof(60, 100, 200);
    const mirrored = patches.map((patch) => ({
      ...patch,
      sides: patch.sides.map((side) => (side.line === undefined ? side : { ...side, line: `${side.line}:mirror` })),
    }));
    const settings = { sides: [sideDraft('left', 'ridge', { allowanceMm: 12 }), sideDraft('right', 'border', { allowanceMm: 5 })] };
    for (const each of [patches, mirrored]) {
      const { parts } = prepareParts(draftInput(each, flats, seams, settings));
      expect(parts[0].allowances).toEqual([0, 12, 0, 0]);
      expect(parts[1].allowances).toEqual([5, 5, 5, 0]);
    }
  });

  it('takes half of the typed mm from each mate, whichever side it was typed for, but not from a mirrored line [contract: take in]', () => {
    const { patches, flats, seams } = roof(60, 100, 200);
    for (const [area, line] of [
      ['left', 'ridge'],
      ['right', 'ridge'],
    ]) {
      const { parts } = prepareParts(draftInput(patches, flats, seams, { sides: [sideDraft(area, line, { takeInMm: 8 })] }));
      expect(parts.map(({ borders }) => widthOf(borders[0].points))).toEqual([96, 96].map((width) => expect.closeTo(width, 9) as number));
    }
    const both = { sides: [sideDraft('left', 'ridge', { takeInMm: 8 }), sideDraft('right', 'ridge', { takeInMm: 8 })] };
    expect(widthOf(prepareParts(draftInput(patches, flats, seams, both)).parts[0].borders[0].points)).toBeCloseTo(96, 9);
    const mirrored = patches.map((patch) => ({
      ...patch,
      sides: patch.sides.map((side) => (side.line === undefined ? side : { ...side, line: 'ridge:mirror' })),
    }));
    expect(widthOf(prepareParts(draftInput(mirrored, flats, seams, both)).parts[0].borders[0].points)).toBeCloseTo(100, 9);
  });

  it('reckons with the thickness that the maker measured [contract: real thickness]', () => {
    const { patches, flats, seams } = roof(60, 100, 200);
    const own = { ...materialOf('eva-6'), realThicknessMm: { value: 5.5, source: 'callipers' } };
    expect(prepareParts({ ...draftInput(patches, flats, seams), materials: [own] }).parts[0].rule.thicknessMm).toBe(5.5);
  });

  it('fails on a material that nobody knows [conventions 24]', () => {
    const { patches, flats, seams } = roof(60, 100, 200, 'cheese');
    expect(() => prepareParts(draftInput(patches, flats, seams))).toThrow(Failure);
  });
});
