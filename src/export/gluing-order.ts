/*
 * In which order to glue, found from the graph of parts and seams. Trade rules [common practice]: form with heat before any glue; close darts
 * while a part is still small; join gores from their tip outward; join panels into halves, front and back; then the centre; shoulders last, because
 * they close the form and nobody can reach inside afterwards. Openings and closures stay open. Within a step the longest seam first, on what is
 * already joined before what stands alone.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Axis } from '../body/body.ts';
import { directionOf } from '../body/axes.ts';
import type { DraftedPart, DraftedSeam } from '../draft/drafted-part.ts';
import type { FlatPicture } from './exporter.ts';
import { seamPlaces, type SeamPlaces } from './seam-places.ts';

export type GluingKind = 'form' | 'dart' | 'gore' | 'half' | 'layer' | 'centre' | 'shoulder' | 'open';

export interface GluingStep {
  readonly kind: GluingKind;
  readonly title: string;
  readonly reason: string;
  /** Parts concerned, by id. */
  readonly parts: readonly string[];
  /** Seams in the order in which to glue them, by id. */
  readonly seams: readonly string[];
}

export interface GluingInput {
  readonly parts: readonly DraftedPart[];
  readonly seams: readonly DraftedSeam[];
  readonly pictures: readonly FlatPicture[];
  readonly up: Axis;
  readonly front: Axis;
}

const words: Readonly<Record<Exclude<GluingKind, 'form' | 'open' | 'layer'>, { readonly title: string; readonly reason: string }>> = {
  dart: { title: 'Close the darts', reason: 'A dart shapes one part; close it while the part still lies open on the bench.' },
  gore: {
    title: 'Join the gores from the tip outward',
    reason: 'All gores meet in the tip: begun at the rim, what is left over gathers there.',
  },
  half: { title: 'Join the panels into halves', reason: 'Flat pieces are easy to press together while both sides can be reached.' },
  centre: { title: 'Join left and right', reason: 'Both halves are stiff now, so the centre line stays straight.' },
  shoulder: { title: 'Join front and back at the shoulders', reason: 'This closes the form; everything inside must be done by now.' },
};

/** The steps of gluing, in order; steps with nothing to do are left out. Every seam stands in exactly one of them. */
export function gluingOrder(input: GluingInput): readonly GluingStep[] {
  const byId = new Map(input.parts.map((part) => [part.id, part]));
  const places = seamPlaces(input.pictures);
  const gores = goreSets(input, places);
  const stageOf = new Map(input.seams.map((seam) => [seam.id, stage(seam, byId, gores, places, input)]));
  const joined = new Set<string>();
  const steps: GluingStep[] = [...formStep(input.parts)];
  for (const kind of ['dart', 'gore', 'half', 'centre', 'shoulder'] as const) {
    const own = input.seams.filter(({ id }) => stageOf.get(id) === kind);
    if (own.length === 0) continue;
    const seams = chainSeams(own, joined);
    const parts = [...new Set(seams.flatMap(({ parts: pair }) => pair))];
    steps.push({ kind, ...words[kind], parts, seams: seams.map(({ id }) => id) });
  }
  return [...steps, ...openStep(input.parts)];
}

function formStep(parts: readonly DraftedPart[]): readonly GluingStep[] {
  const formed = parts.filter(({ verdict, forming }) => verdict !== 'cold' || forming === 'domed').map(({ id }) => id);
  if (formed.length === 0) return [];
  return [
    {
      kind: 'form',
      title: 'Form with heat, before any glue',
      reason: 'A glued seam holds the foam back and heat opens the glue; hold the curve templates against each part while it cools.',
      parts: formed,
      seams: [],
    },
  ];
}

function openStep(parts: readonly DraftedPart[]): readonly GluingStep[] {
  const open = parts.filter(({ sides }) => sides.some(({ kind }) => kind === 'opening')).map(({ id }) => id);
  if (open.length === 0) return [];
  const sides = parts.flatMap((part) => part.sides.filter(({ kind }) => kind === 'opening').map(({ id }) => id));
  return [
    {
      kind: 'open',
      title: `Leave open: ${sides.join(', ')}`,
      reason: 'These edges are where you get in and out; fit straps or closures to them.',
      parts: open,
      seams: [],
    },
  ];
}

/** Sets of three or more parts of one area and side that all meet in one place, by part. */
function goreSets({ parts }: GluingInput, places: SeamPlaces): ReadonlyMap<string, number> {
  const groups = new Map<string, string[]>();
  for (const { id, area, side, layer } of parts) {
    const key = `${area} ${layer} ${side}`;
    groups.set(key, [...(groups.get(key) ?? []), id]);
  }
  const sets = new Map<string, number>();
  for (const [index, group] of [...groups.values()].entries())
    if (group.length >= 4 && places.tipOf(group) !== undefined) for (const part of group) sets.set(part, index);
  return sets;
}

function stage(
  { kind, parts: [first, second] }: DraftedSeam,
  byId: ReadonlyMap<string, DraftedPart>,
  gores: ReadonlyMap<string, number>,
  places: SeamPlaces,
  { up, front }: GluingInput,
): GluingKind {
  if (kind === 'dart' || first === second) return 'dart';
  const [a, b] = [byId.get(first), byId.get(second)];
  if (gores.has(first) && gores.get(first) === gores.get(second)) return 'gore';
  if (isShoulder(places, first, second, up, front)) return 'shoulder';
  return a !== undefined && b !== undefined && a.side !== b.side && a.side !== 'C' && b.side !== 'C' ? 'centre' : 'half';
}

/** A seam between a part in front of it and one behind it that runs above the middles of both. */
function isShoulder(places: SeamPlaces, first: string, second: string, up: Axis, front: Axis): boolean {
  const [seam, a, b] = [places.between(first, second), places.centreOf(first), places.centreOf(second)];
  if (seam === undefined || a === undefined || b === undefined) return false;
  const along = (axis: Axis, to: Vec3): number => directionOf(axis).reduce((sum, part, k) => sum + part * (to[k] - seam[k]), 0);
  const oppositeSides = along(front, a) * along(front, b) < 0;
  const [belowA, belowB] = [along(up, a), along(up, b)];
  // Both middles lie well below the seam, measured against how far they lie in front of and behind it.
  const depth = Math.min(Math.abs(along(front, a)), Math.abs(along(front, b)));
  return oppositeSides && belowA < -depth && belowB < -depth;
}

/** Seams longest first, but one that touches what is joined already before one that does not; fills `joined`. */
function chainSeams(seams: readonly DraftedSeam[], joined: Set<string>): readonly DraftedSeam[] {
  const left = [...seams].sort((a, b) => b.surfaceMm - a.surfaceMm || (a.id < b.id ? -1 : 1));
  const chain: DraftedSeam[] = [];
  while (left.length > 0) {
    const touching = left.findIndex(({ parts }) => parts.some((part) => joined.has(part)));
    const [next] = left.splice(Math.max(0, touching), 1);
    chain.push(next);
    for (const part of next.parts) joined.add(part);
  }
  return chain;
}
