/*
 * One patch laid flat, with the account of what the sheet must take: the method's map, then flips, overlap, strain, verdict, findings.
 */
import type { F64 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { collapse } from '../base/tolerance.ts';
import type { Material } from '../materials/material.ts';
import type { Patch, Side } from '../patches/patch.ts';
import { bestRatio } from './best-possible.ts';
import { distribution } from './distribution.ts';
import type { FaceDistortion } from './distortion.ts';
import { conformalEnergy, faceDistortion, symmetricDirichlet } from './distortion.ts';
import type { FlatPart, FlatSummary, Verdict } from './flat-part.ts';
import type { FlattenOptions, MethodName } from './flatten-method.ts';
import { methodOf } from './index.ts';
import { borderOverlaps, flippedFaces } from './overlap.ts';
import type { FaceStrain } from './verdict.ts';
import { cutTips, faceCentre, facesAtTips, faceStrain, judge, worstFace } from './verdict.ts';

/** Where a map came from, for the account of `describeFlat`. */
export interface MapOrigin {
  readonly method: string;
  readonly iterations: number;
  readonly converged: boolean;
  /** What the method itself has to say. */
  readonly findings?: readonly Finding[];
}

/**
 * Lays a patch flat.
 * @param patch mesh in mm at the neutral plane
 * @param options method of the contract; `start`: plane positions of the same vertices to refine from, mm, shape 2·n
 * @returns plane positions in mm and the account of them; flips, overlaps and strain beyond the material are findings
 * @throws flatten/* where there is no honest map; linalg/*; run/stopped
 */
export async function flattenPatch(
  patch: Patch,
  material: Material,
  options: FlattenOptions & { readonly method: MethodName },
  run: Run,
): Promise<FlatPart> {
  const map = await methodOf(options.method).flatten(patch.mesh, { leftOut: facesAtTips(patch.mesh, cutTips(patch)), ...options }, run);
  await run.breathe();
  return describeFlat(patch, material, map.positions, {
    method: options.method,
    iterations: map.iterations,
    converged: map.converged,
    findings: map.heldApart === undefined ? [] : [heldApart(patch, map.heldApart)],
  });
}

/**
 * The account of any plane map of a patch.
 * @param positions plane positions, mm, shape 2·n
 */
export function describeFlat(patch: Patch, material: Material, positions: F64, origin: MapOrigin): FlatPart {
  const { mesh } = patch;
  const distortion = faceDistortion(mesh, positions);
  const flipped = flippedFaces(mesh, positions);
  const overlaps = borderOverlaps(mesh, positions);
  const strain = faceStrain(distortion);
  const isLeftOut = facesAtTips(mesh, cutTips(patch));
  const worst = worstFace(strain, isLeftOut);
  const areaRatio = areaRatios(distortion);
  const surfaceAreaMm2 = sum(distortion.area);
  const summary: FlatSummary = {
    method: origin.method,
    iterations: origin.iterations,
    converged: origin.converged,
    flips: flipped.length,
    overlaps: overlaps.count,
    surfaceAreaMm2,
    flatAreaMm2: surfaceAreaMm2 * areaRatio.mean,
    areaRatio,
    sigma1: distribution(distortion.sigma1, distortion.area),
    sigma2: distribution(distortion.sigma2, distortion.area),
    ...judgedStrain(strain, distortion.area, isLeftOut),
    worstAt: faceCentre(mesh, worst),
    conformalEnergy: conformalEnergy(distortion),
    symmetricDirichlet: symmetricDirichlet(distortion),
    bestRatio: bestRatio(mesh),
  };
  const judged = judge(mesh, distortion.area, strain, isLeftOut, material);
  const collapsed = collapseOf(distortion, areaRatio.mean, isLeftOut);
  const verdict: Verdict = collapsed === undefined ? judged.verdict : 'needs-seam';
  const findings: Finding[] = [...(origin.findings ?? [])];
  const item = patch.id;
  if (!origin.converged) findings.push(notConverged(item, origin.iterations));
  if (flipped.length > 0) findings.push(flipsFound(item, flipped));
  if (overlaps.count > 0) findings.push(overlapFound(item, overlaps.count, overlaps.pairs));
  if (verdict === 'needs-seam')
    findings.push(needsSeam(item, collapsed ?? strainText(summary, judged.beyondMm2), judged.face === -1 ? worst : judged.face, summary));
  return { patch: patch.id, positions, sigma1: distortion.sigma1, sigma2: distortion.sigma2, summary, verdict, findings };
}

/** Strains of the judged faces, and the largest ones of the faces at tips; where every face lies at a tip, all are judged. */
function judgedStrain(strain: FaceStrain, area: F64, isLeftOut: Uint8Array): Pick<FlatSummary, 'stretch' | 'squeeze' | 'atTips'> {
  const pick = (values: F64, wanted: number): Float64Array => Float64Array.from(values).filter((_, f) => isLeftOut[f] === wanted);
  const weights = pick(area, 0);
  if (weights.length === area.length || weights.length === 0)
    return { stretch: distribution(strain.stretch, area), squeeze: distribution(strain.squeeze, area) };
  const largest = (values: F64): number => pick(values, 1).reduce((most, value) => Math.max(most, value), 0);
  return {
    stretch: distribution(pick(strain.stretch, 0), weights),
    squeeze: distribution(pick(strain.squeeze, 0), weights),
    atTips: { stretch: largest(strain.stretch), squeeze: largest(strain.squeeze) },
  };
}

function sum(values: F64): number {
  let total = 0;
  for (let f = 0; f < values.length; f++) total += values[f];
  return total;
}

function areaRatios(distortion: FaceDistortion): FlatSummary['areaRatio'] {
  const { sigma1, sigma2, area } = distortion;
  let [min, max, flat, total] = [Infinity, -Infinity, 0, 0];
  for (let f = 0; f < area.length; f++) {
    const ratio = sigma1[f] * sigma2[f];
    if (ratio < min) min = ratio;
    if (ratio > max) max = ratio;
    flat += ratio * area[f];
    total += area[f];
  }
  return { min, mean: flat / total, max };
}

/** In words, how a map has collapsed; undefined if it has not. */
function collapseOf(distortion: FaceDistortion, areaRatio: number, isLeftOut: Uint8Array): string | undefined {
  const percent = (ratio: number): string => `${Math.round(100 * ratio)} %`;
  let least = Infinity;
  for (let f = 0; f < isLeftOut.length; f++) if (isLeftOut[f] === 0 && distortion.sigma2[f] < least) least = distortion.sigma2[f];
  if (least < collapse.leastSigma) return `laid flat, a place keeps only ${percent(Math.max(0, least))} of its width`;
  if (areaRatio < collapse.areaRatio[0] || areaRatio > collapse.areaRatio[1]) return `laid flat, it has ${percent(areaRatio)} of its area`;
  return undefined;
}

function strainText(summary: FlatSummary, beyondMm2: number): string {
  const percent = (strain: number): string => `${(100 * strain).toFixed(1)} %`;
  return `the sheet would have to stretch by up to ${percent(summary.stretch.max)} and be squeezed by up to ${percent(summary.squeeze.max)}, more than it takes hot on ${(beyondMm2 / 100).toFixed(1)} cm²`;
}

function needsSeam(item: string, why: string, face: number, summary: FlatSummary): Finding {
  return finding(
    'severe',
    'flatten/needs-seam',
    `${item} needs a seam: ${why}.`,
    { stage: 'flatten', item, faces: [face], at: summary.worstAt },
    'Draw a seam or a dart through the marked place, or take a smaller area.',
  );
}

/** The best shape would lie over itself: where, and whether it is a dart in a hollow. */
function heldApart(patch: Patch, pairs: Readonly<ArrayLike<number>>): Finding {
  const sideOf = (h: number): Side | undefined => patch.sides.find((side) => side.halfEdges.includes(h));
  const faces = Array.from(pairs)
    .slice(0, 20)
    .map((h) => Math.floor(h / 3));
  const where = { stage: 'flatten', item: patch.id, faces };
  // Legs that cross sweep over the rim beside them, so that any pair may be leg and rim: both legs of one dart among the edges tell it.
  const darts = new Set(Array.from(pairs, sideOf).filter((side) => side?.kind === 'dart'));
  const one = [...darts].find((side) => side !== undefined && [...darts].some((other) => other !== side && other?.seam === side.seam));
  if (one?.seam !== undefined)
    return finding(
      'warning',
      'flatten/dart-in-hollow',
      `The legs of dart ${one.seam} in ${patch.id} would cross when laid flat: the dart lies in a hollow.`,
      where,
      'Draw a full seam there instead, or plan an insert; the legs are held beside each other meanwhile.',
    );
  return finding(
    'warning',
    'flatten/held-apart',
    `${patch.id} would lie over itself in its best shape; it is held apart, which costs some stretch.`,
    where,
    'Draw a seam between the marked places, so that each side lies flat by itself.',
  );
}

function notConverged(item: string, iterations: number): Finding {
  return finding(
    'warning',
    'flatten/not-converged',
    `${item} had not settled after ${iterations} steps.`,
    { stage: 'flatten', item },
    'Lay it flat again from this result, or draw a seam where the strain is largest.',
  );
}

function flipsFound(item: string, flipped: readonly number[]): Finding {
  return finding(
    'severe',
    'flatten/flipped',
    `${item}: ${flipped.length} faces are turned over.`,
    { stage: 'flatten', item, faces: flipped.slice(0, 20) },
    'Use the shape method, or draw a seam there.',
  );
}

function overlapFound(item: string, count: number, pairs: Readonly<ArrayLike<number>>): Finding {
  const faces = Array.from(pairs)
    .slice(0, 20)
    .map((h) => Math.floor(h / 3));
  return finding(
    'severe',
    'flatten/overlap',
    `${item} lies over itself in ${count} places.`,
    { stage: 'flatten', item, faces },
    'Draw a seam that separates the two stretches that lie over each other.',
  );
}
