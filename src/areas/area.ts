/*
 * A painted area as the maker drew it: brush strokes through points in space, mm.
 */
import type { Vec3 } from '../base/arrays.ts';

export interface Stroke {
  readonly mode: 'paint' | 'erase' | 'fill';
  readonly points: readonly Vec3[];
  readonly radiusMm: number;
}

export interface AreaMark {
  readonly id: string;
  readonly name: string;
  readonly layer: number;
  readonly growMm: number;
  /** Clearance of this area in place of the job's, mm. */
  readonly clearanceMm?: number;
  readonly forming: 'bent' | 'domed';
  readonly strokes: readonly Stroke[];
}
