/*
 * Lines and fittings as the maker drew them: points in space, mm, and what the line is for.
 */
import type { Vec3 } from '../base/arrays.ts';

export type LineKind = 'seam' | 'dart' | 'opening' | 'drawn' | 'reference';

export interface LineMark {
  readonly id: string;
  readonly kind: LineKind;
  readonly path: 'shortest' | 'plane' | 'smooth';
  readonly closed: boolean;
  readonly mirror: boolean;
  readonly points: readonly Vec3[];
  /** Depth and opening angle of a creased drawn line. */
  readonly crease?: { readonly depthMm: number; readonly angleDeg: number };
}

export type FittingKind = 'strap' | 'snap' | 'magnet' | 'buckle';

export interface PointMark {
  readonly id: string;
  readonly kind: FittingKind;
  readonly at: Vec3;
}
