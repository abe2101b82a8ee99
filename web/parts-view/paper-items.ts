/*
 * What lies on the paper: flat parts turned upright, drafted parts, or sheets; and where each lies.
 */
import { computed, signal } from '@preact/signals';
import type { F64 } from '../../src/base/arrays.ts';
import { turnUpright } from '../../src/draft/border.ts';
import type { DraftedPart } from '../../src/draft/drafted-part.ts';
import type { Drawing } from '../../src/draft/drawing.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { Sheet } from '../../src/nest/sheet.ts';
import type { Patch } from '../../src/patches/patch.ts';
import type { Axis } from '../../src/body/body.ts';
import { body, cut, drafted, flats, isBothSides, isStrainShown, sheets, station } from '../state.ts';
import type { Box } from './box.ts';
import { boxOf } from './box.ts';
import type { PaperLayout } from './lay-out.ts';
import { layOut } from './lay-out.ts';
import { roomOn } from './paper-view.ts';

export interface FlatItem {
  readonly patch: Patch;
  readonly flat: FlatPart;
  /** Plane positions, up upward, 2·n, mm. */
  readonly positions: F64;
  readonly box: Box;
}

export interface DraftItem {
  readonly part: DraftedPart;
  readonly box: Box;
}

export interface SheetItem {
  readonly sheet: Sheet;
  readonly drawing: Drawing;
}

const turned = new WeakMap<FlatPart, { readonly patch: Patch; readonly item: FlatItem }>();

function flatItem(patch: Patch, flat: FlatPart, up: Axis, front: Axis): FlatItem {
  const known = turned.get(flat);
  if (known?.patch === patch) return known.item;
  const { positions } = turnUpright(patch, flat, up, front);
  const item = { patch, flat, positions, box: boxOf(positions) };
  turned.set(flat, { patch, item });
  return item;
}

/** Of a pair, the wearer's left is shown; the other follows from it. */
const isLeftOut = (side: string, pair: string | undefined): boolean => !isBothSides.value && side === 'R' && pair !== undefined;

export const flatItems = computed<readonly FlatItem[]>(() => {
  const standing = body.value;
  if (!standing) return [];
  const patches = new Map((cut.value?.patches ?? []).map((patch) => [patch.id, patch]));
  return (flats.value ?? []).flatMap((flat) => {
    const patch = patches.get(flat.patch);
    // While a newer cut is on its way, an older flat part may not fit it.
    if (!patch || flat.positions.length / 2 !== patch.mesh.positions.length / 3 || isLeftOut(patch.side, patch.pair)) return [];
    return [flatItem(patch, flat, standing.up, standing.front)];
  });
});

export const draftItems = computed<readonly DraftItem[]>(() =>
  (drafted.value?.parts ?? []).filter((part) => !isLeftOut(part.side, part.pair)).map((part) => ({ part, box: boxOf(part.outline) })),
);

export const sheetItems = computed<readonly SheetItem[]>(() => sheets.value?.drawings ?? []);

export type PaperKind = 'flats' | 'drafts' | 'sheets';

/** What this station puts on the paper; flat parts stand in until drafts and sheets have been worked out. */
export const paperKind = computed<PaperKind>(() => {
  if ((station.value === 'sheets' || station.value === 'print') && sheetItems.value.length > 0) return 'sheets';
  if ((station.value === 'draft' || station.value === 'sheets' || station.value === 'print') && draftItems.value.length > 0)
    return 'drafts';
  return 'flats';
});

export const paneSize = signal({ width: 600, height: 700 });

/** The legend lies over the foot of the paper. */
export const hasLegend = computed(() => paperKind.value === 'flats' && isStrainShown.value && flatItems.value.length > 0);

const sized = (id: string, box: Box): { readonly id: string; readonly width: number; readonly height: number } => ({
  id,
  width: box.maxX - box.minX,
  height: box.maxY - box.minY,
});

export const paperLayout = computed<PaperLayout>(() => {
  const pane = roomOn(paneSize.value, hasLegend.value);
  switch (paperKind.value) {
    case 'flats':
      return layOut(
        flatItems.value.map(({ patch, box }) => sized(patch.id, box)),
        pane,
      );
    case 'drafts':
      return layOut(
        draftItems.value.map(({ part, box }) => sized(part.id, box)),
        pane,
      );
    case 'sheets':
      return layOut(
        sheetItems.value.map(({ sheet }) => ({ id: sheet.id, width: sheet.widthMm, height: sheet.heightMm })),
        pane,
        80,
      );
    default:
      return paperKind.value satisfies never;
  }
});

/** A drafted drawing's own coordinates and the upright flat part's: the drawing's corner is at its origin, mirrored for the inner face. */
export function drawnToFlat(part: DraftedPart, flat: Box): (x: number, y: number) => readonly [number, number] {
  const drawn = boxOf(...part.sides.map((side) => side.seamLine));
  return (x, y) => [part.mirrored ? flat.maxX - (x - drawn.minX) : x - drawn.minX + flat.minX, y - drawn.minY + flat.minY];
}
