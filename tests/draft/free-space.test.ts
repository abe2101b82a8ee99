import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import type { Box, Space } from '../../src/draft/free-space.ts';
import { boxesMeet, deepPlaces, fitBox, isFree, meetsNothing } from '../../src/draft/free-space.ts';

const square: Space = { outer: Float64Array.of(0, 0, 100, 0, 100, 100, 0, 100), holes: [], lines: [], boxes: [] };
const box = (x: number, y: number, widthMm: number, heightMm: number, angle = 0): Box => ({ centre: [x, y], widthMm, heightMm, angle });

describe('isFree', () => {
  it('keeps a margin to the border [closed form]', () => {
    expect(isFree(square, box(50, 50, 97, 10), 1)).toBe(true);
    expect(isFree(square, box(50, 50, 99, 10), 1)).toBe(false);
    expect(isFree(square, box(150, 50, 10, 10), 1)).toBe(false);
  });

  it('fits a box on the diagonal that does not fit upright [closed form: 130 mm < 141 mm − its own corners]', () => {
    expect(isFree(square, box(50, 50, 130, 4, Math.PI / 4), 0)).toBe(true);
    expect(isFree(square, box(50, 50, 130, 4), 0)).toBe(false);
  });

  it('keeps off holes and drawn lines, and off a line that lies wholly inside the box [invariant]', () => {
    const hole = Float64Array.of(40, 40, 40, 60, 60, 60, 60, 40);
    expect(isFree({ ...square, holes: [hole] }, box(50, 50, 5, 5), 0)).toBe(false);
    expect(isFree({ ...square, holes: [hole] }, box(50, 50, 60, 60), 0)).toBe(false);
    expect(isFree({ ...square, lines: [Float64Array.of(49, 50, 51, 50)] }, box(50, 50, 60, 60), 0)).toBe(false);
  });
});

describe('boxesMeet', () => {
  it('agrees with sampling both boxes [second route]', () => {
    const random = createRandom(2);
    let met = 0;
    for (let trial = 0; trial < 300; trial++) {
      const [a, b] = [0, 1].map(() => box(40 * random(), 40 * random(), 5 + 25 * random(), 2 + 8 * random(), 6 * random()));
      const inside = ({ centre, widthMm, heightMm, angle }: Box, x: number, y: number, slack: number): boolean => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const [dx, dy] = [x - centre[0], y - centre[1]];
        return Math.abs(c * dx + s * dy) <= widthMm / 2 + slack && Math.abs(c * dy - s * dx) <= heightMm / 2 + slack;
      };
      let [surely, maybe] = [false, false];
      for (let i = 0; i <= 60; i++)
        for (let j = 0; j <= 60; j++) {
          const [p, q] = [((i / 60) * 2 - 1) * (a.widthMm / 2), ((j / 60) * 2 - 1) * (a.heightMm / 2)];
          const [c, s] = [Math.cos(a.angle), Math.sin(a.angle)];
          const [x, y] = [a.centre[0] + c * p - s * q, a.centre[1] + s * p + c * q];
          surely ||= inside(b, x, y, 0);
          maybe ||= inside(b, x, y, 0.5);
        }
      const meets = boxesMeet(a, b);
      if (surely) expect(meets).toBe(true);
      if (!maybe) expect(meets).toBe(false);
      if (meets) met++;
      expect(boxesMeet(b, a)).toBe(meets);
    }
    expect(met).toBeGreaterThan(30);
    expect(met).toBeLessThan(270);
  });

  it('finds a box inside a box [closed form]', () => {
    expect(boxesMeet(box(0, 0, 50, 50), box(1, 1, 2, 2, 1))).toBe(true);
    expect(meetsNothing({ ...square, boxes: [box(50, 50, 50, 50)] }, box(50, 50, 2, 2, 1), 0)).toBe(false);
  });
});

describe('deepPlaces', () => {
  it('starts at the middle of a square, 50 mm deep to its grid’s step [closed form]', () => {
    const [{ at, depthMm }] = deepPlaces(square);
    expect(Math.abs(depthMm - 50)).toBeLessThan(2);
    expect(Math.hypot(at[0] - 50, at[1] - 50)).toBeLessThan(3);
  });

  it('moves away from what is written [invariant]', () => {
    const [{ at }] = deepPlaces({ ...square, boxes: [box(50, 50, 60, 60)] });
    expect(Math.max(Math.abs(at[0] - 50), Math.abs(at[1] - 50))).toBeGreaterThan(30);
  });
});

describe('fitBox', () => {
  it('places what fits and refuses what does not [closed form]', () => {
    const places = deepPlaces(square);
    const placed = fitBox(square, places, { widthMm: 90, heightMm: 20 }, [0], 1.5);
    expect(placed).toBeDefined();
    if (placed !== undefined) expect(isFree(square, placed, 1.5)).toBe(true);
    expect(fitBox(square, places, { widthMm: 120, heightMm: 20 }, [0], 1.5)).toBeUndefined();
  });
});
