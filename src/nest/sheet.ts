/*
 * A sheet of stock with the parts that lie on it. Placement: mirror x (if so), turn counter-clockwise about the part's origin, move.
 */
import type { Finding } from '../base/failure.ts';

export interface PlacedPart {
  readonly part: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
  readonly mirrored: boolean;
}

export interface Sheet {
  /** sheet-1, sheet-2 … */
  readonly id: string;
  readonly stock: string;
  readonly material: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Area of the parts over area of the sheet. */
  readonly use: number;
  readonly placements: readonly PlacedPart[];
}

export interface NestResult {
  readonly sheets: readonly Sheet[];
  /** Ids of parts that fit no stock. */
  readonly unplaced: readonly string[];
  readonly findings: readonly Finding[];
}
