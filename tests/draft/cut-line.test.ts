import { describe, expect, it } from 'vitest';
import { cutTabs, joinRuns, runsOf } from '../../src/draft/cut-line.ts';
import type { Run } from '../../src/draft/cut-line.ts';

const line = (...points: number[]): Run => ({
  side: 0,
  points: Float64Array.from(points),
  fractions: Float64Array.from({ length: points.length / 2 }, (_, i) => i / (points.length / 2 - 1)),
  unmoved: false,
});

describe('runsOf', () => {
  const fit = { chain: Float64Array.of(0, 0, 10, 0, 20, 0, 30, 0, 30, 10, 30, 20, 30, 30), knots: Float64Array.of(0, 0.5, 1), errorMm: 0 };

  it('moves a side to its right, and parts it at its corner [closed form]', () => {
    const [first, second] = runsOf(0, fit, [0.5], () => 4);
    expect(first.points[1]).toBe(-4);
    expect(second.points[0]).toBe(34);
    expect([first.fractions[0], second.fractions[0]]).toEqual([0, 0.5]);
    expect(first.unmoved).toBe(false);
  });

  it('leaves it alone, and says so, where nothing is added [invariant]', () => {
    const [run] = runsOf(0, fit, [], () => 0);
    expect(run.unmoved).toBe(true);
    expect(run.fractions[run.fractions.length - 1]).toBe(1);
  });
});

describe('joinRuns', () => {
  it('extends two runs around a corner to their mitre [closed form]', () => {
    const { joint } = joinRuns(line(0, -5, 10, -5), line(15, 0, 15, 10), [10, 0], 5);
    expect(joint.points).toEqual([[15, -5]]);
  });

  it('cuts a mitre off that would be longer than three reaches [common practice, no source]', () => {
    // A tip of about 20°.
    const { joint } = joinRuns(line(0, -5, 60, -5), line(60, 5, 0, 5.2), [60, 0], 5);
    expect(joint.points).toEqual([]);
  });

  it('trims two runs that cross in a bay [closed form]', () => {
    const { before, after, joint } = joinRuns(line(0, 0, 20, 0), line(15, 5, 15, -20), [20, 5], 5);
    expect(joint.points).toEqual([]);
    expect([...before.points].slice(-2)).toEqual([15, 0]);
    expect([...after.points].slice(0, 2)).toEqual([15, 0]);
    expect(before.fractions[before.fractions.length - 1]).toBeCloseTo(0.75, 12);
    expect(after.fractions[0]).toBeCloseTo(0.2, 12);
  });
});

describe('cutTabs', () => {
  it('starts and ends on the run and keeps its fractions in order [invariant]', () => {
    const run = cutTabs(line(0, 0, 30, 0, 60, 0), 8);
    expect([run.points[0], run.points[1]]).toEqual([0, 0]);
    expect([...run.points].slice(-2)).toEqual([60, 0]);
    expect([...run.fractions]).toEqual([...run.fractions].sort((a, b) => a - b));
    expect(Math.min(...run.points)).toBeCloseTo(-8, 9);
  });
});
