import { describe, expect, it } from 'vitest';
import { judgeSeam, seamLimits, walkSeam } from '../../src/draft/walk-seams.ts';

const severities = (a: number, b: number, notches: readonly (readonly [number, number])[] = [], easeMm = 0) =>
  judgeSeam({ id: 'S1', sides: ['A1', 'B2'], walk: walkSeam([a, b], notches), easeMm }).map(({ severity }) => severity);

describe('walkSeam', () => {
  it('measures stretch by stretch from the start of the first side [closed form]', () => {
    const walk = walkSeam(
      [100, 101],
      [
        [40, 40.5],
        [80, 80.5],
      ],
    );
    expect(walk.differenceMm).toBe(-1);
    expect(walk.stretches).toEqual([
      [40, 40.5],
      [40, 40],
      [20, 20.5],
    ]);
  });
});

describe('judgeSeam', () => {
  it('follows the seam rule: aim, note, warn, refuse [contract: Seams meet]', () => {
    expect(severities(200, 200.25)).toEqual([]);
    expect(severities(200, 200.6)).toEqual(['note']);
    expect(severities(200, 202.1, [[100, 101]])).toEqual(['warning']);
    expect(severities(200, 203.1)).toEqual(['severe']);
  });

  it('warns of one bad stretch in a seam that meets as a whole [contract: Seams meet]', () => {
    expect(severities(200, 200, [[100, 101.2]])).toEqual(['warning']);
    expect(severities(200, 200, [[100, 100.5]])).toEqual(['note']);
  });

  it('aims at 0.2 % on long seams [contract: Seams meet]', () => {
    const quarter = [1, 2, 3, 4].map((k) => [k * 200, k * 200.16] as const);
    expect(severities(1000, 1000.8, quarter)).toEqual([]);
    expect(seamLimits.aimShare * 1000).toBe(2);
  });

  it('lets a declared ease be [contract: Seams meet]', () => {
    expect(severities(200, 205, [], 5)).toEqual([]);
    expect(severities(200, 209, [], 5)).toEqual(['severe']);
  });
});
