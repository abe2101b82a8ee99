import { describe, expect, it } from 'vitest';
import type { BorderSide } from '../../src/draft/border.ts';
import { bordersOf } from '../../src/draft/border.ts';
import { takeIn } from '../../src/draft/take-in.ts';
import { crossesItself, signedArea } from '../../src/plane/polygon.ts';
import type { EdgeName } from '../support/patches.ts';
import { gridPatch } from '../support/patches.ts';

const sheet = (seams: Partial<Record<EdgeName, string>>): BorderSide[] => {
  const { patch, flat } = gridPatch({
    id: 'p.1.C',
    columns: 20,
    rows: 60,
    seams,
    space: (u, v) => [100 * u, 300 * v, 0],
    plane: (u, v) => [100 * u, 300 * v],
  });
  return bordersOf(patch, flat.positions, 'A');
};
const areaOf = (borders: readonly BorderSide[]): number =>
  signedArea(Float64Array.from(borders.flatMap(({ points }) => [...points].slice(0, -2))));

describe('takeIn', () => {
  it('takes a strip off between two finished edges [closed form: length × mm]', () => {
    const borders = sheet({ right: 'S1' });
    const taken = takeIn(borders, [0, 4, 0, 0]);
    expect(areaOf(borders) - areaOf(taken)).toBeCloseTo(4 * 300, 6);
    expect(taken[0].lengthMm).toBeCloseTo(96, 9);
    expect(taken[2].lengthMm).toBeCloseTo(96, 9);
  });

  it('fades out towards other seams, so that their sides keep their points [contract: take in]', () => {
    const borders = sheet({ right: 'S1', top: 'S2', bottom: 'S3' });
    const taken = takeIn(borders, [0, 4, 0, 0]);
    expect([...taken[0].points]).toEqual([...borders[0].points]);
    expect([...taken[2].points]).toEqual([...borders[2].points]);
    // Two fades of 60 mm with 3x² − 2x³ between 180 mm of full width; their integral is half.
    expect(areaOf(borders) - areaOf(taken)).toBeCloseTo(4 * (180 + 60), -1);
    expect(Math.min(...[...taken[1].points].filter((_, i) => i % 2 === 0))).toBeCloseTo(96, 9);
  });

  it('cuts finished edges off at the moved side, however fine their points are [closed form: length × mm]', () => {
    const { patch, flat } = gridPatch({
      id: 'p.1.C',
      columns: 100,
      rows: 60,
      seams: { right: 'S1' },
      space: (u, v) => [100 * u, 300 * v, 0],
      // Edges that slope by 1 in 5 beside the seam.
      plane: (u, v) => [100 * u, 300 * v + 20 * u * (2 * v - 1)],
    });
    const borders = bordersOf(patch, flat.positions, 'A');
    for (const distance of [4, -4]) {
      const taken = takeIn(borders, [0, distance, 0, 0]);
      const outline = Float64Array.from(taken.flatMap(({ points }) => [...points].slice(0, -2)));
      expect(crossesItself(outline)).toBe(false);
      // Trapezoid between x = 100 − d and 100: mean height 300 + 40·(1 − d/200). Letting out keeps the end’s height.
      const expected = distance > 0 ? 4 * (340 - 0.8) : -4 * 340;
      expect(areaOf(borders) - areaOf(taken)).toBeCloseTo(expected, 1);
    }
  });

  it('lets out with a negative number, and leaves the border alone for nought [invariant]', () => {
    const borders = sheet({ right: 'S1' });
    expect(areaOf(takeIn(borders, [0, -4, 0, 0])) - areaOf(borders)).toBeCloseTo(1200, 6);
    expect(takeIn(borders, [0, 0, 0, 0])).toEqual(borders);
  });
});
