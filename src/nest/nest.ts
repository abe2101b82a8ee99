/*
 * Parts to sheets, material by material: true shapes in their allowed turns, the spacing of the tool between them and the margin of the stock around them; the
 * final layout is checked on the original outlines.
 */
import type { F64 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { spacingSlackMm } from '../base/tolerance.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { Material } from '../materials/material.ts';
import { allowedTurns } from './allowed-turns.ts';
import { tooClose } from './check-layout.ts';
import type { FilledBin } from './fill-bins.ts';
import { fillBins } from './fill-bins.ts';
import type { FormSet } from './forms.ts';
import { makeForms, turnOf } from './forms.ts';
import { grownOutline } from './grown-outline.ts';
import type { NestSettings, Stock } from './settings.ts';
import type { NestResult, PlacedPart, Sheet } from './sheet.ts';

export interface NestOptions extends NestSettings {
  readonly tool: 'hand' | 'knife' | 'laser';
  /** Same seed, same layout; default 1. */
  readonly seed?: number;
  /** Attempts to need one sheet less; default 12. */
  readonly iterations?: number;
  /** Told whenever fewer sheets are enough. */
  readonly onBetter?: (sheets: readonly Sheet[]) => void;
}

/** Space between parts by tool, mm [common practice, no source]: hand 10, knife 3, laser twice the kerf and 1. */
export function spacingOf(tool: NestOptions['tool'], material: Material | undefined): number {
  if (tool === 'laser') return 2 * (material?.kerfMm.laser.value ?? 0.5) + 1;
  return tool === 'knife' ? 3 : 10;
}

/**
 * Lays parts on the stock of their material.
 * @param parts outlines in part coordinates, mm
 * @returns sheets in order of material and use; parts that fit no stock are named
 * @throws run/stopped
 */
export async function nest(
  parts: readonly DraftedPart[],
  options: NestOptions,
  materials: readonly Material[],
  run: Run,
): Promise<NestResult> {
  const sheets: Sheet[] = [];
  const unplaced: string[] = [];
  const findings: Finding[] = [];
  for (const id of [...new Set(parts.map((part) => part.material))].sort()) {
    const group = makeGroup(
      parts.filter((part) => part.material === id),
      id,
      options,
      materials,
    );
    const earlier = [...sheets];
    const { bins, left } = await fillBins(
      group.set,
      Uint32Array.from(group.parts, (_, i) => i),
      group.stock.map((stock) => usable(stock, group.spacing, options.bed)),
      {
        seed: options.seed ?? 1,
        effort: options.iterations ?? 12,
        onBetter: (found) => options.onBetter?.([...earlier, ...found.map((bin, i) => sheetOf(bin, group, earlier.length + i))]),
      },
      run,
    );
    for (const bin of bins) sheets.push(sheetOf(bin, group, sheets.length));
    for (const i of left) {
      unplaced.push(group.parts[i].id);
      findings.push(doesNotFit(group, i, options.bed));
    }
  }
  for (const sheet of sheets) findings.push(...checkSheet(sheet, parts, options, materials));
  return { sheets, unplaced, findings };
}

/** Parts of one material with their forms and the stock that they may lie on. */
interface Group {
  readonly parts: readonly DraftedPart[];
  readonly set: FormSet;
  readonly stock: readonly Stock[];
  readonly spacing: number;
}

function makeGroup(parts: readonly DraftedPart[], id: string, options: NestOptions, materials: readonly Material[]): Group {
  const material = materials.find((entry) => entry.id === id);
  const spacing = options.spacingMm ?? spacingOf(options.tool, material);
  const own = options.stock.filter((entry) => entry.material === id);
  const stock = own.length > 0 ? own : [asSold(id)];
  // Grain is the strictest of the material's stock: a part must be allowed to lie on any of them.
  const strictness = ['none', '180', '90', 'any'] as const;
  const turns = strictness.find((kind) => stock.some((entry) => entry.turns === kind)) ?? 'any';
  const shapes = parts.map((part) => {
    const outline = cutSize(part.outline, material);
    return {
      rings: grownOutline(
        outline,
        part.holes.map((hole) => cutSize(hole, material)),
        spacing,
      ),
      anglesDeg: allowedTurns(turns, outline),
    };
  });
  return { parts, set: makeForms(shapes), stock, spacing };
}

/** When the maker names no stock: a sheet as it is sold [common practice, no source]. */
const asSold = (material: string): Stock => ({
  name: 'sheet 1000 × 1000',
  material,
  widthMm: 1000,
  heightMm: 1000,
  count: 99,
  marginMm: 8,
  turns: 'any',
});

/** The outline as it will be cut: larger by what the material shrinks when it is formed. */
function cutSize(ring: F64, material: Material | undefined): F64 {
  const factor = 1 / (1 - (material?.shrink.value ?? 0));
  return factor === 1 ? ring : Float64Array.from(ring, (x) => x * factor);
}

/** Shapes carry half the spacing around them, so at the margin that much may stand over. */
function usable(stock: Stock, spacing: number, bed: NestSettings['bed']): { length: number; height: number; count: number } {
  const side = (sheet: number, machine: number): number => Math.min(sheet - 2 * stock.marginMm, machine) + spacing;
  return {
    length: side(stock.widthMm, bed?.widthMm ?? Infinity),
    height: side(stock.heightMm, bed?.heightMm ?? Infinity),
    count: stock.count,
  };
}

function sheetOf(bin: FilledBin, group: Group, index: number): Sheet {
  const stock = group.stock[bin.size];
  const start = stock.marginMm - group.spacing / 2;
  const placements = bin.items.map((item, k): PlacedPart => {
    const form = group.set.forms[bin.layout.form[k]];
    return {
      part: group.parts[item].id,
      xMm: start + bin.layout.x[k] + form.originX,
      yMm: start + bin.layout.y[k] + form.originY,
      angleDeg: form.angleDeg,
      mirrored: false,
    };
  });
  const area = bin.items.reduce((sum, item) => sum + group.parts[item].areaMm2, 0);
  return {
    id: `sheet-${index + 1}`,
    stock: stock.name,
    material: stock.material,
    widthMm: stock.widthMm,
    heightMm: stock.heightMm,
    use: area / (stock.widthMm * stock.heightMm),
    placements: placements.sort((a, b) => (a.part < b.part ? -1 : 1)),
  };
}

function doesNotFit(group: Group, i: number, bed: NestSettings['bed']): Finding {
  const part = group.parts[i];
  const forms = group.set.ofShape[i].map((form) => group.set.forms[form]);
  const smallest = forms.reduce((least, form) => (form.width * form.height < least.width * least.height ? form : least));
  const [width, height] = [smallest.width, smallest.height].map((side) => Math.ceil(side - group.spacing));
  const fitsSome = group.stock.some((stock) => {
    const room = usable(stock, group.spacing, bed);
    return forms.some((form) => form.width <= room.length && form.height <= room.height);
  });
  const name = part.name === '' ? part.id : part.name;
  if (fitsSome)
    return finding(
      'severe',
      'nest/out-of-stock',
      `There is no sheet left for ${name}.`,
      { stage: 'sheets', item: part.id },
      'Add sheets to the stock: the count in the list is what you have at hand.',
    );
  return finding(
    'severe',
    'nest/does-not-fit',
    `${name} needs ${width} × ${height} mm and fits no ${bed ? 'sheet on the machine' : 'sheet'} of ${part.material}.`,
    { stage: 'sheets', item: part.id },
    `Draw a seam across its longer side (${Math.max(width, height)} mm) so that it is cut in two and joined, or add a larger sheet.`,
  );
}

/** The finished sheet on the parts' original outlines. */
function checkSheet(sheet: Sheet, parts: readonly DraftedPart[], options: NestOptions, materials: readonly Material[]): Finding[] {
  const material = materials.find((entry) => entry.id === sheet.material);
  const placed = sheet.placements.flatMap((placement) => {
    const part = parts.find((entry) => entry.id === placement.part);
    return part
      ? [{ id: part.id, rings: [part.outline, ...part.holes].map((ring) => placedRing(cutSize(ring, material), placement)) }]
      : [];
  });
  const spacing = options.spacingMm ?? spacingOf(options.tool, material);
  return tooClose(placed, spacing, spacingSlackMm).map(({ a, b, distanceMm }) =>
    finding(
      'severe',
      'nest/too-close',
      `${a} and ${b} lie ${distanceMm.toFixed(2)} mm apart on ${sheet.id}; ${spacing} mm are wanted.`,
      { stage: 'sheets', item: sheet.id },
      'Lay the parts again, or with more space between them.',
    ),
  );
}

/** A ring where its part lies on the sheet. */
export function placedRing(ring: F64, placement: PlacedPart): Float64Array {
  const [c, s] = turnOf(placement.angleDeg);
  const placed = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    const x = placement.mirrored ? -ring[i] : ring[i];
    placed[i] = c * x - s * ring[i + 1] + placement.xMm;
    placed[i + 1] = s * x + c * ring[i + 1] + placement.yMm;
  }
  return placed;
}
