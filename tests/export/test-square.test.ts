import { describe, expect, it } from 'vitest';
import { placeTestSquare } from '../../src/export/test-square.ts';
import { createRandom } from '../../src/base/random.ts';

const box = (x: number, y: number, w: number, h: number): Float64Array => Float64Array.of(x, y, x + w, y, x + w, y + h, x, y + h);

describe('placeTestSquare', () => {
  it('stands at the lower left of an empty sheet', () => {
    expect(placeTestSquare(600, 600, [])).toEqual({ at: [3, 3], free: true });
  });
  it('finds the only gap of a crowded sheet [closed form]', () => {
    const { at, free } = placeTestSquare(400, 400, [box(0, 0, 400, 200), box(0, 200, 250, 200), box(375, 200, 25, 200)]);
    expect(free).toBe(true);
    expect(at[0]).toBeGreaterThan(250);
    expect(at[0] + 100).toBeLessThan(375);
  });
  it('uses the inside of a bay, not of a part [closed form]', () => {
    const bay = Float64Array.of(0, 0, 300, 0, 300, 300, 220, 300, 220, 80, 80, 80, 80, 300, 0, 300);
    const { at, free } = placeTestSquare(300, 300, [bay]);
    expect(free).toBe(true);
    expect(at[0]).toBeGreaterThan(80);
    expect(at[0] + 100).toBeLessThan(220);
  });
  it('says when there is no free place, and covers as little as it can', () => {
    expect(placeTestSquare(300, 300, [box(10, 10, 280, 280)])).toMatchObject({ free: false });
    expect(placeTestSquare(80, 80, []).free).toBe(false);
  });
  it('never touches a part when it says that the place is free: 200 random sheets, seed 7 [second route: separating boxes]', () => {
    const random = createRandom(7);
    for (let round = 0; round < 200; round++) {
      const parts = Array.from({ length: 12 }, () => box(random() * 350, random() * 350, 20 + random() * 60, 20 + random() * 60));
      const { at, free } = placeTestSquare(400, 400, parts);
      if (!free) continue;
      for (const part of parts) expect(part[0] > at[0] + 100 || part[2] < at[0] || part[1] > at[1] + 100 || part[5] < at[1]).toBe(true);
    }
  });
});
