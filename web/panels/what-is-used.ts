/*
 * What a layout takes: sheets by stock, how well they are used, what the parts weigh, what the sheets cost.
 */
import type { Material } from '../../src/materials/material.ts';
import { sheetThickness } from '../../src/materials/material.ts';
import type { Stock } from '../../src/nest/settings.ts';
import type { Sheet } from '../../src/nest/sheet.ts';

export interface UsedStock {
  readonly stock: string;
  readonly sheets: number;
  /** Area of the parts over area of the sheets. */
  readonly use: number;
  readonly partsKg?: number;
  /** In the currency of the stock's price; absent without a price. */
  readonly cost?: number;
}

const mm3PerM3 = 1e9;

export function whatIsUsed(
  sheets: readonly Sheet[],
  stocks: readonly Stock[],
  materialOf: (id: string) => Material | undefined,
  parts: readonly { readonly id: string; readonly areaMm2: number }[],
): UsedStock[] {
  const areaOf = new Map(parts.map(({ id, areaMm2 }) => [id, areaMm2]));
  return [...new Set(sheets.map(({ stock }) => stock))].map((name) => {
    const own = sheets.filter(({ stock }) => stock === name);
    const material = materialOf(own[0].material);
    const price = stocks.find((stock) => stock.name === name)?.price;
    const partsMm2 = own.flatMap(({ placements }) => placements).reduce((sum, { part }) => sum + (areaOf.get(part) ?? 0), 0);
    const sheetsMm2 = own.reduce((sum, { widthMm, heightMm }) => sum + widthMm * heightMm, 0);
    return {
      stock: name,
      sheets: own.length,
      use: sheetsMm2 > 0 ? partsMm2 / sheetsMm2 : 0,
      ...(material ? { partsKg: (partsMm2 * sheetThickness(material) * material.density.value) / mm3PerM3 } : {}),
      ...(price === undefined ? {} : { cost: price * own.length }),
    };
  });
}
