/*
 * What the bench shows, as signals. The job's history is the only truth about the job; stage values come from the worker; the rest is how
 * the maker looks at it (station, tool, selection, view), which is never undone.
 */
import { computed, signal } from '@preact/signals';
import type { Finding } from '../src/base/failure.ts';
import type { History } from '../src/job/history.ts';
import type { OutputFile } from '../src/export/exporter.ts';
import type { LineKind } from '../src/lines/line.ts';
import type { SourceFile } from '../src/read/triangle-soup.ts';
import type { StandoffReport } from '../src/standoff/report.ts';
import type { Proposal } from '../worker/protocol.ts';
import type { KeptState } from './keeper.ts';
import { remembered } from './prefs.ts';
import type { StationName } from './stations.ts';
import { noStages } from './stage-flow.ts';
import type { Stages } from './stage-flow.ts';

/** The job on the bench. */
export interface OpenJob {
  readonly id: string;
  readonly file: SourceFile;
}

export const openJob = signal<OpenJob | undefined>(undefined);
export const history = signal<History | undefined>(undefined);
export const job = computed(() => history.value?.present.job);
export const kept = signal<KeptState>({ kind: 'saved' });
export const savedAt = signal<number | undefined>(undefined);

export const stages = signal<Stages>(noStages);
export const body = computed(() => stages.value.body.value);
export const surfaces = computed(() => stages.value.clearance.value);
export const cut = computed(() => stages.value.draw.value?.cut);
export const traces = computed(() => stages.value.draw.value?.traces);
export const flats = computed(() => stages.value['lay-flat'].value);
export const drafted = computed(() => stages.value.draft.value);
export const sheets = computed(() => stages.value.sheets.value);

export interface Progress {
  readonly stage: string;
  readonly fraction: number;
}

/** What the worker is doing, while it does. */
export const progress = signal<Progress | undefined>(undefined);
/** Findings of the last whole run and of opening the job. */
export const runFindings = signal<readonly Finding[]>([]);
export const openFindings = signal<readonly Finding[]>([]);
/** How each layer stands off and how girths grew. */
export const standoff = signal<readonly StandoffReport[]>([]);
export const files = signal<readonly OutputFile[] | undefined>(undefined);

/** All that deserves the maker's eye: failures of stages first. */
export const findings = computed<readonly Finding[]>(() => {
  const failed = Object.values(stages.value).flatMap((state) =>
    state.status === 'failed' && state.account ? [{ severity: 'severe' as const, ...state.account }] : [],
  );
  return [...failed, ...openFindings.value, ...runFindings.value];
});

export const station = signal<StationName>('body');

export type ToolName = 'pick' | 'brush' | 'eraser' | 'fill' | 'line' | 'dart' | 'point' | 'plane' | 'measure' | 'fitting';
export const tool = signal<ToolName>('pick');
export const brushMm = remembered('brush-mm', 40);
export const lineKind = signal<Exclude<LineKind, 'dart'>>('seam');
export const measureKind = signal<'girth' | 'length' | 'distance' | 'height'>('girth');
export const fittingKind = signal<'strap' | 'snap' | 'magnet' | 'buckle'>('strap');

export type Selection =
  | { readonly kind: 'part'; readonly id: string }
  | { readonly kind: 'line'; readonly id: string }
  | { readonly kind: 'measure'; readonly index: number }
  | { readonly kind: 'seam'; readonly id: string };

export const selection = signal<Selection | undefined>(undefined);
/** The area that brush, eraser and fill work on. */
export const activeArea = signal<string | undefined>(undefined);

/** A place on a part, hovered on the body or on the paper. */
export interface Spot {
  readonly patch: string;
  readonly face: number;
  readonly weights: readonly [number, number, number];
}

export const hoverSpot = signal<Spot | undefined>(undefined);
export const hoverSeam = signal<string | undefined>(undefined);

/** A place that a finding points at: mm in the body's axes, faces of the body, or a part. */
export interface Pointed {
  readonly at?: readonly number[];
  readonly faces?: readonly number[];
  readonly item?: string;
}

export const pointed = signal<Pointed | undefined>(undefined);

/** Strain classes picked in the histogram: faces between `from` and `to` (ratios) stand out. */
export const strainBand = signal<{ readonly from: number; readonly to: number } | undefined>(undefined);
/** 0: the parts lie flat beside the body; 1: folded back onto it. */
export const foldBack = signal(1);
export const coloursBy = signal<'station' | 'area' | 'strain'>('station');
export const isStrainShown = computed(() => (coloursBy.value === 'station' ? station.value === 'lay-flat' : coloursBy.value === 'strain'));
export const isBothSides = remembered('both-sides', false);
export const isBodyShown = signal(true);

export interface Suggestion {
  readonly part: string;
  readonly proposals: readonly Proposal[];
  readonly index: number;
}

export const suggestion = signal<Suggestion | 'looking' | undefined>(undefined);

export type Sheet = 'palette' | 'jobs' | 'versions' | 'keys' | 'welcome' | 'material' | 'drop' | 'about';
export const dialog = signal<Sheet | undefined>(undefined);
/** Id of the material that the dialog shows. */
export const shownMaterial = signal<string | undefined>(undefined);
/** A file that was dropped while a job is open, until the maker says what it is for. */
export const droppedFile = signal<File | undefined>(undefined);

export interface Toast {
  readonly id: number;
  readonly severity: 'note' | 'warning' | 'severe';
  readonly what: string;
  readonly mend?: string;
}

export const toasts = signal<readonly Toast[]>([]);

export const theme = remembered<'system' | 'light' | 'dark'>('theme', 'system');
export const isSwapped = remembered('panes-swapped', false);
/** Shares of the width: first pane, and width of the panel in px. */
export const paneShare = remembered('pane-share', 0.48);
export const panelPx = remembered('panel-px', 392);
export const hintsGone = remembered<readonly string[]>('hints-gone', []);
export const areSingleKeysOn = remembered('single-keys', true);
