import { describe, expect, it } from 'vitest';
import { flattenCurve } from '../../src/draft/curve.ts';
import { boxOf } from '../../src/export/box.ts';
import { couponSheets, fileStem } from '../../src/export/coupon-sheet.ts';
import { pdfTiles } from '../../src/export/pdf-tiles.ts';
import { svg } from '../../src/export/svg.ts';
import { handInput, handMaterial, handOptions } from '../support/drawings.ts';

const shrinking = handMaterial({ shrink: { value: 0.1, source: 'coupon' } });

describe('couponSheets', () => {
  it('has one sheet a used material, all of it on the sheet, the kerf square uncorrected [contract: once each]', () => {
    const input = handInput({ materials: [shrinking, handMaterial({ id: 'eva-10', name: 'EVA foam 10 mm' })] });
    const sheets = couponSheets(input, { tool: 'laser' });
    expect(sheets.map(({ material }) => material.id)).toEqual(['eva-6']);
    const { paths } = sheets[0].drawing;
    const all = boxOf(...paths.map(({ curve }) => flattenCurve(curve, 0.01)));
    expect(Math.min(all.minX, all.minY)).toBeGreaterThan(0);
    expect(all.maxX).toBeLessThan(sheets[0].widthMm);
    expect(all.maxY).toBeLessThan(sheets[0].heightMm);
    const square = boxOf(
      ...paths
        .filter(({ layer }) => layer === 'CUT')
        .map(({ curve }) => flattenCurve(curve, 0.01))
        .slice(0, 1),
    );
    expect([square.maxX - square.minX, square.maxY - square.minY]).toEqual([100, 100]);
  });

  it('has none of a material that the laser must not have [contract: laser]', () => {
    const input = handInput({ materials: [handMaterial({ name: 'PVC' })] });
    expect(couponSheets(input, { tool: 'laser' })).toEqual([]);
    expect(couponSheets(input, { tool: 'knife' }).length).toBe(1);
  });
});

describe('coupon files', () => {
  it('leave with the SVG drawings and with the PDF pages [issue 6: a printable coupon file]', async () => {
    const paths = async (exporter: typeof svg): Promise<string[]> =>
      (await exporter.write(handInput(), handOptions)).map(({ path }) => path);
    expect(await paths(svg)).toEqual(['sheets/sheet-1.svg', 'parts/coupon-eva-6.svg']);
    expect(await paths(pdfTiles)).toContain('parts/coupons.tiles-a4.pdf');
  });
});

describe('fileStem', () => {
  it('keeps to letters, digits, dots and dashes', () => expect(fileStem('Öl/../eva 6.5')).toBe('-l-..-eva-6.5'));
});
