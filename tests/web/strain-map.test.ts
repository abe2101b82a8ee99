import { describe, expect, it } from 'vitest';
import type { Rgb } from '../../web/colours/strain-map.ts';
import { oklabToSrgb, scaleEnd, strainColour, strainTable } from '../../web/colours/strain-map.ts';

/** The other way round, from the matrices as published, so that the map is judged by a second route. */
function oklabOf(rgb: Rgb): Rgb {
  const [r, g, b] = rgb.map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

const distance = (a: Rgb, b: Rgb): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const shares = Array.from({ length: 41 }, (_, i) => i / 20 - 1);

describe('strainColour', () => {
  it('stays inside sRGB over the whole scale [sRGB gamut]', () => {
    for (const share of shares) for (const value of strainColour(share)) expect(value).toBeGreaterThanOrEqual(-1e-9);
    for (const share of shares) for (const value of strainColour(share)) expect(value).toBeLessThanOrEqual(1 + 1e-9);
  });

  it('steps evenly: equal strain, equal difference in Oklab on both arms [ottosson2020, second route]', () => {
    const steps = shares.slice(1).map((share, i) => distance(oklabOf(strainColour(share)), oklabOf(strainColour(shares[i]))));
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.03);
  });

  it('darkens evenly to both sides, so that it reads without colour too [ottosson2020, second route]', () => {
    for (const share of [0.25, 0.5, 1]) {
      const [stretch] = oklabOf(strainColour(share));
      const [squeeze] = oklabOf(strainColour(-share));
      expect(Math.abs(stretch - squeeze)).toBeLessThan(1e-3);
      expect(stretch).toBeLessThan(oklabOf(strainColour(0))[0] - 0.1 * share);
    }
  });

  it('keeps stretch and squeeze apart without red-green sight [vienot1999]', () => {
    // Deuteranopia in linear light, from the published matrix.
    const see = (rgb: Rgb): Rgb => {
      const linear = rgb.map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
      const [r, g, b] = linear;
      return [0.29275 * r + 0.70725 * g - 0.02234 * b, 0.29275 * r + 0.70725 * g - 0.02234 * b, -0.02234 * r + 0.02234 * g + b];
    };
    expect(distance(see(strainColour(1)), see(strainColour(-1)))).toBeGreaterThan(0.25);
  });
});

describe('oklabToSrgb', () => {
  it('gives white and grey where there is no chroma [ottosson2020]', () => {
    for (const value of oklabToSrgb([1, 0, 0])) expect(value).toBeCloseTo(1, 6);
    const grey = oklabToSrgb([0.6, 0, 0]);
    expect(Math.max(...grey) - Math.min(...grey)).toBeLessThan(1e-6);
  });
});

describe('strainTable', () => {
  it('has purple at its start, light in the middle, orange at its end [invariant]', () => {
    const table = strainTable(257);
    const at = (i: number): number[] => [...table.slice(4 * i, 4 * i + 3)];
    expect(at(0)[2]).toBeGreaterThan(at(0)[1]);
    expect(Math.min(...at(128))).toBeGreaterThan(235);
    expect(at(256)[0]).toBeGreaterThan(at(256)[2]);
  });
});

describe('scaleEnd', () => {
  it('holds every limit with room and is round [invariant]', () => {
    for (const limit of [0.004, 0.02, 0.05, 0.1, 0.13, 0.2, 0.33])
      expect(scaleEnd([limit, limit / 2])).toBeGreaterThanOrEqual(1.5 * limit - 1e-9);
    expect(scaleEnd([0.1, 0.05])).toBe(0.15);
  });
});
