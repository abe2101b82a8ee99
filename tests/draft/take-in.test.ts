import { describe, expect, it } from 'vitest';
import type { BorderSide } from '../../src/draft/border.ts';
import { bordersOf } from '../../src/draft/border.ts';
import { takeIn } from '../../src/draft/take-in.ts';
import { signedArea } from '../../src/plane/polygon.ts';
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

  it('lets out with a negative number, and leaves the border alone for nought [invariant]', () => {
    const borders = sheet({ right: 'S1' });
    expect(areaOf(takeIn(borders, [0, -4, 0, 0])) - areaOf(borders)).toBeCloseTo(1200, 6);
    expect(takeIn(borders, [0, 0, 0, 0])).toEqual(borders);
  });
});
