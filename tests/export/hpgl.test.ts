import { describe, expect, it } from 'vitest';
import { hpgl, hpglReachMm, splitSheet, writeHpgl } from '../../src/export/hpgl.ts';
import { bladeDefaults } from '../../src/export/blade.ts';
import { handInput, handOptions, handSheet, straightCurve } from '../support/drawings.ts';

const field = { x: 0, y: 0, widthMm: 600, heightMm: 600 };

describe('writeHpgl', () => {
  it('draws a 100 mm square with 4000 units a side [closed form: 40 units a mm]', () => {
    const square = straightCurve([
      [10, 10],
      [110, 10],
      [110, 110],
      [10, 110],
    ]);
    const text = writeHpgl(
      { sheet: handSheet([]), drawing: { labels: [], paths: [{ layer: 'CUT', curve: square }] } },
      field,
      bladeDefaults,
    );
    expect(text).toBe('IN;\nSP4;\nPU400,400;PD4400,400,4400,4400,400,4400,400,400;\nPU0,0;SP0;\n');
  });
  it('rounds each point from its exact value, so that a thousand steps of 0.33 mm end where they should [closed form]', () => {
    const zigzag = straightCurve(
      Array.from({ length: 1001 }, (_, k) => [0.33 * k, k % 2] as const),
      false,
    );
    const text = writeHpgl(
      { sheet: handSheet([]), drawing: { labels: [], paths: [{ layer: 'DRAWN', curve: zigzag }] } },
      field,
      bladeDefaults,
    );
    expect(text).toContain(',13200,0;');
  });
});

describe('splitSheet', () => {
  it('keeps what fits in one field, and splits what does not evenly [closed form: 32767 · 0.025]', () => {
    expect(hpglReachMm).toBe(819);
    expect(splitSheet(819, 600).length).toBe(1);
    expect(splitSheet(1000, 600)).toEqual([
      { x: 0, y: 0, widthMm: 500, heightMm: 600 },
      { x: 500, y: 0, widthMm: 500, heightMm: 600 },
    ]);
  });
});

describe('hpgl', () => {
  it('writes the same bytes each time, ASCII only [invariant]', async () => {
    const [first] = await hpgl.write(handInput(), handOptions);
    const [second] = await hpgl.write(handInput(), handOptions);
    expect(first.path).toBe('sheets/sheet-1.hpgl');
    expect(first.bytes).toEqual(second.bytes);
    expect(Math.max(...(first.bytes as Uint8Array))).toBeLessThan(127);
  });
});
