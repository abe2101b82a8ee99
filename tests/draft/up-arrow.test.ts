import { describe, expect, it } from 'vitest';
import { arrowCurves, arrowWidth } from '../../src/draft/up-arrow.ts';

describe('arrowCurves', () => {
  it('points to +y with a head below its tip, no wider than its room [contract: up arrow]', () => {
    const { curves, tip } = arrowCurves([10, 5], 30, 5);
    expect(tip).toEqual([10, 35]);
    const [start, end] = [curves[1].start, curves[1].segments[1].to];
    expect(start[1]).toBeLessThan(35);
    expect(end[0] - start[0]).toBeLessThan(arrowWidth(5));
    expect((start[0] + end[0]) / 2).toBeCloseTo(10, 12);
  });
});
