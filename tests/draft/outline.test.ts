import { describe, expect, it } from 'vitest';
import type { F64 } from '../../src/base/arrays.ts';
import type { BorderSide } from '../../src/draft/border.ts';
import { bordersOf } from '../../src/draft/border.ts';
import type { ReachingSide } from '../../src/draft/outline.ts';
import { cutLoops, fitSeamLines } from '../../src/draft/outline.ts';
import { measureChain, reverseChain } from '../../src/plane/chain.ts';
import { distanceToPolyline, furthestFrom } from '../../src/plane/polyline.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';

const bordersFrom = (plane: (u: number, v: number) => readonly [number, number], columns = 20, rows = 20): BorderSide[] => {
  const { patch, flat } = gridPatch({ id: 'p.1.C', columns, rows, space: (u, v) => [u, v, 0], plane });
  return bordersOf(patch, flat.positions, 'A');
};
const rectangle = (width: number, height: number) => bordersFrom((u, v) => [width * u, height * v], 2, 2);
const reaching = (
  side: BorderSide,
  cut: number | ((share: number) => number),
  allowanceMm = 0,
  join: ReachingSide['join'] = 'butt',
): ReachingSide => ({
  ...fitSeamLines([{ side, against: false }])[0],
  allowanceMm,
  join,
  reach: (share) => {
    const distance = typeof cut === 'number' ? cut : cut(share);
    return { outer: distance, inner: -distance, cut: distance };
  },
});
const loopOf = (sides: readonly ReachingSide[]) =>
  cutLoops(
    [sides],
    sides.map((_, side) => [{ part: 0, side, against: false }]),
  )[0][0];
const areaOf = (polygon: F64): number => signedArea(polygon);

describe('fitSeamLines', () => {
  it('keeps knots at the same shares on both mates, and equal lengths on mirrored gores [contract of drafting]', () => {
    const { patches, flats } = goreHemisphere(8, 100, 'bent');
    const [a, b] = [0, 1].map((k) => bordersOf(patches[k], flats[k].positions, 'AB'[k])[k === 0 ? 1 : 2]);
    const [first, second] = fitSeamLines([
      { side: a, against: false },
      { side: b, against: true },
    ]);
    expect([...first.fit.knots]).toEqual([...reverseChain(second.fit).knots]);
    expect(measureChain(first.fit).lengthMm).toBeCloseTo(measureChain(second.fit).lengthMm, 9);
    expect(Math.abs(measureChain(first.fit).lengthMm / a.lengthMm - 1)).toBeLessThan(0.001);
    expect(first.fit.errorMm).toBeLessThan(0.1);
  });

  it('makes a corner of one mate a knot of both [contract of drafting]', () => {
    const plain = rectangle(100, 100)[1];
    const kinked = bordersFrom((u, v) => [100 * u + (u === 1 ? 40 * Math.min(v, 1 - v) : 0), 100 * v])[1];
    const [first, second] = fitSeamLines([
      { side: plain, against: false },
      { side: kinked, against: true },
    ]);
    expect(second.corners.length).toBe(1);
    expect(first.corners[0]).toBeCloseTo(1 - second.corners[0], 12);
    expect([...first.fit.knots]).toContain(first.corners[0]);
    expect([...second.fit.knots]).toContain(second.corners[0]);
  });
});

