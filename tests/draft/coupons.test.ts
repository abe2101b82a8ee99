import { describe, expect, it } from 'vitest';
import { couponDrawing, figuresFrom, materialFromCoupon } from '../../src/draft/coupons.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { materialOf, materials } from '../../src/materials/index.ts';
import { boxOf, containsPoint, signedArea } from '../../src/plane/polygon.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';
import { textWidth } from '../../src/draft/lettering.ts';

describe('couponDrawing', () => {
  it('has a kerf square of 100 mm and two strips with marks 100 mm apart [contract: coupons]', () => {
    const { paths } = couponDrawing(materialOf('eva-6'));
    const areas = paths.filter(({ layer }) => layer === 'CUT').map(({ curve }) => signedArea(flattenCurve(curve, 0.01)));
    expect(areas).toEqual([10_000, 5000, 5000]);
    const marks = paths.filter(({ layer }) => layer === 'DRAWN').map(({ curve }) => curve.start[0]);
    expect(marks[1] - marks[0]).toBe(100);
    expect(marks[3] - marks[2]).toBe(100);
  });

  it('fits an A4 page with 10 mm margins, and no word crosses a cut or a mark, for every material [contract: text never crosses]', () => {
    for (const material of materials) {
      const { paths, labels } = couponDrawing(material);
      const lines = paths.filter(({ layer }) => layer !== 'TEXT').map(({ curve }) => flattenCurve(curve, 0.01));
      const { min, max } = boxOf(Float64Array.from(lines.flatMap((line) => [...line])));
      expect(max[0] - min[0]).toBeLessThanOrEqual(277);
      expect(max[1] - min[1]).toBeLessThanOrEqual(190);
      for (const { text, at, heightMm } of labels) {
        const width = textWidth(text, heightMm);
        for (const line of lines)
          for (let k = 0; k <= 20; k++)
            expect(
              distanceToPolyline(line, line.length > 4, at[0] + (k / 20) * width, at[1] + heightMm / 2),
              `${material.id}: ${text}`,
            ).toBeGreaterThan(heightMm / 2);
        const cuts = lines.filter((line) => line.length > 4);
        expect(
          cuts.some((cut) => containsPoint(cut, ...at) && containsPoint(cut, at[0] + width, at[1])),
          `${material.id}: ${text}`,
        ).toBe(true);
      }
    }
  });
});

describe('figuresFrom', () => {
  it('reads kerf and shrink off the square: each side loses half a kerf on either end [closed form]', () => {
    const { kerfMm, shrink } = figuresFrom({ squareMm: [99.1, 99.3], heatedMm: 97.216 });
    expect(kerfMm).toBeCloseTo(0.8, 12);
    expect(shrink).toBeCloseTo(0.02, 12);
  });

  it('finds the neutral factor of a bend of known radius [closed form: arcs θ·R and θ·(R + t) of marks 100 apart when flat]', () => {
    // k = 0.6, t = 10, R = 50: the neutral plane keeps 100 = θ·(R + 6).
    const turn = 100 / 56;
    expect(figuresFrom({ arcMm: { inner: turn * 50, outer: turn * 60 } }).neutralFactor).toBeCloseTo(0.6, 12);
  });

  it('turns gauge lengths into strain limits and leaves out what was not measured [closed form]', () => {
    const figures = figuresFrom({ stretchedMm: { cold: 103, hot: 112 } });
    expect(figures.stretchCold).toBeCloseTo(0.03, 12);
    expect(figures.stretchHot).toBeCloseTo(0.12, 12);
    expect(Object.keys(figures)).toEqual(['stretchCold', 'stretchHot']);
  });
});

describe('materialFromCoupon', () => {
  const eva = materialOf('eva-6');

  it('replaces what was measured, by the tool that cut the square, and nothing else [closed form, invariant]', () => {
    const own = materialFromCoupon(
      eva,
      { thicknessMm: 5.6, squareMm: [99.2, 99.4], stretchedMm: { cold: 104, hot: 115 }, leastRadiusMm: { cold: 24, hot: 10 } },
      'knife',
    );
    expect(own.kerfMm.knife.value).toBeCloseTo(0.7, 12);
    expect(own.kerfMm.laser).toEqual(eva.kerfMm.laser);
    expect([own.realThicknessMm?.value, own.bendRadiusColdMm.value, own.bendRadiusHotMm.value]).toEqual([5.6, 24, 10]);
    expect(own.stretchCold.value).toBeCloseTo(0.04, 12);
    expect([own.stretchCold.source, own.thicknessMm, own.shrink, own.neutralFactor]).toEqual([
      'your own coupon',
      eva.thicknessMm,
      eva.shrink,
      eva.neutralFactor,
    ]);
  });

  it('gives back the material where nothing was measured [invariant]', () => expect(materialFromCoupon(eva, {}, 'hand')).toEqual(eva));

  it('refuses readings that cannot be [contract: failures]', () => {
    for (const readings of [
      { squareMm: [101, 101] },
      { squareMm: [9.92, 9.94] },
      { squareMm: [99, 99], heatedMm: 9.9 },
      { arcMm: { inner: 101, outer: 110 } },
      { stretchedMm: { cold: 98, hot: 110 } },
      { thicknessMm: 0 },
      { leastRadiusMm: { cold: Number.NaN, hot: 5 } },
    ] as const)
      expect(() => materialFromCoupon(eva, readings, 'knife'), JSON.stringify(readings)).toThrow(/draft\/coupon-reading/);
  });
});
