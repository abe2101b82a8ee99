import { describe, expect, it } from 'vitest';
import type { F64 } from '../../src/base/arrays.ts';
import { combinePolygons, offsetPolygons, resolveCrossings } from '../../src/plane/offset.ts';
import { signedArea } from '../../src/plane/polygon.ts';

const rectangle = (x: number, y: number, width: number, height: number): Float64Array =>
  Float64Array.of(x, y, x + width, y, x + width, y + height, x, y + height);
const areaOf = (polygons: readonly F64[]): number => polygons.reduce((sum, polygon) => sum + signedArea(polygon), 0);

describe('offsetPolygons', () => {
  it('adds perimeter·d + π·d² with round joins [closed form: Steiner]', () => {
    const grown = offsetPolygons([rectangle(0, 0, 100, 60)], 5, { arcToleranceMm: 0.001 });
    expect(areaOf(grown)).toBeCloseTo(100 * 60 + 320 * 5 + Math.PI * 25, 1);
  });

  it('adds d on every side with mitres, and takes it away when shrinking [closed form]', () => {
    expect(areaOf(offsetPolygons([rectangle(0, 0, 100, 60)], 5, { join: 'miter' }))).toBeCloseTo(110 * 70, 6);
    expect(areaOf(offsetPolygons([rectangle(0, 0, 100, 60)], -5, { join: 'miter' }))).toBeCloseTo(90 * 50, 6);
    expect(offsetPolygons([rectangle(0, 0, 100, 60)], -31)).toEqual([]);
  });

  it('shrinks a hole while its outline grows, and keeps their senses [closed form]', () => {
    const hole = Float64Array.of(20, 20, 20, 40, 40, 40, 40, 20);
    const grown = offsetPolygons([rectangle(0, 0, 100, 60), hole], 5, { join: 'miter' });
    expect(grown.map((ring) => Math.round(signedArea(ring))).sort((a, b) => a - b)).toEqual([-100, 7700]);
  });
});

describe('combinePolygons', () => {
  it('obeys area(A) + area(B) = area(A ∪ B) + area(A ∩ B) [invariant]', () => {
    const [a, b] = [rectangle(0, 0, 10, 10), Float64Array.of(5, -3, 14, 4, 6, 12)];
    const union = areaOf(combinePolygons('union', [a], [b]));
    const intersection = areaOf(combinePolygons('intersection', [a], [b]));
    expect(union + intersection).toBeCloseTo(signedArea(a) + signedArea(b), 2);
    expect(areaOf(combinePolygons('difference', [a], [b]))).toBeCloseTo(signedArea(a) - intersection, 2);
    expect(intersection).toBeGreaterThan(10);
  });
});

describe('resolveCrossings', () => {
  it('keeps the counter-clockwise lobe of a figure eight and drops the other [closed form]', () => {
    // Two triangles of 25 mm² that meet in (5, 5); the lower one is run counter-clockwise.
    const eight = Float64Array.of(0, 0, 10, 0, 0, 10, 10, 10);
    expect(areaOf(resolveCrossings([eight]))).toBeCloseTo(25, 6);
  });
});
