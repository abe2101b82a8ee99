/*
 * The walk from a job and its body file to sheets: each stage once, in order, reusing what did not change.
 * Reuse is by identity of immutable inputs; a cache holds the last few values of each stage and forgets older ones.
 */
import type { Finding } from './base/failure.ts';
import { Failure, finding, toAccount } from './base/failure.ts';
import type { Account } from './base/failure.ts';
import type { Run } from './base/run.ts';
import type { Body } from './body/body.ts';
import { makeBody } from './body/make-body.ts';
import type { DraftedPart, DraftedSeam } from './draft/drafted-part.ts';
import type { Drawing } from './draft/drawing.ts';
import { draftParts } from './draft/draft-parts.ts';
import type { Correction } from './export/corrections.ts';
import { drawSheets } from './export/sheet-drawing.ts';
import type { FlatPart } from './flatten/flat-part.ts';
import { flattenPatch } from './flatten/flatten-patch.ts';
import { matchSeams } from './flatten/match-seams.ts';
import type { Job } from './job/job.ts';
import type { Material } from './materials/material.ts';
import { materialOf } from './materials/index.ts';
import { nest } from './nest/nest.ts';
import type { NestResult, Sheet } from './nest/sheet.ts';
import type { PatchCache } from './patches/cut-patches.ts';
import { createPatchCache, cutPatches } from './patches/cut-patches.ts';
import type { CutResult, Patch, Seam } from './patches/patch.ts';
import { readMesh } from './read/index.ts';
import type { SourceFile, TriangleSoup } from './read/triangle-soup.ts';
import type { StandoffReport } from './standoff/report.ts';
import { reportStandoff } from './standoff/report.ts';
import { makeStandoff } from './standoff/standoff.ts';
import type { Surface } from './standoff/surface.ts';

export const pipelineStages = ['body', 'clearance', 'draw', 'lay-flat', 'draft', 'sheets'] as const;
export type PipelineStage = (typeof pipelineStages)[number];

/** Everything that a run made, as far as it came. */
export interface JobResults {
  readonly body?: Body;
  readonly surfaces?: readonly Surface[];
  /** How each layer's surface grew the girths. */
  readonly standoff?: readonly StandoffReport[];
  readonly cut?: CutResult;
  readonly flats?: readonly FlatPart[];
  readonly parts?: readonly DraftedPart[];
  readonly seams?: readonly DraftedSeam[];
  readonly nested?: NestResult;
  readonly drawings?: readonly { readonly sheet: Sheet; readonly drawing: Drawing }[];
  /** What was applied to each part's cut lines. */
  readonly corrections?: readonly Correction[];
  readonly materials: readonly Material[];
  /** Findings of all stages that ran. */
  readonly findings: readonly Finding[];
  /** The stage that gave no honest result, if one did. */
  readonly failed?: { readonly stage: PipelineStage; readonly account: Account };
}

export interface RunJobOptions {
  readonly until?: PipelineStage;
  readonly cache?: PipelineCache;
  /** Told after each stage with all results so far. */
  readonly onStage?: (stage: PipelineStage, results: JobResults) => void;
}

/** Values of earlier runs, by stage; make one a job and keep it. */
export interface PipelineCache {
  readonly entries: Map<string, { readonly inputs: readonly unknown[]; readonly value: unknown }[]>;
  readonly flats: WeakMap<Patch, Map<string, Promise<FlatPart>>>;
  readonly patches: PatchCache;
}

export const createPipelineCache = (): PipelineCache => ({ entries: new Map(), flats: new WeakMap(), patches: createPatchCache() });

/** Values kept a stage: enough for undo and redo of the last steps. */
const keptValues = 3;

async function reuse<T>(
  cache: PipelineCache,
  stage: string,
  inputs: readonly unknown[],
  make: () => Promise<T>,
  kept = keptValues,
): Promise<T> {
  const entries = cache.entries.get(stage) ?? [];
  const hit = entries.find(
    (entry) => entry.inputs.length === inputs.length && entry.inputs.every((input, i) => Object.is(input, inputs[i])),
  );
  // A stage always stores what it makes, so a hit has the stage's type.
  if (hit) return hit.value as T;
  const value = await make();
  cache.entries.set(stage, [{ inputs, value }, ...entries].slice(0, kept));
  return value;
}

