/*
 * The job: what the maker decided and nothing else. Every length in mm; marks are points in space in the file's axes, after unit and
 * scale from tape. Fields follow the contract of the job file; everything but `body.file` has a default (`schema.ts`).
 */
import type { BodySettings } from '../body/settings.ts';
import type { DraftSettings } from '../draft/settings.ts';
import type { FormatName, ExportOptions } from '../export/exporter.ts';
import type { MethodName } from '../flatten/flatten-method.ts';
import type { Material } from '../materials/material.ts';
import type { NestSettings } from '../nest/settings.ts';
import type { Marks } from '../patches/marks.ts';
import type { StandoffSettings } from '../standoff/settings.ts';

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
  readonly body: BodySettings;
  readonly standoff: StandoffSettings;
  readonly marks: Marks;
  readonly flats: { readonly method: MethodName };
  readonly draft: DraftSettings;
  readonly sheets: NestSettings;
  readonly output: JobOutput;
  /** The maker's own materials and coupon values; an id of the table replaces that entry. */
  readonly materials: readonly Material[];
}
