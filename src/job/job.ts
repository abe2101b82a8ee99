/*
 * The job: what the maker decided and nothing else. Every length in mm; marks are points in space in the file's axes, after unit and
 * scale from tape. Fields follow the contract of the job file; everything but `body.file` has a default (`schema.ts`).
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Axis } from '../body/body.ts';
import type { FormatName, ExportOptions } from '../export/exporter.ts';
import type { MethodName } from '../flatten/flatten-method.ts';
import type { Material } from '../materials/material.ts';
import type { LengthUnit } from '../units/length.ts';

export interface MendStep {
  readonly step: string;
  readonly accept: boolean;
  readonly maxMm?: number;
  /** For cuts by a plane: a point and a normal, or a height along up. */
  readonly plane?: { readonly point: Vec3; readonly normal: Vec3 };
}

export interface JobMeasure {
  readonly name: string;
  readonly kind: 'girth' | 'length' | 'distance' | 'height';
  readonly points: readonly Vec3[];
  readonly tapeMm: number;
}

export interface JobBody {
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
  readonly measures: readonly JobMeasure[];
  readonly mirror?: { readonly point: Vec3; readonly normal: Vec3; readonly shape: 'as-is' | 'larger' | 'average' };
}

export interface JobStandoff {
  readonly clearanceMm: number;
  readonly paddingMm: number;
  readonly bridgeHollowsMm: number;
  readonly ease: readonly { readonly measure: string; readonly mm: number }[];
  /** Material ids, inner to outer. */
  readonly layers: readonly string[];
}

export interface Stroke {
  readonly mode: 'paint' | 'erase' | 'fill';
  readonly points: readonly Vec3[];
  readonly radiusMm: number;
}

export interface JobArea {
  readonly id: string;
  readonly name: string;
  readonly layer: number;
  readonly growMm: number;
  /** Clearance of this area in place of the job's, mm. */
  readonly clearanceMm?: number;
  readonly forming: 'bent' | 'domed';
  readonly strokes: readonly Stroke[];
}

export type LineKind = 'seam' | 'dart' | 'opening' | 'drawn' | 'reference';

export interface JobLine {
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

export interface JobPoint {
  readonly id: string;
  readonly kind: FittingKind;
  readonly at: Vec3;
}

export interface JobMarks {
  readonly mirrored: boolean;
  readonly areas: readonly JobArea[];
  readonly lines: readonly JobLine[];
  readonly points: readonly JobPoint[];
  readonly names: readonly { readonly at: Vec3; readonly name: string }[];
}

export interface SideDraft {
  readonly area: string;
  readonly line: string;
  readonly allowanceMm: number;
  readonly takeInMm: number;
}

export interface JobDraft {
  readonly tracedFace: 'inner' | 'outer';
  readonly notch: 'tick' | 'slit' | 'v';
  readonly bevel: boolean;
  readonly sides: readonly SideDraft[];
}

export interface Stock {
  readonly name: string;
  readonly material: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly count: number;
  readonly marginMm: number;
  readonly turns: 'any' | '180' | '90' | 'none';
  readonly price?: number;
}

export interface JobSheets {
  /** Absent: from tool and kerf. */
  readonly spacingMm?: number;
  readonly stock: readonly Stock[];
}

export interface JobOutput {
  readonly tool: ExportOptions['tool'];
  readonly formats: readonly FormatName[];
  readonly paper: ExportOptions['paper'];
  readonly printFactor: readonly [number, number];
}

export interface Job {
  readonly plastron: 1;
  readonly name: string;
  /** ISO date. */
  readonly date: string;
  readonly body: JobBody;
  readonly standoff: JobStandoff;
  readonly marks: JobMarks;
  readonly flats: { readonly method: MethodName };
  readonly draft: JobDraft;
  readonly sheets: JobSheets;
  readonly output: JobOutput;
  /** The maker's own materials and coupon values; an id of the table replaces that entry. */
  readonly materials: readonly Material[];
}