/**
 * Walks the stages as far as `until` (default: sheets). A stage that fails ends the walk; what came before it is returned with the failure's account.
 * @param file the body's bytes; the same object again means the same file
 * @throws run/stopped, and faults of the program itself
 */
export async function runJob(job: Job, file: SourceFile, run: Run, options: RunJobOptions = {}): Promise<JobResults> {
  const cache = options.cache ?? createPipelineCache();
  const last = pipelineStages.indexOf(options.until ?? 'sheets');
  let results: JobResults = { materials: [], findings: [] };
  for (const stage of pipelineStages.slice(0, last + 1)) {
    run.report(stage, 0);
    try {
      results = await stages[stage](job, file, results, cache, run);
    } catch (error) {
      if (!(error instanceof Failure) || error.code === 'run/stopped') throw error;
      const failed = { ...results, failed: { stage, account: toAccount(error) } };
      options.onStage?.(stage, failed);
      return failed;
    }
    options.onStage?.(stage, results);
    await run.breathe();
  }
  run.report('sheets', 1);
  return results;
}

type Stage = (job: Job, file: SourceFile, before: JobResults, cache: PipelineCache, run: Run) => Promise<JobResults>;

/** A value that the stage before must have made. */
function need<T>(value: T | undefined): T {
  if (value === undefined) throw new RangeError('a stage ran before the one that it needs');
  return value;
}

const stages: { readonly [Name in PipelineStage]: Stage } = {
  body: async (job, file, before, cache, run) => {
    const soup = await reuse<TriangleSoup>(cache, 'soup', [file], () => readMesh(file, run), 1);
    const body = await reuse(cache, 'body', [soup, job.body], () => makeBody(soup, job.body, run), 2);
    const own = new Map(job.materials.map((material) => [material.id, material]));
    const materials = job.standoff.layers.map((id) => own.get(id) ?? materialOf(id));
    return { ...before, body, materials, findings: [...soup.findings, ...body.findings] };
  },
  clearance: async (job, _file, before, cache, run) => {
    const body = need(before.body);
    const surfaces = await reuse(
      cache,
      'clearance',
      [body, job.standoff, job.body.measures, job.materials],
      () => makeStandoff(body, job.standoff, before.materials, run, { measures: job.body.measures }),
      2,
    );
    const standoff = await reuse(cache, 'standoff', [body, surfaces, job.body.measures], async () =>
      reportStandoff(body, surfaces, job.body.measures),
    );
    return { ...before, surfaces, standoff, findings: [...before.findings, ...surfaces.flatMap((surface) => surface.findings)] };
  },
  draw: async (job, _file, before, cache, run) => {
    const body = need(before.body);
    const surfaces = need(before.surfaces);
    const cut = await reuse(cache, 'draw', [body, surfaces, job.marks], () => cutPatches(body, surfaces, job.marks, run, cache.patches));
    return { ...before, cut, findings: [...before.findings, ...cut.findings] };
  },
  'lay-flat': async (job, _file, before, cache, run) => {
    const cut = need(before.cut);
    const { flats, findings } = await flattenAll(job, cut, before.materials, cache, run);
    const matched = await reuse(cache, 'matched', [cut, ...flats], () => matchAll(flats, cut, before.materials, cache, run));
    return { ...before, flats: matched, findings: [...before.findings, ...findings, ...matched.flatMap((flat) => flat.findings)] };
  },
  draft: async (job, _file, before, cache, run) => {
    const cut = need(before.cut);
    const flats = need(before.flats);
    const drafted = await reuse(cache, 'draft', [cut, flats, job.draft, job.marks.lines, job.name, job.materials], () =>
      draftParts(
        {
          patches: cut.patches,
          flats,
          seams: cut.seams,
          materials: before.materials,
          settings: job.draft,
          lines: job.marks.lines,
          up: need(before.body).up,
          front: need(before.body).front,
          jobName: job.name,
          date: job.date,
        },
        run,
      ),
    );
    return {
      ...before,
      parts: drafted.parts,
      seams: drafted.seams,
      findings: [...before.findings, ...drafted.findings, ...drafted.parts.flatMap((part) => part.findings)],
    };
  },
  sheets: async (job, _file, before, cache, run) => {
    const parts = need(before.parts);
    const { tool } = job.output;
    const nested = await reuse(cache, 'sheets', [parts, job.sheets, tool, job.materials], () =>
      nest(parts, { ...job.sheets, tool }, before.materials, run),
    );
    const drawn = await reuse(cache, 'drawings', [nested, parts, tool], async () =>
      drawSheets({ sheets: nested.sheets, parts, materials: before.materials, jobName: job.name, date: job.date, tool }),
    );
    const { drawings, corrections } = drawn;
    return { ...before, nested, drawings, corrections, findings: [...before.findings, ...nested.findings, ...drawn.findings] };
  },
};

