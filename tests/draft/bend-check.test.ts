import { describe, expect, it } from 'vitest';
import { checkBends, principalCurvatures, tightRadius } from '../../src/draft/bend-check.ts';
import { prepareParts } from '../../src/draft/prepare.ts';
import { draftInput } from '../support/drafting.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';

const tube = (radius: number, material: string, sign = 1) =>
  gridPatch({
    id: 'tube.1.C',
    columns: 40,
    rows: 30,
    forming: 'bent',
    material,
    // sign −1 bends the sheet the other way: its outside is hollow.
    space: (u, v) => [sign * radius * Math.sin(2 * u - 1), 120 * v, sign * radius * Math.cos(2 * u - 1)],
    plane: (u, v) => [sign * 2 * radius * u, 120 * v],
  });

describe('principalCurvatures', () => {
  it('is 1/R and 0 on a cylinder, 1/R twice on a sphere, away from the border [closed form]', () => {
    const cylinder = principalCurvatures(tube(50, 'eva-6').patch.mesh, 4);
    const inner = Array.from({ length: 1200 }, (_, f) => f).filter((f) => f > 600 && f < 1800 && f % 80 > 20 && f % 80 < 60);
    for (const f of inner) {
      expect(Math.abs(cylinder[2 * f] - 0.02)).toBeLessThan(0.0005);
      expect(Math.abs(cylinder[2 * f + 1])).toBeLessThan(0.0005);
    }
    const { patches } = goreHemisphere(4, 100, 'domed', 48);
    const sphere = principalCurvatures(patches[0].mesh, 4);
    const middle = Array.from({ length: sphere.length / 2 }, (_, f) => f).filter((f) => f > 600 && f < 1100 && f % 48 > 12 && f % 48 < 36);
    for (const f of middle) {
      expect(Math.abs(sphere[2 * f] - 0.01)).toBeLessThan(0.001);
      expect(Math.abs(sphere[2 * f + 1] - 0.01)).toBeLessThan(0.001);
    }
  });
});

describe('tightRadius', () => {
  it('is measured on the face inside the bend: k·t nearer on a bulge, (1 − k)·t in a hollow [closed form]', () => {
    expect(tightRadius(1 / 50, 10, 0.4)).toBeCloseTo(46, 12);
    expect(tightRadius(-1 / 50, 10, 0.4)).toBeCloseTo(44, 12);
  });
});

describe('checkBends', () => {
  const codes = (radius: number, material: string): string[] => {
    const { patch, flat } = tube(radius, material);
    return checkBends(prepareParts(draftInput([patch], [flat])).parts[0]).map(({ mend }) => mend);
  };

  it('is silent above the cold radius, says heat or groove below it, groove below the hot one [contract: bent tighter than its sheet allows]', () => {
    // 6 mm EVA: 27 mm cold, 12 mm hot, both on the inner face (neutral radius + 3).
    expect(codes(36, 'eva-6')).toEqual([]);
    expect(codes(24, 'eva-6')[0]).toMatch(/^Heat or groove/);
    expect(codes(12, 'eva-6')[0]).toMatch(/^Groove/);
    expect(codes(24, 'eva-2')).toEqual([]);
  });
});
