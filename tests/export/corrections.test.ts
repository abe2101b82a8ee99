import { describe, expect, it } from 'vitest';
import { correctDrawing, correctionOf, correctionRows, vanishedHoles } from '../../src/export/corrections.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { boxOf } from '../../src/export/box.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import type { Drawing, LayerName } from '../../src/draft/drawing.ts';
import { handMaterial, leafPart, roundCurve, squarePart, straightCurve } from '../support/drawings.ts';

const box = (drawing: Drawing, layer: LayerName): ReturnType<typeof boxOf> =>
  boxOf(...drawing.paths.filter((path) => path.layer === layer).map((path) => flattenCurve(path.curve, 0.001)));

describe('correctDrawing', () => {
  it('sends a 100 mm square out as 102.84 mm for 2 % shrink and 0.8 mm kerf [issue 6: 100/0.98 + 0.8]', () => {
    const { minX, maxX, minY, maxY } = box(correctDrawing(squarePart().drawing, { shrink: 0.02, kerfMm: 0.8 }), 'CUT');
    expect(maxX - minX).toBeCloseTo(100 / 0.98 + 0.8, 3);
    expect(maxY - minY).toBeCloseTo(102.84, 2);
  });
  it('makes outlines larger and holes smaller by half the kerf a side [closed form]', () => {
    const part = squarePart(100, { holes: [roundCurve([50, 50], 20, 20, true)] });
    const after = correctDrawing(part.drawing, { shrink: 0, kerfMm: 0.6 });
    expect(box(after, 'CUT')).toEqual({ minX: -0.3, minY: -0.3, maxX: 100.3, maxY: 100.3 });
    const hole = box(after, 'CUT_INSIDE');
    expect(hole.maxX - hole.minX).toBeCloseTo(40 - 0.6, 2);
  });
  it('keeps the way round of every cut line [invariant]', () => {
    const part = squarePart(100, { holes: [roundCurve([50, 50], 20, 20, true)] });
    const after = correctDrawing(part.drawing, { shrink: 0.1, kerfMm: 0.6 });
    const areas = after.paths.slice(0, 2).map((path) => signedArea(flattenCurve(path.curve, 0.01)));
    expect(areas[0]).toBeGreaterThan(0);
    expect(areas[1]).toBeLessThan(0);
  });
  it('leaves everything but cut lines alone when only kerf is set [contract: once each]', () => {
    const before = leafPart().drawing;
    const after = correctDrawing(before, { shrink: 0, kerfMm: 0.8 });
    expect(after.labels).toEqual(before.labels);
    const marks = (drawing: Drawing): unknown => drawing.paths.filter(({ layer }) => layer !== 'CUT' && layer !== 'CUT_INSIDE');
    expect(marks(after)).toEqual(marks(before));
  });
  it('carries ticks, arrows and letters with a shrinking sheet without changing their size [invariant]', () => {
    const before = leafPart().drawing;
    const after = correctDrawing(before, { shrink: 0.125, kerfMm: 0 });
    const size = (drawing: Drawing, layer: LayerName): number[] =>
      drawing.paths
        .filter((path) => path.layer === layer)
        .map((path) => boxOf(flattenCurve(path.curve, 0.01)))
        .map((b) => b.maxX - b.minX + b.maxY - b.minY)
        .sort((a, b) => a - b);
    for (const layer of ['NOTCH', 'ARROW', 'TEXT'] as const)
      for (const [k, value] of size(after, layer).entries()) expect(value).toBeCloseTo(size(before, layer)[k], 9);
    const notch = after.paths.filter(({ layer }) => layer === 'NOTCH')[0];
    expect(notch.curve.start[0]).toBeCloseTo(172.5 / 0.875, 9);
  });
  it('keeps the letters of a label together when the sheet shrinks [invariant]', () => {
    const { drawing } = leafPart();
    const after = correctDrawing(drawing, { shrink: 0.125, kerfMm: 0 });
    const width = (d: Drawing): number => {
      const strokes = d.paths.filter(({ layer }) => layer === 'TEXT').slice(0, 12);
      const b = boxOf(...strokes.map((path) => flattenCurve(path.curve, 0.01)));
      return b.maxX - b.minX;
    };
    expect(width(after)).toBeCloseTo(width(drawing), 9);
  });
  it('is the same object when nothing is to be corrected', () => {
    const { drawing } = squarePart();
    expect(correctDrawing(drawing, { shrink: 0, kerfMm: 0 })).toBe(drawing);
  });
  it('does not move an open slit [contract]', () => {
    const slit: Drawing = {
      labels: [],
      paths: [
        {
          layer: 'CUT',
          curve: straightCurve(
            [
              [0, 0],
              [9, 0],
            ],
            false,
          ),
        },
      ],
    };
    expect(correctDrawing(slit, { shrink: 0, kerfMm: 1 })).toEqual(slit);
  });
});

describe('correctionOf', () => {
  it('takes the kerf of the tool and the shrink, with their sources', () => {
    const material = handMaterial({
      kerfMm: { hand: { value: 0, source: 'a' }, knife: { value: 0.2, source: 'b' }, laser: { value: 0.8, source: 'c' } },
    });
    expect(correctionOf(squarePart(), material, 'laser')).toMatchObject({ kerfMm: 0.8, kerfSource: 'c', shrink: 0, part: 'square.1.C' });
    expect(correctionOf(squarePart(), material, 'knife').kerfMm).toBe(0.2);
  });
});

describe('vanishedHoles', () => {
  it('counts holes that are narrower than the kerf, and no others [closed form: width less kerf below nought]', () => {
    const part = squarePart(100, { holes: [roundCurve([30, 50], 0.35, 0.35, true), roundCurve([60, 50], 0.5, 0.5, true)] });
    const after = correctDrawing(part.drawing, { shrink: 0, kerfMm: 0.8 });
    expect(vanishedHoles(part.drawing, after)).toBe(1);
    expect(vanishedHoles(part.drawing, correctDrawing(part.drawing, { shrink: 0, kerfMm: 0.6 }))).toBe(0);
  });
});

describe('correctionRows', () => {
  it('has no row where there is nothing to correct [contract: once each]', () => {
    const correction = correctionOf(squarePart(), handMaterial(), 'hand');
    expect(correctionRows([correction], [1, 1])).toEqual([]);
    expect(correctionRows([correction], [1.02, 1]).map(({ kind }) => kind)).toEqual(['print-factor']);
  });
});