async function flattenAll(
  job: Job,
  cut: CutResult,
  materials: readonly Material[],
  cache: PipelineCache,
  run: Run,
): Promise<{ flats: FlatPart[]; findings: Finding[] }> {
  const flats: FlatPart[] = [];
  const findings: Finding[] = [];
  for (const [i, patch] of cut.patches.entries()) {
    run.report('lay-flat', i / cut.patches.length);
    const material = materials[patch.layer] ?? materials[0];
    const method = job.flats.method;
    try {
      flats.push(
        await reuseFlat(cache, patch, `${method} ${JSON.stringify(material)}`, () => flattenPatch(patch, material, { method }, run)),
      );
    } catch (error) {
      if (!(error instanceof Failure) || error.code === 'run/stopped') throw error;
      findings.push(
        finding('severe', error.code, `${patch.name || patch.id}: ${error.what}`, { ...error.where, item: patch.id }, error.mend),
      );
    }
    await run.breathe();
  }
  return { flats, findings };
}

function reuseFlat(cache: PipelineCache, patch: Patch, key: string, make: () => Promise<FlatPart>): Promise<FlatPart> {
  const known = cache.flats.get(patch) ?? new Map<string, Promise<FlatPart>>();
  cache.flats.set(patch, known);
  const hit = known.get(key);
  if (hit) return hit;
  const made = make();
  known.set(key, made);
  // A stopped or failed attempt must not be remembered.
  made.catch(() => known.delete(key));
  return made;
}

/** Seams are matched group by group: parts that no chain of seams connects do not touch each other. */
async function matchAll(
  flats: readonly FlatPart[],
  cut: CutResult,
  materials: readonly Material[],
  cache: PipelineCache,
  run: Run,
): Promise<FlatPart[]> {
  const matched = new Map<string, FlatPart>();
  for (const group of seamGroups(flats, cut.seams)) {
    const own = flats.filter((flat) => group.has(flat.patch));
    const patches = cut.patches.filter((patch) => group.has(patch.id));
    const seams = cut.seams.filter((seam) => group.has(seam.sides[0].patch) && group.has(seam.sides[1].patch));
    const result = await reuse(cache, `match ${[...group].join(' ')}`, own, () => matchSeams(own, patches, seams, materials, run), 2);
    for (const flat of result) matched.set(flat.patch, flat);
  }
  return flats.map((flat) => matched.get(flat.patch) ?? flat);
}

function seamGroups(flats: readonly FlatPart[], seams: readonly Seam[]): Set<string>[] {
  const groupOf = new Map(flats.map((flat) => [flat.patch, new Set([flat.patch])]));
  for (const { sides } of seams) {
    const a = groupOf.get(sides[0].patch);
    const b = groupOf.get(sides[1].patch);
    if (!a || !b || a === b) continue;
    for (const id of b) {
      a.add(id);
      groupOf.set(id, a);
    }
  }
  return [...new Set(groupOf.values())];
}
