import { describe, expect, it } from 'vitest';
import { drawSheets, type SheetInput } from '../../src/export/sheet-drawing.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { boxOf } from '../../src/export/box.ts';
import type { Drawing, LayerName } from '../../src/draft/drawing.ts';
import { handMaterial, handSheet, leafPart, place, roundCurve, squarePart } from '../support/drawings.ts';

const base: SheetInput = {
  sheets: [handSheet([place('square.1.C', 50, 70), place('breast.1.L', 300, 300, 20)])],
  parts: [squarePart(), leafPart()],
  materials: [handMaterial()],
  tool: 'hand',
  jobName: 'Tide warden',
  date: '2026-11-25',
};
const box = (drawing: Drawing, layer: LayerName, part?: string): ReturnType<typeof boxOf> =>
  boxOf(...drawing.paths.filter((path) => path.layer === layer && path.part === part).map((path) => flattenCurve(path.curve, 0.001)));

describe('drawSheets', () => {
  it('puts every part of the sheet where its placement says [closed form]', () => {
    const { drawings } = drawSheets(base);
    expect(drawings.map(({ sheet }) => sheet.id)).toEqual(['sheet-1']);
    expect(box(drawings[0].drawing, 'CUT', 'square.1.C')).toEqual({ minX: 50, minY: 70, maxX: 150, maxY: 170 });
  });
  it('adds the frame of the stock and a square of exactly 100 mm away from all parts [contract]', () => {
    const { drawing } = drawSheets(base).drawings[0];
    expect(box(drawing, 'SHEET')).toEqual({ minX: 0, minY: 0, maxX: 600, maxY: 600 });
    const square = box(drawing, 'TEST_SQUARE');
    expect([square.maxX - square.minX, square.maxY - square.minY]).toEqual([100, 100]);
    for (const part of ['square.1.C', 'breast.1.L']) {
      const cut = box(drawing, 'CUT', part);
      expect(square.minX > cut.maxX || square.maxX < cut.minX || square.minY > cut.maxY || square.maxY < cut.minY).toBe(true);
    }
  });
  it('letters size, sheet, material, job and date inside the square', () => {
    const { drawing } = drawSheets(base).drawings[0];
    const square = box(drawing, 'TEST_SQUARE');
    const own = drawing.labels.filter(({ part }) => part === undefined);
    expect(own.map(({ text }) => text).join('|')).toMatch(/100 mm.*sheet-1.*eva-6.*Tide warden, 2026-11-25/);
    for (const { at, heightMm } of own) {
      expect(at[0]).toBeGreaterThan(square.minX);
      expect(at[1]).toBeGreaterThan(square.minY);
      expect(at[1] + heightMm).toBeLessThan(square.maxY);
    }
  });
  it('corrects each part once however often it is placed, and says what it did [contract: once each]', () => {
    const material = handMaterial({
      shrink: { value: 0.02, source: 'coupon' },
      kerfMm: { ...handMaterial().kerfMm, laser: { value: 0.8, source: 'coupon' } },
    });
    const drawn = drawSheets({
      ...base,
      tool: 'laser',
      materials: [material],
      sheets: [handSheet([place('square.1.C', 50, 70), place('square.1.C', 300, 70), place('square.1.C', 300, 300)])],
    });
    const cuts = drawn.drawings[0].drawing.paths.filter(({ layer }) => layer === 'CUT');
    expect(cuts.length).toBe(3);
    for (const { curve } of cuts) {
      const { minX, maxX } = boxOf(flattenCurve(curve, 0.01));
      expect(maxX - minX).toBeCloseTo(102.84, 2);
    }
    expect(drawn.corrections.map(({ part }) => part)).toEqual(['square.1.C', 'breast.1.L']);
    const notes = drawn.findings.filter(({ code }) => code === 'export/corrected');
    expect(notes.length).toBe(2);
    expect(notes[0].what).toMatch(/0\.02.*square\.1\.C, breast\.1\.L/);
    expect(notes[1].what).toMatch(/0\.4 mm.*0\.8 mm.*square\.1\.C, breast\.1\.L/);
  });
  it('says which part lost a hole that is narrower than the kerf [invariant]', () => {
    const part = squarePart(100, { holes: [roundCurve([30, 30], 0.35, 0.35, true)] });
    const vanished = (tool: SheetInput['tool']): (string | undefined)[] =>
      drawSheets({ ...base, parts: [part, leafPart()], tool })
        .findings.filter(({ code }) => code === 'export/hole-vanished')
        .map(({ where }) => where.item);
    expect(vanished('laser')).toEqual([]);
    const wide = handMaterial({ kerfMm: { ...handMaterial().kerfMm, laser: { value: 0.8, source: 'coupon' } } });
    const { findings } = drawSheets({ ...base, parts: [part, leafPart()], materials: [wide], tool: 'laser' });
    expect(findings.filter(({ code }) => code === 'export/hole-vanished').map(({ where }) => where.item)).toEqual(['square.1.C']);
    expect(vanished('hand')).toEqual([]);
  });
  it('says when the square finds no free place', () => {
    const { findings } = drawSheets({ ...base, sheets: [handSheet([place('square.1.C', 30, 30)], { widthMm: 160, heightMm: 160 })] });
    expect(findings.map(({ code }) => code)).toContain('export/test-square-over-parts');
  });
  it('names a part or a material that the job does not have', () => {
    expect(() => drawSheets({ ...base, parts: [leafPart()] })).toThrow(/export\/unknown-part/);
    expect(() => drawSheets({ ...base, materials: [] })).toThrow(/export\/unknown-material/);
  });
  it('leaves its input as it was [invariant]', () => {
    const before = JSON.stringify(base);
    drawSheets({ ...base, tool: 'laser' });
    expect(JSON.stringify(base)).toBe(before);
  });
});
