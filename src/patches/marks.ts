/*
 * All marks of a job: the job's `marks` field.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { AreaMark } from '../areas/area.ts';
import type { LineMark, PointMark } from '../lines/line.ts';

export interface Marks {
  readonly mirrored: boolean;
  readonly areas: readonly AreaMark[];
  readonly lines: readonly LineMark[];
  readonly points: readonly PointMark[];
  readonly names: readonly { readonly at: Vec3; readonly name: string }[];
}
