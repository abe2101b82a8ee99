import { describe, expect, it } from 'vitest';
import { boxesMeet, boxOf, cubicPoint, curveOfPolyline, mapCurve, polylineOf, signedArea } from '../../src/export/curve.ts';
import type { Curve } from '../../src/draft/drawing.ts';
import { roundCurve, straightCurve } from '../support/drawings.ts';

const bow: Extract<Curve['segments'][number], { kind: 'cubic' }> = { kind: 'cubic', c1: [30, 90], c2: [80, -70], to: [120, 10] };

/** Distance of a point from a polyline. */
function distanceTo(points: Float64Array, x: number, y: number): number {
  let best = Infinity;
  for (let k = 2; k < points.length; k += 2) {
    const [ax, ay, bx, by] = [points[k - 2], points[k - 1], points[k], points[k + 1]];
    const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)));
    best = Math.min(best, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return best;
}

describe('polylineOf', () => {
  it.each([1, 0.1, 0.01, 0.002])(
    'stays within %f mm of the curve, and is not ten times finer than needed [second route: dense samples]',
    (tolerance) => {
      const points = polylineOf({ start: [0, 0], segments: [bow], closed: false }, tolerance);
      let worst = 0;
      for (let k = 0; k <= 5000; k++) {
        const [x, y] = cubicPoint([0, 0], bow, k / 5000);
        worst = Math.max(worst, distanceTo(points, x, y));
      }
      expect(worst).toBeLessThanOrEqual(tolerance);
      expect(worst).toBeGreaterThan(tolerance / 10);
    },
  );
  it('does not repeat the first point of a closed curve', () => {
    expect(
      polylineOf(
        straightCurve([
          [0, 0],
          [4, 0],
          [4, 3],
        ]),
        0.01,
      ),
    ).toEqual(Float64Array.of(0, 0, 4, 0, 4, 3));
  });
  it('gives a circle of Béziers its area to the known 0.03 % [closed form: πr²]', () => {
    const area = signedArea(polylineOf(roundCurve([5, 7], 40), 0.0005));
    expect(Math.abs(area / (Math.PI * 1600) - 1)).toBeLessThan(3e-4);
  });
});

describe('mapCurve', () => {
  it('commutes with taking points, for a turn and a move [invariant]', () => {
    const turn = ([x, y]: readonly [number, number]): readonly [number, number] => [0.6 * x - 0.8 * y + 3, 0.8 * x + 0.6 * y - 2];
    const curve: Curve = { start: [0, 0], segments: [bow], closed: false };
    const after = polylineOf(mapCurve(curve, turn), 0.01);
    const before = polylineOf(curve, 0.01);
    expect(after.length).toBe(before.length);
    for (let k = 0; k < before.length; k += 2) {
      const [x, y] = turn([before[k], before[k + 1]]);
      expect(Math.hypot(after[k] - x, after[k + 1] - y)).toBeLessThan(1e-12);
    }
  });
});

describe('signedArea, boxOf, boxesMeet, curveOfPolyline', () => {
  const triangle = Float64Array.of(0, 0, 4, 0, 4, 3);
  it('is positive counter-clockwise, negative clockwise [closed form]', () => {
    expect(signedArea(triangle)).toBe(6);
    expect(signedArea(Float64Array.of(4, 3, 4, 0, 0, 0))).toBe(-6);
  });
  it('boxes hold all points, and touching boxes meet [closed form]', () => {
    expect(boxOf(triangle, Float64Array.of(-1, 5))).toEqual({ minX: -1, minY: 0, maxX: 4, maxY: 5 });
    expect(boxesMeet(boxOf(triangle), { minX: 4, minY: 3, maxX: 9, maxY: 9 })).toBe(true);
    expect(boxesMeet(boxOf(triangle), { minX: 4.1, minY: 0, maxX: 9, maxY: 9 })).toBe(false);
  });
  it('comes back from a polyline unchanged [round trip]', () => {
    expect(polylineOf(curveOfPolyline(triangle, true), 1)).toEqual(triangle);
  });
});
