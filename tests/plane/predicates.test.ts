import { describe, expect, it } from 'vitest';
import { inCircle, orientation, segmentsMeet } from '../../src/plane/predicates.ts';

describe('orientation', () => {
  it('is twice the area, positive counter-clockwise with y up [closed form]', () => {
    expect(orientation(0, 0, 2, 0, 0, 3)).toBe(6);
    expect(orientation(0, 0, 0, 3, 2, 0)).toBe(-6);
  });

  it('is exactly 0 on a line where rounded arithmetic is not [second route]', () => {
    // (0.1, 0.1), (0.2, 0.2), (0.3, 0.3) as doubles lie on y = x whatever their rounding; moved by one ulp they do not.
    expect(orientation(0.1, 0.1, 0.2, 0.2, 0.3, 0.3)).toBe(0);
    const up = 0.3 + 2 ** -54 * 4;
    expect(up).toBeGreaterThan(0.3);
    expect(orientation(0.1, 0.1, 0.2, 0.2, 0.3, up)).toBeGreaterThan(0);
    expect(orientation(0.1, 0.1, 0.2, 0.2, up, 0.3)).toBeLessThan(0);
  });
});

describe('inCircle', () => {
  it('is positive inside the circle of a counter-clockwise triangle, 0 on it [closed form]', () => {
    expect(inCircle(0, 0, 1, 0, 0, 1, 0.5, 0.5)).toBeGreaterThan(0);
    expect(inCircle(0, 0, 1, 0, 0, 1, 1, 1)).toBe(0);
    expect(inCircle(0, 0, 1, 0, 0, 1, 2, 2)).toBeLessThan(0);
    expect(inCircle(0, 0, 0, 1, 1, 0, 0.5, 0.5)).toBeLessThan(0);
  });
});

describe('segmentsMeet', () => {
  it('sees crossings, touching ends and overlaps, and nothing else [closed form]', () => {
    expect(segmentsMeet(0, 0, 2, 2, 0, 2, 2, 0)).toBe(true);
    expect(segmentsMeet(0, 0, 1, 0, 1, 0, 2, 5)).toBe(true);
    expect(segmentsMeet(0, 0, 3, 0, 1, 0, 2, 0)).toBe(true);
    expect(segmentsMeet(0, 0, 1, 0, 2, 0, 3, 0)).toBe(false);
    expect(segmentsMeet(0, 0, 2, 2, 3, 2, 5, 0)).toBe(false);
    expect(segmentsMeet(0, 0, 1, 1, 0, 0.1, 1, 1.1)).toBe(false);
  });
});
