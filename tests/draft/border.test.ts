import { describe, expect, it } from 'vitest';
import { bordersOf, imageOfDirection, partLetter, turnUpright } from '../../src/draft/border.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import { gridPatch } from '../support/patches.ts';

const wall = (turn: number, tilt = 0) => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return gridPatch({
    id: 'wall.1.C',
    columns: 4,
    rows: 6,
    space: (u, v) => [80 * u, 120 * v * Math.cos(tilt), -120 * v * Math.sin(tilt)],
    plane: (u, v) => [c * 80 * u - s * 120 * v, s * 80 * u + c * 120 * v],
  });
};

describe('imageOfDirection', () => {
  it('is the turned up of an upright wall, shortened by its tilt [closed form: cos² of the tilt along the wall]', () => {
    const { patch, flat } = wall(0.7);
    const [x, y] = imageOfDirection(patch, flat, [0, 1, 0]);
    expect(x).toBeCloseTo(-Math.sin(0.7), 12);
    expect(y).toBeCloseTo(Math.cos(0.7), 12);
    const leaning = wall(0, 1);
    expect(Math.hypot(...imageOfDirection(leaning.patch, leaning.flat, [0, 1, 0]))).toBeCloseTo(Math.cos(1), 12);
  });
});

describe('turnUpright', () => {
  it('turns the body’s up to +y however the part lay [invariant]', () => {
    for (const turn of [0, 1, 2.5, -2]) {
      const { patch, flat } = wall(turn);
      const { positions, heading } = turnUpright(patch, flat, 'y', 'z');
      expect(heading).toBe('up');
      // Corner (0, 0) and corner (0, 1) of the grid.
      const top = 2 * 6 * 5;
      expect(positions[top] - positions[0]).toBeCloseTo(0, 9);
      expect(positions[top + 1] - positions[1]).toBeCloseTo(120, 9);
    }
  });

  it('shows the front on a part that lies like a lid [product: up arrow]', () => {
    const { patch, flat } = wall(0.4, Math.PI / 2);
    const { positions, heading } = turnUpright(patch, flat, 'y', '-z');
    expect(heading).toBe('front');
    expect(positions[2 * 6 * 5 + 1] - positions[1]).toBeCloseTo(120, 9);
  });
});

describe('bordersOf', () => {
  it('names sides A1, A2 … in border order with their lengths, the part on their left [contract: Ids]', () => {
    const { patch, flat } = wall(0);
    const borders = bordersOf(patch, flat.positions, 'A');
    expect(borders.map(({ id }) => id)).toEqual(['A1', 'A2', 'A3', 'A4']);
    expect(borders.map(({ lengthMm }) => Math.round(lengthMm))).toEqual([80, 120, 80, 120]);
    const outline = Float64Array.from(borders.flatMap(({ points }) => [...points].slice(0, -2)));
    expect(signedArea(outline)).toBeCloseTo(9600, 9);
  });
});

describe('partLetter', () => {
  it('counts A … Z, AA, AB [contract: Ids]', () => {
    expect([0, 25, 26, 27, 51, 52, 701, 702].map(partLetter)).toEqual(['A', 'Z', 'AA', 'AB', 'AZ', 'BA', 'ZZ', 'AAA']);
  });
});
