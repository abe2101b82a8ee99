import { describe, expect, it } from 'vitest';
import { bladeDefaults, holderPath, withOvercut } from '../../src/export/blade.ts';

const square = Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10);

describe('withOvercut', () => {
  it('closes a closed path and leaves an open one [closed form]', () => {
    expect(withOvercut(square, true, 0)).toEqual([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 0],
    ]);
    expect(withOvercut(square, false, 3).length).toBe(4);
  });
  it('goes on by the overcut, round corners too [closed form]', () => {
    expect(withOvercut(square, true, 2).at(-1)).toEqual([2, 0]);
    expect(withOvercut(square, true, 13).slice(-2)).toEqual([
      [10, 0],
      [10, 3],
    ]);
  });
});

describe('holderPath', () => {
  it('is off by default', () => {
    expect(bladeDefaults).toEqual({ offsetMm: 0, overcutMm: 0 });
    const tip = withOvercut(square, true, 0);
    expect(holderPath(tip, 0)).toBe(tip);
  });
  it('runs ahead of the tip by the offset, and swings about a corner at that distance [closed form: drag blade]', () => {
    const axis = holderPath(
      [
        [0, 0],
        [10, 0],
        [10, 10],
      ],
      0.25,
    );
    expect(axis[0]).toEqual([0.25, 0]);
    expect(axis[1]).toEqual([10.25, 0]);
    for (const [x, y] of axis.slice(1, -1)) expect(Math.hypot(x - 10, y)).toBeCloseTo(0.25, 12);
    expect(axis.at(-1)?.[1]).toBeCloseTo(10.25, 12);
    expect(axis.length).toBeGreaterThan(9);
  });
  it('trailed by a blade, leaves the tip on the path [second route: tractrix step by step]', () => {
    const axis = holderPath(
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [20, 10],
      ],
      0.25,
    );
    let [x, y] = [0, 0];
    let worst = 0;
    for (let k = 1; k < axis.length; k++)
      for (let step = 1; step <= 200; step++) {
        const [hx, hy] = [0, 1].map((i) => axis[k - 1][i] + ((axis[k][i] - axis[k - 1][i]) * step) / 200);
        const pull = Math.hypot(hx - x, hy - y) || 1;
        [x, y] = [hx + ((x - hx) * 0.25) / pull, hy + ((y - hy) * 0.25) / pull];
        const off = Math.min(distance(x, y, 0, 0, 10, 0), distance(x, y, 10, 0, 10, 10), distance(x, y, 10, 10, 20, 10));
        worst = Math.max(worst, off);
      }
    expect(worst).toBeLessThan(0.01);
  });
});

function distance(x: number, y: number, ax: number, ay: number, bx: number, by: number): number {
  const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)));
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}
