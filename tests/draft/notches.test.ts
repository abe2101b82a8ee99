import { describe, expect, it } from 'vitest';
import { tickGapMm } from '../../src/draft/notch-codes.ts';
import { countNotches, drawNotch, notchShares } from '../../src/draft/notches.ts';
import { measureChain } from '../../src/plane/chain.ts';
import { arcLengths } from '../../src/plane/polyline.ts';

const borderOf = (points: Float64Array) => {
  const lengths = arcLengths(points);
  return { points, lengths, lengthMm: lengths[lengths.length - 1] };
};
const straight = (length: number) => borderOf(Float64Array.of(0, 0, length, 0));
const arc = (radius: number, angle: number) =>
  borderOf(
    Float64Array.from({ length: 202 }, (_, i) => {
      const at = (Math.floor(i / 2) / 100) * angle;
      return radius * (i % 2 === 0 ? Math.cos(at) : Math.sin(at));
    }),
  );

describe('countNotches', () => {
  it('puts notches about 60 mm apart on straights [contract: Notches]', () => {
    expect(countNotches([straight(600), straight(600)]).count).toBe(10);
    expect(countNotches([straight(240), straight(240)]).count).toBe(4);
  });

  it('puts them about 30 mm apart on curves, if only one mate curves [contract: Notches]', () => {
    const curved = arc(60, Math.PI);
    expect(countNotches([straight(curved.lengthMm), curved]).count).toBe(Math.round(curved.lengthMm / 30));
  });

  it('gives the shortest seam two [contract: Notches]', () =>
    expect(countNotches([straight(12), straight(12)])).toEqual({ count: 2, room: 2 }));
});

describe('notchShares', () => {
  it('stands none in the middle and is not symmetric [contract: Notches]', () => {
    for (let count = 2; count < 9; count++) {
      const shares = notchShares(count);
      expect(shares.length).toBe(count);
      for (const share of shares) {
        expect(share).toBeGreaterThan(0);
        expect(share).toBeLessThan(1);
        expect(Math.abs(share - 0.5)).toBeGreaterThan(0.01);
        expect(Math.min(...shares.map((other) => Math.abs(1 - other - share)))).toBeGreaterThan(0.02);
      }
    }
  });
});

describe('drawNotch', () => {
  // A seam line along +x: the part lies above it, outside is below.
  const seam = measureChain({ chain: Float64Array.of(0, 0, 100 / 3, 0, 200 / 3, 0, 100, 0), knots: Float64Array.of(0, 1) });

  it('draws as many ticks as the code says, side by side across the edge, into the part [contract: Notches]', () => {
    const { at, curves } = drawNotch(seam, 0.3, 3, { cutMm: 0, tracedMm: 0, allowanceMm: 0 }, 'tick');
    expect(at[0]).toBeCloseTo(30, 9);
    expect(curves.map(({ start }) => start[0])).toEqual([30 - tickGapMm, 30, 30 + tickGapMm].map((x) => expect.closeTo(x, 6) as number));
    for (const { start, segments } of curves) {
      expect(start[1]).toBeCloseTo(0, 9);
      expect(segments[0].to[1]).toBeCloseTo(5, 9);
    }
  });

  it('reaches past the edge of the traced face when the bevel takes it away [contract: Notches]', () => {
    const [tick] = drawNotch(seam, 0.5, 1, { cutMm: 2, tracedMm: -3, allowanceMm: 0 }, 'tick').curves;
    expect(tick.start[1]).toBeCloseTo(-2, 9);
    expect(tick.segments[0].to[1]).toBeCloseTo(8, 9);
  });

  it('cuts a slit or a V only inside an allowance, and never through the seam line [contract: Notches]', () => {
    const bare = drawNotch(seam, 0.5, 1, { cutMm: 0, tracedMm: 0, allowanceMm: 0 }, 'slit').curves[0];
    expect(bare.segments[0].to[1]).toBeGreaterThan(0);
    for (const kind of ['slit', 'v'] as const) {
      const [notch] = drawNotch(seam, 0.5, 1, { cutMm: 10, tracedMm: 10, allowanceMm: 10 }, kind).curves;
      expect(notch.start[1]).toBeCloseTo(-10, 9);
      expect(notch.segments[0].to[1]).toBeCloseTo(-5, 9);
      expect(notch.segments.length).toBe(kind === 'v' ? 2 : 1);
    }
  });
});
