/*
 * What the maker decided about the body: the job's `body` field.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { LengthUnit } from '../units/length.ts';
import type { Axis } from './body.ts';

export interface MendStep {
  readonly step: string;
  readonly accept: boolean;
  readonly maxMm?: number;
  /** For cuts by a plane: a point and a normal, or a height along up. */
  readonly plane?: { readonly point: Vec3; readonly normal: Vec3 };
}

export interface MeasureMark {
  readonly name: string;
  readonly kind: 'girth' | 'length' | 'distance' | 'height';
  readonly points: readonly Vec3[];
  readonly tapeMm: number;
}

export interface BodySettings {
  readonly file: string;
  readonly sha256?: string;
  readonly unit?: LengthUnit;
  /** Factor proposed from tape values and accepted by the maker. */
  readonly scale: number;
  readonly up: Axis;
  readonly front: Axis;
  /** Thickness of what the scan wore, mm. */
  readonly wornMm: number;
  readonly mend: readonly MendStep[];
  readonly measures: readonly MeasureMark[];
  readonly mirror?: { readonly point: Vec3; readonly normal: Vec3; readonly shape: 'as-is' | 'larger' | 'average' };
}
