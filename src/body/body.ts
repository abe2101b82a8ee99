/*
 * The clean body: one oriented mesh in millimetres, with the account of what was done to the file to get there.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { LengthUnit } from '../units/length.ts';
import type { ScaleFit } from './scale.ts';

/** An axis of the file: a letter, with a minus sign if it points the other way. */
export type Axis = 'x' | 'y' | 'z' | '-x' | '-y' | '-z';

/** One step of mending: what it did, in numbers. */
export interface Repair {
  readonly step: string;
  readonly what: string;
  readonly count: number;
  /** Largest displacement or size that the step made, mm, where it has one. */
  readonly largestMm?: number;
  /** False where the maker refused the step: it is listed but was not done. */
  readonly done: boolean;
}

/** One tape measure beside what the mesh says. Lengths mm. */
export interface MeasureResult {
  readonly name: string;
  readonly kind: 'girth' | 'length' | 'distance' | 'height';
  readonly tapeMm: number;
  readonly meshMm: number;
  readonly differenceMm: number;
  /** Allowed difference of ISO 20685. */
  readonly allowedMm: number;
  /** Girths: along the skin, into every hollow (meshMm is the tape's line, around the hull). */
  readonly skinMm?: number;
}

/** A plane: a point on it and its unit normal. */
export interface Plane {
  readonly point: Vec3;
  readonly normal: Vec3;
}

export interface Body {
  /** mm, in the file's axes. */
  readonly mesh: HalfEdgeMesh;
  readonly unit: LengthUnit;
  readonly unitFrom: 'given' | 'file' | 'guess';
  /** Extra factor on top of the unit (tape scale that the maker accepted); 1 when none. */
  readonly scale: number;
  readonly up: Axis;
  readonly front: Axis;
  readonly mirror?: Plane;
  readonly measures: readonly MeasureResult[];
  /** The scale that the tape values propose; absent without tape values. */
  readonly scaleFit?: ScaleFit;
  /** Thickness of what the scan wore, mm: the skin lies so far inside the mesh. */
  readonly wornMm?: number;
  readonly repairs: readonly Repair[];
  readonly findings: readonly Finding[];
  /** Hash of positions and faces, hexadecimal: equal content, equal hash. */
  readonly hash: string;
}
