import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { segmentsMeet } from '../../src/plane/predicates.ts';
import { boxOf, centroidOf, containsPoint, crossesItself, depthInside, perimeterOf, signedArea } from '../../src/plane/polygon.ts';
import { reversed } from '../../src/plane/polyline.ts';

const square = Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10);
const triangle = Float64Array.of(1000, 1000, 1003, 1000, 1000, 1004);

describe('signedArea', () => {
  it('is positive counter-clockwise and turns its sign with the order [closed form]', () => {
    expect(signedArea(square)).toBe(100);
    expect(signedArea(triangle)).toBe(6);
    expect(signedArea(reversed(square))).toBe(-100);
  });
});

describe('centroidOf', () => {
  it('is the mean of the corners of a triangle [closed form]', () => {
    const [x, y] = centroidOf(triangle);
    expect(x).toBeCloseTo(1001, 9);
    expect(y).toBeCloseTo(1000 + 4 / 3, 9);
    expect(centroidOf(square)).toEqual([5, 5]);
  });
});

describe('perimeterOf', () => {
  it('goes all the way round [closed form]', () => {
    expect(perimeterOf(square)).toBe(40);
    expect(perimeterOf(triangle)).toBe(12);
  });
});

describe('boxOf', () => {
  it('holds all points tightly [closed form]', () => expect(boxOf(triangle)).toEqual({ min: [1000, 1000], max: [1003, 1004] }));
});

describe('containsPoint', () => {
  it('agrees with the winding angle on random stars [second route]', () => {
    const random = createRandom(11);
    const star = Float64Array.from({ length: 40 }, (_, i) => {
      const angle = (Math.floor(i / 2) / 20) * 2 * Math.PI;
      const radius = 20 + 80 * (i % 2 === 0 ? random() : 0);
      return i % 2 === 0 ? radius * Math.cos(angle) : 0;
    });
    for (let i = 0; i < 40; i += 2) {
      const angle = (i / 40) * 2 * Math.PI;
      const radius = 20 + 80 * random();
      star[i] = radius * Math.cos(angle);
      star[i + 1] = radius * Math.sin(angle);
    }
    for (let i = 0; i < 400; i++) {
      const [x, y] = [200 * random() - 100, 200 * random() - 100];
      let turn = 0;
      for (let k = 0; k < 40; k += 2) {
        const [ax, ay, bx, by] = [star[k] - x, star[k + 1] - y, star[(k + 2) % 40] - x, star[(k + 3) % 40] - y];
        turn += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
      }
      expect(containsPoint(star, x, y)).toBe(Math.abs(turn) > Math.PI);
    }
  });
});

describe('depthInside', () => {
  it('is the distance to the nearest border, negative outside and in holes [closed form]', () => {
    const hole = Float64Array.of(4, 4, 4, 6, 6, 6, 6, 4);
    expect(depthInside(square, [], 5, 5)).toBe(5);
    expect(depthInside(square, [hole], 5, 5)).toBe(-1);
    expect(depthInside(square, [hole], 2, 5)).toBe(2);
    expect(depthInside(square, [], -3, -4)).toBe(-5);
  });
});

describe('crossesItself', () => {
  it('tells a bow tie from a square [closed form]', () => {
    expect(crossesItself(square)).toBe(false);
    expect(crossesItself(Float64Array.of(0, 0, 10, 10, 10, 0, 0, 10))).toBe(true);
  });

  it('agrees with the test of all pairs on random polygons [second route]', () => {
    const random = createRandom(5);
    let crossed = 0;
    for (let trial = 0; trial < 60; trial++) {
      const n = 4 + Math.floor(random() * 20);
      // Some are stars (simple), some are scattered.
      const scatter = trial % 2 === 0 ? 0 : 0.6;
      const points = new Float64Array(2 * n);
      for (let i = 0; i < n; i++) {
        const angle = ((i + scatter * (random() - 0.5) * n) / n) * 2 * Math.PI;
        points[2 * i] = (50 + 40 * random()) * Math.cos(angle);
        points[2 * i + 1] = (50 + 40 * random()) * Math.sin(angle);
      }
      let slow = false;
      const edge = (i: number): [number, number, number, number] => [
        points[2 * i],
        points[2 * i + 1],
        points[2 * ((i + 1) % n)],
        points[2 * ((i + 1) % n) + 1],
      ];
      for (let i = 0; i < n; i++)
        for (let j = i + 2; j < n; j++) if (!(i === 0 && j === n - 1) && segmentsMeet(...edge(i), ...edge(j))) slow = true;
      if (slow) crossed++;
      expect(crossesItself(points)).toBe(slow);
    }
    expect(crossed).toBeGreaterThan(10);
    expect(crossed).toBeLessThan(60);
  });
});
