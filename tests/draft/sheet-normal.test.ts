import { describe, expect, it } from 'vitest';
import { bordersOf } from '../../src/draft/border.ts';
import { makeSheet, placeOnBorder, sheetNormal, surfaceNormal } from '../../src/draft/sheet-normal.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';

const angle = (a: readonly number[], b: readonly number[]): number =>
  (Math.acos(Math.min(1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])) * 180) / Math.PI;

describe('surfaceNormal', () => {
  it('is the normal of a sphere at its border to second order in the mesh [closed form]', () => {
    const errors = [16, 32, 64].map((fineness) => {
      const { patches, flats } = goreHemisphere(8, 100, 'domed', fineness);
      const borders = bordersOf(patches[0], flats[0].positions, 'A');
      const sheet = makeSheet(patches[0], flats[0].positions, borders, 6);
      let worst = 0;
      for (const share of [0.2, 0.5, 0.7]) {
        const { space, face } = placeOnBorder(sheet, borders[1], share);
        const radius = Math.hypot(...space);
        worst = Math.max(worst, angle(surfaceNormal(sheet, face, space), [space[0] / radius, space[1] / radius, space[2] / radius]));
      }
      return worst;
    });
    for (const error of errors) expect(error).toBeLessThan(0.5);
    expect(errors[2]).toBeLessThan(errors[0]);
  });
});

describe('sheetNormal', () => {
  it('follows a cylinder whichever way its border runs [closed form: bends one way only]', () => {
    const { patch, flat } = gridPatch({
      id: 'cylinder.1.C',
      columns: 40,
      rows: 10,
      forming: 'bent',
      space: (u, v) => [60 * Math.sin(2 * u), 100 * v, 60 * Math.cos(2 * u)],
      plane: (u, v) => [120 * u, 100 * v],
    });
    const borders = bordersOf(patch, flat.positions, 'A');
    const sheet = makeSheet(patch, flat.positions, borders, 6);
    for (const side of borders)
      for (const share of [0.15, 0.5, 0.85]) {
        const { space } = placeOnBorder(sheet, side, share);
        expect(angle(sheetNormal(sheet, side, share), [space[0] / 60, 0, space[2] / 60])).toBeLessThan(0.5);
      }
  });
});
