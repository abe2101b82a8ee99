/*
 * Coupons as files: for each material of the job what to cut from it to learn its figures. Nothing is corrected on them: kerf and shrink are
 * what they are to show.
 */
import { couponDrawing } from '../draft/coupons.ts';
import type { Drawing } from '../draft/drawing.ts';
import type { Material } from '../materials/material.ts';
import type { ExportInput, ExportOptions } from './exporter.ts';
import { refusedMaterials } from './laser-rule.ts';
import { placeDrawing } from './placement.ts';

/** The sheet that a coupon stands on: 5 mm around the drawing's 200 by 180 mm. */
const sheetMm = { width: 210, height: 190, margin: 5 } as const;

export interface CouponSheet {
  readonly material: Material;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly drawing: Drawing;
}

/** One sheet a material that the parts are cut from and the tool may have, in the order of the job's materials. */
export function couponSheets(input: Pick<ExportInput, 'parts' | 'materials'>, options: Pick<ExportOptions, 'tool'>): CouponSheet[] {
  const refused = refusedMaterials(input, options.tool);
  const used = new Set(input.parts.map(({ material }) => material));
  const materials = new Map(
    input.materials.filter(({ id }) => used.has(id) && !refused.has(id)).map((material) => [material.id, material]),
  );
  return [...materials.values()].map((material) => ({
    material,
    widthMm: sheetMm.width,
    heightMm: sheetMm.height,
    drawing: placeDrawing(couponDrawing(material), {
      part: 'coupon',
      xMm: sheetMm.margin,
      yMm: sheetMm.margin,
      angleDeg: 0,
      mirrored: false,
    }),
  }));
}

/** A material's id as part of a file name. */
export const fileStem = (id: string): string => id.replace(/[^A-Za-z0-9.-]+/g, '-');
