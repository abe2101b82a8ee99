import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import type { DistanceGrid } from '../../src/standoff/distance-grid.ts';
import { forEachNode, interpolateBand, nodeValue, sampleBand } from '../../src/standoff/distance-grid.ts';

const box = { min: [-60, -60, -60], max: [60, 60, 60] } as const;
const ball = (x: number, y: number, z: number): number => Math.hypot(x, y, z) - 40;
/** A field with folds and thin gaps that still changes by no more than 1 a mm. */
const rough = (x: number, y: number, z: number): number =>
  Math.min(Math.abs(Math.abs(x) - 12) - 1.2, Math.abs(Math.hypot(x - 9, y, z) - 30) - 1.5, Math.abs(y + z) / 2 - 1);

/** Cubes whose inside or outside corners touch only across a diagonal, by flooding the corners along the cube's edges inside each square and cube. */
function diagonalContacts(grid: DistanceGrid): number {
  let contacts = 0;
  forEachNode(grid, (i, j, k) => {
    const inside = (c: number): boolean => nodeValue(grid, i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2)) < 0;
    for (let c = 0; c < 8; c++)
      for (let d = c + 1; d < 8; d++) {
        const across = c ^ d;
        if (across === 1 || across === 2 || across === 4 || inside(c) !== inside(d)) continue;
        // Joined if a path of edges through corners of the same kind leads from c to d within the smallest box that holds both.
        const reached = new Set([c]);
        for (const corner of reached)
          for (const bit of [1, 2, 4]) if ((across & bit) !== 0 && inside(corner ^ bit) === inside(c)) reached.add(corner ^ bit);
        if (!reached.has(d)) contacts++;
      }
  });
  return contacts;
}

describe('sampleBand', () => {
  it('holds the field itself at every node beside the level, and the right sign everywhere [second route]', async () => {
    const grid = await sampleBand(ball, box, 3, quietRun);
    let beside = 0;
    for (let i = 0; i < 40; i++)
      for (let j = 0; j < 40; j++)
        for (let k = 0; k < 40; k++) {
          const exact = ball(-60 + 3 * i, -60 + 3 * j, -60 + 3 * k);
          expect(nodeValue(grid, i, j, k) < 0).toBe(exact < 0);
          if (Math.abs(exact) > 5) continue;
          beside++;
          expect(nodeValue(grid, i, j, k)).toBe(exact);
        }
    expect(beside).toBeGreaterThan(5000);
  });
  it('keeps a band only: fewer than a third of the nodes of a ball [invariant]', async () => {
    const grid = await sampleBand(ball, { min: [-120, -120, -120], max: [120, 120, 120] }, 3, quietRun);
    expect(grid.values.length).toBeLessThan((80 * 80 * 80) / 3);
  });
  it('leaves no corners of one kind that touch only across a diagonal [latecki1997 definition]', async () => {
    const grid = await sampleBand(rough, box, 3, quietRun);
    expect(diagonalContacts(grid)).toBe(0);
  });
});

describe('interpolateBand', () => {
  it('gives back a linear field and its slope exactly [closed form]', async () => {
    const grid = await sampleBand((x, y, z) => 0.6 * x - 0.48 * y + 0.64 * z - 3, box, 3, quietRun);
    for (const [x, y, z] of [
      [5, 0, 0],
      [1.3, -4.1, 0.4],
      [7.7, 3.2, -1.9],
    ]) {
      const [value, ...slope] = interpolateBand(grid, x, y, z);
      expect(value).toBeCloseTo(0.6 * x - 0.48 * y + 0.64 * z - 3, 9);
      [0.6, -0.48, 0.64].forEach((g, k) => {
        expect(slope[k]).toBeCloseTo(g, 9);
      });
    }
  });
});
