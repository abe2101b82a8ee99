/*
 * What page and worker say to each other: two tagged unions of plain values, the only file that both sides import.
 * Each ask has an id and ends exactly once in `done` or `failed`; `progress` and `stage` may come before that.
 */
import type { Account, Finding } from '../src/base/failure.ts';
import type { Stroke } from '../src/areas/area.ts';
import type { Body } from '../src/body/body.ts';
import type { MeasureMark } from '../src/body/settings.ts';
import type { DraftedPart, DraftedSeam } from '../src/draft/drafted-part.ts';
import type { Drawing } from '../src/draft/drawing.ts';
import type { FormatName, OutputFile } from '../src/export/exporter.ts';
import type { FlatPart } from '../src/flatten/flat-part.ts';
import type { Command } from '../src/job/commands/index.ts';
import type { Job } from '../src/job/job.ts';
import type { LineMark } from '../src/lines/line.ts';
import type { NestResult, Sheet } from '../src/nest/sheet.ts';
import type { CutResult } from '../src/patches/patch.ts';
import type { SourceFile } from '../src/read/triangle-soup.ts';
import type { StandoffReport } from '../src/standoff/report.ts';
import type { Surface } from '../src/standoff/surface.ts';
import type { Report } from '../src/report.ts';

export const stageNames = ['body', 'clearance', 'draw', 'lay-flat', 'draft', 'sheets'] as const;
export type StageName = (typeof stageNames)[number];

/** What each stage shows. A stage that failed tells its account instead of a value; later stages are then not told. */
export interface StageValues {
  readonly body: Body;
  readonly clearance: readonly Surface[];
  readonly draw: { readonly cut: CutResult; readonly traces: readonly LineTrace[] };
  readonly 'lay-flat': readonly FlatPart[];
  readonly draft: { readonly parts: readonly DraftedPart[]; readonly seams: readonly DraftedSeam[] };
  readonly sheets: {
    readonly nested: NestResult;
    readonly drawings: readonly { readonly sheet: Sheet; readonly drawing: Drawing }[];
    readonly findings: readonly Finding[];
  };
}

/** The path of a drawn line on the innermost surface, for display: x0 y0 z0 …, mm. */
export interface LineTrace {
  readonly line: string;
  readonly positions: Float64Array;
  readonly lengthMm: number;
}

/** What each ask answers when it is done. */
export interface Answers {
  readonly open: { readonly revision: number; readonly findings: readonly Finding[] };
  readonly command: { readonly revision: number };
  readonly undo: { readonly revision: number };
  readonly redo: { readonly revision: number };
  /** Stages come as `stage` tells on the way; answers with all findings, and how the layers stand off and made girths grow. */
  readonly run: { readonly findings: readonly Finding[]; readonly standoff: readonly StandoffReport[] };
  readonly trace: LineTrace;
  /** Preview of a stroke: faces of the body whose centre it covers. */
  readonly stroke: { readonly faces: Uint32Array };
  /** What the mesh says for a tape measure, with the closed or open line that was measured. */
  readonly measure: { readonly meshMm: number; readonly positions: Float64Array };
  readonly suggest: { readonly proposals: readonly Proposal[] };
  readonly files: { readonly files: readonly OutputFile[]; readonly report: Report };
  readonly cancel: Record<string, never>;
}

/** A proposed cut of a part: what it is, and what really flattening the alternative gave. */
export interface Proposal {
  readonly line: LineMark;
  readonly lengthMm: number;
  /** 95 % stretch of the worst resulting part, ratio, before and after. */
  readonly p95Before: number;
  readonly p95After: number;
  readonly words: string;
}

interface AskArgs {
  readonly open: { readonly job: Job; readonly file: SourceFile };
  readonly command: { readonly revision: number; readonly command: Command };
  readonly undo: { readonly revision: number };
  readonly redo: { readonly revision: number };
  readonly run: { readonly until: StageName };
  readonly trace: { readonly line: LineMark };
  readonly stroke: { readonly stroke: Stroke };
  readonly measure: { readonly measure: MeasureMark };
  readonly suggest: { readonly part: string };
  readonly files: { readonly formats: readonly FormatName[] };
  /** Stops the ask with this id; it then ends in `failed` with run/stopped. */
  readonly cancel: { readonly target: number };
}

export type AskKind = keyof AskArgs;
export type Ask = { readonly [Kind in AskKind]: { readonly id: number; readonly kind: Kind } & AskArgs[Kind] }[AskKind];
/** An ask before the client numbers it. */
export type AskOf<Kind extends AskKind> = { readonly kind: Kind } & AskArgs[Kind];

type StageTell = { readonly [Name in StageName]: { readonly stage: Name; readonly value: StageValues[Name] } }[StageName];

export type Tell =
  | { readonly id: number; readonly kind: 'progress'; readonly stage: string; readonly fraction: number }
  | ({ readonly id: number; readonly kind: 'stage'; readonly revision: number } & StageTell)
  | { readonly id: number; readonly kind: 'stage-failed'; readonly revision: number; readonly stage: StageName; readonly account: Account }
  | { readonly id: number; readonly kind: 'done'; readonly answer: Answers[AskKind] }
  | { readonly id: number; readonly kind: 'failed'; readonly account: Account };
