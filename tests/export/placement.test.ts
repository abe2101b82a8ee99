import { describe, expect, it } from 'vitest';
import { moved, motionOf, placeDrawing } from '../../src/export/placement.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import type { Drawing } from '../../src/draft/drawing.ts';
import { boxLetters, leafPart, place } from '../support/drawings.ts';

describe('motionOf', () => {
  it('mirrors x first, then turns counter-clockwise, then moves [contract]', () => {
    expect(moved(motionOf(place('p', 10, 20, 90, true)), [3, 4])).toEqual([10 - 4, 20 - 3]);
    expect(moved(motionOf(place('p', 10, 20, 90)), [3, 4])).toEqual([10 - 4, 20 + 3]);
  });
  it.each([0, 90, 180, 270, -90, 360, 450])('is exact at %i degrees [closed form]', (angleDeg) => {
    const { a, b } = motionOf(place('p', 0, 0, angleDeg));
    expect(Math.abs(a) + Math.abs(b)).toBe(1);
  });
  it('keeps lengths at any angle [invariant]', () => {
    const motion = motionOf(place('p', 7, -3, 123.4, true));
    const [x, y] = moved(motion, [30, 40]);
    const [x0, y0] = moved(motion, [0, 0]);
    expect(Math.hypot(x - x0, y - y0)).toBeCloseTo(50, 12);
  });
});

describe('placeDrawing', () => {
  const { drawing } = leafPart();
  it('turns the outline over when mirrored, and only then [invariant]', () => {
    const area = (d: Drawing): number => signedArea(flattenCurve(d.paths[0].curve, 0.01));
    expect(area(placeDrawing(drawing, place('p', 5, 5, 33)))).toBeCloseTo(area(drawing), 6);
    expect(area(placeDrawing(drawing, place('p', 5, 5, 33, true)))).toBeCloseTo(-area(drawing), 6);
  });
  it.each([false, true])(
    'letters spell the label from its left end, not mirrored (mirrored placement: %s) [second route: lettered afresh]',
    (mirrored) => {
      const placed = placeDrawing(drawing, place('p', 300, 200, 61, mirrored));
      const wanted = placed.labels.flatMap(boxLetters);
      const strokes = placed.paths.filter(({ layer }) => layer === 'TEXT');
      expect(strokes.length).toBe(wanted.length);
      for (const [k, stroke] of strokes.entries()) {
        const [a, b] = [flattenCurve(stroke.curve, 1), flattenCurve(wanted[k].curve, 1)];
        for (let i = 0; i < a.length; i++) expect(Math.abs(a[i] - b[i])).toBeLessThan(1e-9);
      }
    },
  );
  it('a mirrored label keeps to the mirrored place of its box [invariant]', () => {
    const plain = placeDrawing(drawing, place('p', 0, 0, 0));
    const mirrored = placeDrawing(drawing, place('p', 0, 0, 0, true));
    const width = 0.9 * 6 * (drawing.labels[0].text.length - 1) + 0.6 * 6;
    expect(mirrored.labels[0].at[0]).toBeCloseTo(-(plain.labels[0].at[0] + width), 9);
    expect(mirrored.labels[0].at[1]).toBeCloseTo(plain.labels[0].at[1], 9);
  });
});
