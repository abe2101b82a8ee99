/*
 * The one place where kerf, blade wedge and shrink are applied (contract: once each, to cut lines). Shrink first, about the part's
 * origin, by 1/(1 − s); then the cut line moves out, and an inner one in, by half the width that the tool removes: a 100 mm square with
 * 2 % shrink and 0.8 mm kerf leaves as 100/0.98 + 0.8 = 102.84 mm.
 * Marks are never moved by kerf. Where the sheet shrinks, its marks go with it: lines on it are drawn larger by the same factor so that
 * they end up in place, while ticks, arrows and letters keep their size and are only carried.
 */
import type { Vec2 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { Drawing, DrawingLabel, DrawingPath, LayerName } from '../draft/drawing.ts';
import type { Material } from '../materials/material.ts';
import { flattenCurve, mapCurve, polylineCurve } from '../draft/curve.ts';
import { signedArea } from '../plane/polygon.ts';
import { curveMm } from '../base/tolerance.ts';
import { groupLetters } from './letters.ts';
import type { ExportOptions } from './exporter.ts';
import { growOutline } from './grow-outline.ts';
import { reversed } from '../plane/polyline.ts';

/** What was applied to one part's cut lines. */
export interface Correction {
  readonly part: string;
  readonly material: string;
  /** Width that the tool removes, mm; half of it went to each side of the cut. */
  readonly kerfMm: number;
  readonly kerfSource: string;
  /** Linear shrink of the material, ratio; lines were scaled by 1/(1 − shrink). */
  readonly shrink: number;
  readonly shrinkSource: string;
}

/** What was applied at output, once, for the report: a row a kind and material, and one for the printer. */
export type CorrectionRow =
  | {
      readonly kind: 'kerf';
      readonly material: string;
      readonly parts: readonly string[];
      /** Width that the tool removes, mm, and how far the cut line moved out for it. */
      readonly widthMm: number;
      readonly outMm: number;
      readonly source: string;
    }
  | {
      readonly kind: 'shrink';
      readonly material: string;
      readonly parts: readonly string[];
      /** Linear shrink, ratio, and the scale against it, 1/(1 − ratio). */
      readonly ratio: number;
      readonly scale: number;
      readonly source: string;
    }
  | { readonly kind: 'print-factor'; readonly factor: readonly [number, number]; readonly scale: readonly [number, number] };

/** The corrections that are not nought, by material in the order of the parts. */
export function correctionRows(corrections: readonly Correction[], printFactor: readonly [number, number]): CorrectionRow[] {
  const byMaterial = new Map<string, Correction[]>();
  for (const correction of corrections) byMaterial.set(correction.material, [...(byMaterial.get(correction.material) ?? []), correction]);
  const rows: CorrectionRow[] = [];
  for (const [material, own] of byMaterial) {
    const { kerfMm, kerfSource, shrink, shrinkSource } = own[0];
    const parts = own.map(({ part }) => part);
    if (shrink !== 0) rows.push({ kind: 'shrink', material, parts, ratio: shrink, scale: 1 / (1 - shrink), source: shrinkSource });
    if (kerfMm !== 0) rows.push({ kind: 'kerf', material, parts, widthMm: kerfMm, outMm: kerfMm / 2, source: kerfSource });
  }
  const [x, y] = printFactor;
  if (x !== 1 || y !== 1) rows.push({ kind: 'print-factor', factor: [x, y], scale: [1 / x, 1 / y] });
  return rows;
}

/**
 * Holes that the tool cannot cut: narrower than what it removes, so that nothing is left of their cut line.
 * @param before, after a part's drawing before and after its corrections
 */
export function vanishedHoles(before: Drawing, after: Drawing): number {
  const holes = ({ paths }: Drawing): number => paths.filter(({ layer, curve }) => layer === 'CUT_INSIDE' && curve.closed).length;
  return Math.max(0, holes(before) - holes(after));
}

const carriedLayers: ReadonlySet<LayerName> = new Set(['NOTCH', 'ARROW', 'TEXT']);

/** The correction that a part needs, from its material and the tool. */
export function correctionOf(part: DraftedPart, material: Material, tool: ExportOptions['tool']): Correction {
  const kerf = material.kerfMm[tool];
  return {
    part: part.id,
    material: material.id,
    kerfMm: kerf.value,
    kerfSource: kerf.source,
    shrink: material.shrink.value,
    shrinkSource: material.shrink.source,
  };
}

/**
 * A part's drawing with its material's corrections for the tool.
 * @throws export/unknown-material
 */
export function correctedDrawing(part: DraftedPart, materials: readonly Material[], tool: ExportOptions['tool']): Drawing {
  return correctDrawing(part.drawing, correctionOf(part, materialOfPart(part, materials), tool));
}

/**
 * The material that a part is cut from.
 * @throws export/unknown-material
 */
export function materialOfPart(part: DraftedPart, materials: readonly Material[]): Material {
  const material = materials.find(({ id }) => id === part.material);
  if (material !== undefined) return material;
  throw new Failure(
    'export/unknown-material',
    `Part ${part.id} is to be cut from "${part.material}", which is not among the job's materials.`,
    { stage: 'export', item: part.id },
    `Choose one of ${materials.map(({ id }) => id).join(', ')}, or add the material to the job.`,
  );
}

/** The drawing as it must leave: see the head of this file. The same object when there is nothing to correct. */
export function correctDrawing(drawing: Drawing, correction: Pick<Correction, 'kerfMm' | 'shrink'>): Drawing {
  const scaled = correction.shrink === 0 ? drawing : scaleDrawing(drawing, 1 / (1 - correction.shrink));
  if (correction.kerfMm === 0) return scaled;
  return { labels: scaled.labels, paths: scaled.paths.flatMap((path) => growPath(path, correction.kerfMm / 2)) };
}

/**
 * A closed cut line moved by half a kerf: CUT outward, CUT_INSIDE into its hole; a hole narrower than the kerf vanishes, for the tool cannot cut
 * it. Open cuts (slits) stay: both their banks belong to parts.
 */
function growPath(path: DrawingPath, byMm: number): readonly DrawingPath[] {
  if (!path.curve.closed || (path.layer !== 'CUT' && path.layer !== 'CUT_INSIDE')) return [path];
  const points = flattenCurve(path.curve, curveMm);
  const clockwise = signedArea(points) < 0;
  const grown = growOutline(clockwise ? reversed(points) : points, path.layer === 'CUT' ? byMm : -byMm);
  return grown.map((outline) => ({ ...path, curve: polylineCurve(clockwise ? reversed(outline) : outline, true) }));
}

function scaleDrawing(drawing: Drawing, factor: number): Drawing {
  const letters = groupLetters(drawing);
  const scale = (point: Vec2): Vec2 => [factor * point[0], factor * point[1]];
  const carry = (path: DrawingPath, anchor: Vec2): DrawingPath => ({
    ...path,
    curve: mapCurve(path.curve, ([x, y]) => [x + (factor - 1) * anchor[0], y + (factor - 1) * anchor[1]]),
  });
  const labels: DrawingLabel[] = letters.labels.map(({ label }) => ({ ...label, at: scale(label.at) }));
  const lettering = letters.labels.flatMap(({ label, paths }) => paths.map((path) => carry(path, label.at)));
  const arrow = letters.others.find(({ layer }) => layer === 'ARROW')?.curve.start;
  const others = letters.others.map((path) => {
    if (!carriedLayers.has(path.layer)) return { ...path, curve: mapCurve(path.curve, scale) };
    // Shaft and head of an arrow stay together; a tick is held by its start, which lies on the seam line.
    return carry(path, path.layer === 'ARROW' && arrow !== undefined ? arrow : path.curve.start);
  });
  return { labels, paths: [...others, ...lettering] };
}
