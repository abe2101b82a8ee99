/*
 * Input of drafting for tests, with the defaults of a job.
 */
import type { DraftInput } from '../../src/draft/draft-parts.ts';
import type { DraftSettings, SideDraft } from '../../src/draft/settings.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { Patch, Seam } from '../../src/patches/patch.ts';

export const draftDefaults: DraftSettings = { tracedFace: 'inner', notch: 'tick', bevel: true, sides: [] };

export function draftInput(
  patches: readonly Patch[],
  flats: readonly FlatPart[],
  seams: readonly Seam[] = [],
  settings: Partial<DraftSettings> = {},
): DraftInput {
  return {
    patches,
    flats,
    seams,
    materials: [],
    settings: { ...draftDefaults, ...settings },
    lines: [],
    up: 'y',
    front: 'z',
    jobName: 'Tide warden, chest',
    date: '2026-11-25',
  };
}

/** What a maker decided about one side, with the defaults of a job. */
export const sideDraft = (area: string, line: string, fields: Partial<SideDraft>): SideDraft => ({
  area,
  line,
  allowanceMm: 0,
  takeInMm: 0,
  ...fields,
});
