/*
 * The parts of a job before anything is drawn: letters, frames, sheets of material, borders with fittings' changes, and the seams as pairs of sides.
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Axis } from '../body/body.ts';
import type { FlatPart } from '../flatten/flat-part.ts';
import type { LineMark } from '../lines/line.ts';
import type { Material } from '../materials/material.ts';
import { materialOf } from '../materials/index.ts';
import { sheetThickness } from '../materials/material.ts';
import type { Patch, Seam } from '../patches/patch.ts';
import type { BevelRule } from './bevel.ts';
import type { BorderSide, Heading } from './border.ts';
import { bordersOf, partLetter, turnUpright } from './border.ts';
import type { UnitSide } from './outline.ts';
import type { DraftSettings, SideDraft } from './settings.ts';
import type { Sheet } from './sheet-normal.ts';
import { makeSheet } from './sheet-normal.ts';
import { takeIn } from './take-in.ts';

/** Everything that drafting reads. Dates come from the job, never from a clock. */
export interface DraftInput {
  readonly patches: readonly Patch[];
  readonly flats: readonly FlatPart[];
  readonly seams: readonly Seam[];
  /** The job's own materials. */
  readonly materials: readonly Material[];
  readonly settings: DraftSettings;
  /** Marks of the job, for the creases of drawn lines. */
  readonly lines: readonly LineMark[];
  readonly up: Axis;
  readonly front: Axis;
  readonly jobName: string;
  /** ISO date of the job. */
  readonly date: string;
}

export interface PreparedPart {
  readonly patch: Patch;
  readonly flat: FlatPart;
  readonly letter: string;
  readonly material: Material;
  readonly heading: Heading;
  readonly sheet: Sheet;
  /** The border as flattened. */
  readonly flattened: readonly BorderSide[];
  /** The border with fittings' changes: what is drawn. */
  readonly borders: readonly BorderSide[];
  /** Of each border side, mm. */
  readonly allowances: readonly number[];
  readonly joins: readonly (SideDraft['join'] | undefined)[];
  readonly rule: BevelRule;
}

/** A seam as two sides of prepared parts; the second runs against the first. */
export interface PreparedSeam {
  readonly seam: Seam;
  readonly first: UnitSide;
  readonly second: UnitSide;
  readonly easeMm: number;
}

export interface Prepared {
  readonly parts: readonly PreparedPart[];
  readonly seams: readonly PreparedSeam[];
  readonly findings: readonly Finding[];
}

/** What the maker decided about one side. A mirrored line follows its original's allowance, but never its fitting. */
function settingOf(
  settings: DraftSettings,
  patch: Patch,
  line: string | undefined,
): { readonly exact?: SideDraft; readonly any?: SideDraft } {
  const name = line ?? 'border';
  const own = settings.sides.filter(({ area }) => area === patch.area);
  const exact = own.find((side) => side.line === name);
  const any = exact ?? own.find((side) => side.line === name.replace(/:mirror$/, ''));
  return { ...(exact === undefined ? {} : { exact }), ...(any === undefined ? {} : { any }) };
}

/** Prepares all parts whose patch was flattened. */
export function prepareParts(input: DraftInput): Prepared {
  const flatOf = new Map(input.flats.map((flat) => [flat.patch, flat]));
  const bare = input.patches.flatMap((patch) => {
    const flat = flatOf.get(patch.id);
    return flat === undefined ? [] : [{ patch, flat }];
  });
  const frames = bare.map(({ patch, flat }, i) => {
    const { positions, heading } = turnUpright(patch, flat, input.up, input.front);
    const letter = partLetter(i);
    return { patch, flat, letter, heading, positions, flattened: bordersOf(patch, positions, letter) };
  });
  const { seams, findings } = pairSides(input, frames);
  const parts = frames.map(({ positions, ...frame }, part): PreparedPart => {
    const material = materialOf(frame.patch.material, input.materials);
    const thicknessMm = sheetThickness(material);
    const inward = frame.flattened.map((_, side) => takenIn(input.settings, frames, seams, part, side));
    const chosen = frame.flattened.map(({ line }) => settingOf(input.settings, frame.patch, line).any);
    return {
      ...frame,
      material,
      sheet: makeSheet(frame.patch, positions, frame.flattened, thicknessMm),
      borders: takeIn(frame.flattened, inward),
      allowances: chosen.map((side) => side?.allowanceMm ?? 0),
      joins: chosen.map((side) => side?.join),
      rule: { thicknessMm, neutralFactor: material.neutralFactor.value, on: input.settings.bevel },
    };
  });
  return { parts, seams, findings };
}

type Framed = Pick<PreparedPart, 'patch' | 'flattened'>;

function pairSides(input: DraftInput, frames: readonly Framed[]): { readonly seams: PreparedSeam[]; readonly findings: Finding[] } {
  const indexOf = new Map(frames.map(({ patch }, i) => [patch.id, i]));
  const seams: PreparedSeam[] = [];
  const findings: Finding[] = [];
  for (const seam of input.seams) {
    const [first, second] = seam.sides.map(({ patch, side }, i): UnitSide | undefined => {
      const part = indexOf.get(patch);
      const place = part === undefined ? -1 : frames[part].flattened.findIndex(({ index }) => index === side);
      return part === undefined || place < 0 ? undefined : { part, side: place, against: i === 1 };
    });
    if (first === undefined || second === undefined) {
      const what = `Seam ${seam.id} has only one side: the part at its other side did not lie flat.`;
      findings.push(
        finding(
          'warning',
          'draft/mate-missing',
          what,
          { stage: 'draft', item: seam.id },
          'Mend the other part first; this edge is drawn square and without notches.',
        ),
      );
      continue;
    }
    const eases = [first, second].map(
      ({ part, side }) => settingOf(input.settings, frames[part].patch, frames[part].flattened[side].line).any?.easeMm ?? 0,
    );
    seams.push({ seam, first, second, easeMm: Math.max(...eases) });
  }
  return { seams, findings };
}

/** How far a side moves inward, mm: half of what is typed for it, or for its mate. */
function takenIn(settings: DraftSettings, frames: readonly Framed[], seams: readonly PreparedSeam[], part: number, side: number): number {
  const typed = (p: number, s: number): number | undefined =>
    settingOf(settings, frames[p].patch, frames[p].flattened[s].line).exact?.takeInMm;
  const seam = seams.find(({ first, second }) => [first, second].some((end) => end.part === part && end.side === side));
  if (seam === undefined) return 0;
  const mate = seam.first.part === part && seam.first.side === side ? seam.second : seam.first;
  const own = typed(part, side) ?? 0;
  return (own === 0 ? (typed(mate.part, mate.side) ?? 0) : own) / 2;
}
