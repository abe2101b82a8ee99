/*
 * The contract of an exporter: one record a file, one line in `index.ts`.
 */
import type { F64, U32, U8 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import type { Axis } from '../body/body.ts';
import type { DraftedPart, DraftedSeam } from '../draft/drafted-part.ts';
import type { Drawing } from '../draft/drawing.ts';
import type { Material } from '../materials/material.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { Sheet } from '../nest/sheet.ts';
import type { BladeSettings } from './blade.ts';

export type FormatName = 'svg' | 'dxf-r12' | 'dxf-2000' | 'dxf-sewn' | 'pdf' | 'pdf-tiles' | 'hpgl' | 'glb' | 'build-sheet' | 'zip';

export interface OutputFile {
  /** Path below `out/`, with forward slashes. */
  readonly path: string;
  readonly format: FormatName | 'report';
  readonly mediaType: string;
  readonly bytes: U8;
  readonly sheet?: string;
  /** What the maker should know about this file (split, letters replaced). */
  readonly findings?: readonly Finding[];
}

export interface ExportOptions {
  readonly tool: 'hand' | 'knife' | 'laser';
  readonly paper: 'a4' | 'a3' | 'letter' | 'legal' | 'a1' | 'a0' | 'roll-610' | 'roll-914';
  /** Measured X and Y print factors (measured / wanted), compensated once in printed files. */
  readonly printFactor: readonly [number, number];
  /** ISO date of the job: dates, PDF ids and zip times derive from it. */
  readonly date: string;
  /** Blade offset and overcut for HPGL; absent: off. */
  readonly blade?: BladeSettings;
}

/** A patch of a layer placed in space and in the plane, for the pictures and for GLB. */
export interface FlatPicture {
  readonly part: string;
  readonly mesh: HalfEdgeMesh;
  readonly flat: F64;
  readonly strain: F64;
}

export interface ExportInput {
  readonly jobName: string;
  /** One drawing a sheet, sheet coordinates (origin bottom left), test square and SHEET frame included; corrections of kerf and shrink already applied. */
  readonly sheetDrawings: readonly { readonly sheet: Sheet; readonly drawing: Drawing }[];
  readonly parts: readonly DraftedPart[];
  readonly seams: readonly DraftedSeam[];
  readonly materials: readonly Material[];
  readonly bodyMesh: HalfEdgeMesh;
  readonly pictures: readonly FlatPicture[];
  /** Faces of the body to tint by area for the marked-body GLB: area index + 1, 0 none. */
  readonly bodyFaceArea: U32;
  readonly findings: readonly Finding[];
  /** Files written so far, for the zip of all. */
  readonly files?: readonly OutputFile[];
  /** Up and front of the body's axes; absent: y and z. */
  readonly up?: Axis;
  readonly front?: Axis;
  /** Names of the areas, in the order of `bodyFaceArea`. */
  readonly areaNames?: readonly string[];
}

export interface Exporter {
  readonly format: FormatName;
  readonly title: string;
  /** @throws export/* when the job must not leave in this format (laser and chlorine). */
  readonly write: (input: ExportInput, options: ExportOptions) => Promise<readonly OutputFile[]>;
}
