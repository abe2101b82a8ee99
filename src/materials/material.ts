/*
 * What Plastron must know about a sheet material. Every figure carries where it comes from: a source key of DEVELOPERS.md,
 * 'common practice', or 'measure a coupon'. The maker's own coupon values replace them in the job.
 */

/** A number and where it comes from. */
export interface Figure {
  readonly value: number;
  readonly source: string;
}

export type LaserRule = 'refused' | 'ask' | 'allowed';

export interface Material {
  readonly id: string;
  readonly name: string;
  readonly family: 'foam' | 'leather' | 'thermoplastic' | 'card';
  /** Nominal thickness, mm. */
  readonly thicknessMm: Figure;
  /** Thickness measured on the maker's own sheet, mm; replaces the nominal one where present (`sheetThickness`). */
  readonly realThicknessMm?: Figure;
  /** kg/m³. */
  readonly density: Figure;
  /** Place of the neutral plane as a share of the thickness from the inner face. */
  readonly neutralFactor: Figure;
  /** Strain limits, ratios, all positive. */
  readonly stretchCold: Figure;
  readonly stretchHot: Figure;
  readonly squeezeCold: Figure;
  readonly squeezeHot: Figure;
  /** Least inner bend radius, mm. */
  readonly bendRadiusColdMm: Figure;
  readonly bendRadiusHotMm: Figure;
  /** Least strip left between two cuts, mm. */
  readonly stripMm: Figure;
  /** Width that each tool removes, mm. */
  readonly kerfMm: { readonly hand: Figure; readonly knife: Figure; readonly laser: Figure };
  /** Linear shrink when formed, ratio (0.125: a side of 100 becomes 87.5). */
  readonly shrink: Figure;
  readonly laser: LaserRule;
  readonly laserReason: string;
  /** Sizes that the material is commonly sold in, mm. */
  readonly sheets?: readonly SheetSize[];
  readonly notes: readonly string[];
}

/** A size that a sheet is sold in. */
export interface SheetSize {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly source: string;
}

/** Where a figure comes from when no published source stands behind it. */
export const commonPractice = 'common practice';
export const measureCoupon = 'measure a coupon';
export const fromMemory = 'from memory, check';

/** Thickness that drafting reckons with, mm: the maker's measured one before the nominal one. */
export function sheetThickness(material: Material): number {
  return (material.realThicknessMm ?? material.thicknessMm).value;
}