describe('cutLoops', () => {
  it('is the border itself where nothing is added, corners kept [contract: Cut line]', () => {
    const { curve, polygon, mended } = loopOf(rectangle(120, 80).map((side) => reaching(side, 0)));
    expect(mended).toBe(false);
    expect(curve.segments.length).toBe(4);
    expect([...polygon].map(Math.round).sort((a, b) => a - b)).toEqual([0, 0, 0, 0, 80, 80, 120, 120]);
  });

  it('adds an even allowance with mitred corners [closed form: (w + 2a)(h + 2a)]', () => {
    expect(areaOf(loopOf(rectangle(120, 80).map((side) => reaching(side, 0, 10))).polygon)).toBeCloseTo(140 * 100, 6);
  });

  it('extends the neighbours where only one side has an allowance [closed form: w·(h + a)]', () => {
    const sides = rectangle(120, 80);
    const loop = loopOf(sides.map((side, i) => reaching(side, 0, i === 2 ? 12 : 0)));
    expect(areaOf(loop.polygon)).toBeCloseTo(120 * 92, 6);
    expect(loop.curve.segments.length).toBe(4);
  });

  it('trims the allowances of a re-entrant corner at their crossing [closed form: perimeter·a + 5 outer and 1 inner squares]', () => {
    // An L of 100 × 100 less 50 × 50: one grid edge bent into the notch. Outset by a with mitres: area + P·a + (5 − 1)·a².
    const ell = bordersFrom((u, v) => {
      const top = u <= 0.5 ? 100 : 50;
      return [100 * u, v * top];
    });
    // The grid's top edge jumps from 100 to 50 within one column: make it upright.
    const top = ell[2];
    const points = Float64Array.of(100, 50, 50, 50, 50, 100, 0, 100);
    const side: BorderSide = { ...top, points, lengths: Float64Array.of(0, 50, 100, 150), lengthMm: 150 };
    const right: BorderSide = { ...ell[1], points: Float64Array.of(100, 0, 100, 50), lengths: Float64Array.of(0, 50), lengthMm: 50 };
    const loop = loopOf([ell[0], right, side, ell[3]].map((each) => reaching(each, 0, 8)));
    expect(loop.mended).toBe(false);
    expect(areaOf(loop.polygon)).toBeCloseTo(7500 + 400 * 8 + 4 * 64, 3);
  });

  it('stands off a circle by its allowance within the offset tolerance [closed form: radius + a]', () => {
    const disc = bordersFrom(
      (u, v) => {
        const [x, y] = [2 * u - 1, 2 * v - 1];
        return [60 * x * Math.sqrt(1 - (y * y) / 2), 60 * y * Math.sqrt(1 - (x * x) / 2)];
      },
      60,
      60,
    );
    const { curve } = loopOf(disc.map((side) => reaching(side, 0, 7)));
    const points = flattenCurve(curve, 0.005);
    for (let i = 0; i < points.length; i += 2) expect(Math.abs(Math.hypot(points[i], points[i + 1]) - 67)).toBeLessThan(0.12);
  });

  it('follows a reach that changes along the side [closed form: area of a wedge]', () => {
    const sides = rectangle(120, 80);
    const loop = loopOf(sides.map((side, i) => reaching(side, i === 1 ? (share) => 6 * share : 0)));
    // A triangle of 6 × 80 / 2 and, above it, nothing: the top is extended along its own line.
    expect(areaOf(loop.polygon)).toBeCloseTo(120 * 80 + 240, 1);
  });

  it('stays within 0.1 mm of a wavy flattened border [contract of drafting]', () => {
    const wavy = bordersFrom((u, v) => [150 * u + 5 * Math.sin(6 * v), 150 * v + 8 * Math.sin(5 * u)], 60, 60);
    const { polygon } = loopOf(wavy.map((side) => reaching(side, 0)));
    for (const { points } of wavy) expect(furthestFrom(points, polygon, true)).toBeLessThan(0.1);
  });

  it('cuts off a crossing where an allowance is wider than a bay is deep, and says so [invariant]', () => {
    const bay = bordersFrom((u, v) => [100 * u, v * (100 - 30 * Math.exp(-((u - 0.5) * (u - 0.5)) / 0.02))], 80, 4);
    const loop = loopOf(bay.map((side) => reaching(side, 0, side === bay[2] ? 15 : 0)));
    expect(loop.mended).toBe(true);
    const seam = bay[2].points;
    for (let i = 0; i < loop.polygon.length; i += 2)
      if (loop.polygon[i] > 5 && loop.polygon[i] < 95 && loop.polygon[i + 1] > 1)
        expect(distanceToPolyline(seam, false, loop.polygon[i], loop.polygon[i + 1])).toBeGreaterThan(14.8);
  });

  it('stands tabs on the seam line, as high as their allowance [closed form: trapezoids]', () => {
    const sides = rectangle(120, 80);
    const { polygon } = loopOf(sides.map((side, i) => reaching(side, 0, i === 0 ? 8 : 0, i === 0 ? 'tab' : 'butt')));
    const ys = [...polygon].filter((_, i) => i % 2 === 1);
    expect(Math.min(...ys)).toBeCloseTo(-8, 6);
    // Ten tabs of 12 mm, sloped by 3 mm at either end (a quarter of a tab at most): 10 · 8 · (12 − 3).
    expect(areaOf(polygon)).toBeCloseTo(120 * 80 + 720, 3);
  });
});
