import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { arcLengths, distanceToPolyline, furthestFrom, interpolate, locate, pointAlong, reversed } from '../../src/plane/polyline.ts';

const bend = Float64Array.of(0, 0, 3, 4, 3, 10);

describe('arcLengths', () => {
  it('adds the pieces of a 3-4-5 triangle and an upright [closed form]', () => expect([...arcLengths(bend)]).toEqual([0, 5, 11]));
});

describe('pointAlong', () => {
  it('walks along pieces and stops at the ends [closed form]', () => {
    const lengths = arcLengths(bend);
    expect(pointAlong(bend, lengths, 2.5)).toEqual([1.5, 2]);
    expect(pointAlong(bend, lengths, 8)).toEqual([3, 7]);
    expect(pointAlong(bend, lengths, -1)).toEqual([0, 0]);
    expect(pointAlong(bend, lengths, 99)).toEqual([3, 10]);
  });
});

describe('locate', () => {
  it('finds the same piece as a search from the start [second route]', () => {
    const random = createRandom(7);
    const stops = Float64Array.from({ length: 40 }, () => 100 * random()).sort();
    for (let i = 0; i < 200; i++) {
      const at = stops[0] + random() * (stops[39] - stops[0]);
      const { index, share } = locate(stops, at);
      const slow = stops.findLastIndex((stop, k) => stop <= at && k < 39);
      expect(index).toBe(slow);
      expect(stops[index] + share * (stops[index + 1] - stops[index])).toBeCloseTo(at, 10);
    }
  });
});

describe('interpolate', () => {
  it('gives a straight line back exactly and holds the end values [closed form]', () => {
    const [x, y] = [Float64Array.of(0, 1, 3), Float64Array.of(1, 3, 7)];
    expect(interpolate(x, y, 2)).toBe(5);
    expect(interpolate(x, y, -4)).toBe(1);
    expect(interpolate(x, y, 9)).toBe(7);
  });
});

describe('reversed', () => {
  it('undoes itself [invariant]', () => {
    expect([...reversed(bend)]).toEqual([3, 10, 3, 4, 0, 0]);
    expect([...reversed(reversed(bend))]).toEqual([...bend]);
  });
});

describe('distanceToPolyline', () => {
  it('measures to edges, to ends, and over the closing edge only of closed ones [closed form]', () => {
    const square = Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10);
    expect(distanceToPolyline(square, true, 1, 5)).toBe(1);
    expect(distanceToPolyline(square, false, 1, 5)).toBe(5);
    expect(distanceToPolyline(square, true, 13, 14)).toBe(5);
  });

  it('is no longer than the distance to any point of the polyline [second route]', () => {
    const random = createRandom(3);
    const points = Float64Array.from({ length: 30 }, () => 100 * random());
    const lengths = arcLengths(points);
    for (let i = 0; i < 50; i++) {
      const [x, y] = [100 * random(), 100 * random()];
      let sampled = Infinity;
      for (let k = 0; k <= 4000; k++) {
        const [px, py] = pointAlong(points, lengths, (k / 4000) * lengths[lengths.length - 1]);
        sampled = Math.min(sampled, Math.hypot(px - x, py - y));
      }
      const distance = distanceToPolyline(points, false, x, y);
      expect(distance).toBeLessThanOrEqual(sampled + 1e-12);
      expect(distance).toBeGreaterThan(sampled - 0.2);
    }
  });
});

describe('furthestFrom', () => {
  it('is one-sided: a short line lies on a long one, not the other way round [closed form]', () => {
    const [short, long] = [Float64Array.of(0, 0, 1, 0), Float64Array.of(0, 0, 5, 0)];
    expect(furthestFrom(short, long, false)).toBe(0);
    expect(furthestFrom(long, short, false)).toBe(4);
  });
});
