/*
 * What the build sheet says, as plain values, so that its PDF and its page say the same: parts, seams, order, shopping, cautions.
 */
import type { DraftedBevel, DraftedPart, DraftedSeam } from '../draft/drafted-part.ts';
import type { Material } from '../materials/material.ts';
import type { ExportInput, ExportOptions } from './exporter.ts';
import { gluingOrder, type GluingStep } from './gluing-order.ts';
import { cautionsFor, type Caution } from './safety.ts';

export interface SeamRow {
  readonly id: string;
  readonly sides: string;
  readonly names: string;
  readonly lengths: string;
  readonly difference: string;
  readonly bevel: string;
  readonly notches: string;
}

export interface StepRow extends GluingStep {
  readonly letters: string;
  readonly sideNames: readonly string[];
}

export interface ShoppingRow {
  readonly what: string;
  readonly amount: string;
  readonly note: string;
}

export interface PartRow {
  readonly part: DraftedPart;
  readonly title: string;
  readonly facts: readonly string[];
}

export interface BuildContent {
  readonly title: string;
  readonly date: string;
  readonly parts: readonly PartRow[];
  readonly seams: readonly SeamRow[];
  readonly steps: readonly StepRow[];
  /** Bevels that the tool leaves to sanding: one line an edge; empty unless it is a laser. */
  readonly sanding: readonly string[];
  readonly shopping: readonly ShoppingRow[];
  readonly cautions: readonly Caution[];
  /** Findings that a maker must know at the bench. */
  readonly warnings: readonly string[];
}

const verdicts = { cold: 'bends cold', hot: 'needs heat', 'needs-seam': 'needs a seam' } as const;
const sideNames = { L: 'left', R: 'right', C: 'middle' } as const;
/** A bevel is worth cutting where a square cut would leave a gap above this (contract: Fold), mm. */
const shownGapMm = 1;
/** What stands over the table of matching edges. */
export const bevelNote = `Edges named alike meet: lengths of both in mm, and by how much they differ. Square: cut straight down, the gap on the far face stays below ${shownGapMm} mm.`;

/** Gathers the content from a job's results. */
export function buildContent(input: ExportInput, options: Pick<ExportOptions, 'tool' | 'date'>): BuildContent {
  const steps = gluingOrder({
    parts: input.parts,
    seams: input.seams,
    pictures: input.pictures,
    up: input.up ?? 'y',
    front: input.front ?? 'z',
  });
  const used = input.materials.filter(({ id }) => input.parts.some(({ material }) => material === id));
  const letterOf = new Map(input.parts.map(({ id, letter }) => [id, letter]));
  const seamOf = new Map(input.seams.map((seam) => [seam.id, seam]));
  return {
    title: input.jobName,
    date: options.date,
    parts: input.parts.map((part) => partRow(part, used, letterOf, options.tool)),
    seams: input.seams.map((seam) => seamRow(seam, input.parts)),
    steps: steps.map((step) => ({
      ...step,
      letters: step.parts.map((id) => letterOf.get(id) ?? id).join(', '),
      sideNames: step.seams.map((id) => seamOf.get(id)?.sides.join(' to ') ?? id),
    })),
    sanding: options.tool === 'laser' ? input.parts.flatMap((part) => part.bevels.map((bevel) => bevelWords(bevel, 'laser'))) : [],
    shopping: shoppingRows(input, used),
    cautions: cautionsFor(
      used,
      options.tool,
      input.parts.some(({ verdict, forming }) => verdict !== 'cold' || forming === 'domed'),
    ),
    warnings: [...new Set(input.findings.filter(({ severity }) => severity !== 'note').map(({ what, mend }) => `${what} ${mend}`))],
  };
}

const millimetres = (value: number): string => value.toFixed(1);

/** Over the list of edges to sand. */
export const sandingNote =
  'A laser cuts square, along the face that reaches further. Sand these edges to their bevel before gluing: mark the angle at both ends, sand with a block, try the two edges against each other.';

function bevelWords({ side, fromMm, toMm, leastDeg, mostDeg, loses }: DraftedBevel, tool: ExportOptions['tool']): string {
  const verb = tool === 'laser' ? 'sand to' : 'bevel';
  return `${side}: ${verb} ${angles(leastDeg, mostDeg)} from ${fromMm.toFixed(0)} to ${toMm.toFixed(0)} mm, ${loses} face loses foam`;
}

function partRow(
  part: DraftedPart,
  materials: readonly Material[],
  letterOf: ReadonlyMap<string, string>,
  tool: ExportOptions['tool'],
): PartRow {
  const material = materials.find(({ id }) => id === part.material)?.name ?? part.material;
  const pair = part.pair === undefined ? [] : [`mirror of ${letterOf.get(part.pair) ?? part.pair}`];
  const stretch = `stretch ${percent(part.strain.stretch.p95)}, worst ${percent(part.strain.stretch.max)}`;
  return {
    part,
    title: `${part.letter}  ${part.name}, ${sideNames[part.side]}`,
    facts: [
      `cut ${part.count} from ${material}, ${part.mirrored ? 'inside' : 'outside'} up${pair.length > 0 ? `, ${pair[0]}` : ''}`,
      `${(part.areaMm2 / 100).toFixed(0)} cm², ${part.forming}, ${verdicts[part.verdict]}`,
      stretch,
      `version ${part.version}, ${part.id}`,
      ...part.bevels.map((bevel) => bevelWords(bevel, tool)),
    ],
  };
}

const percent = (ratio: number): string => `${(100 * ratio).toFixed(1)} %`;
const angles = (least: number, most: number): string => {
  const [low, high] = [Math.abs(least), Math.abs(most)].sort((a, b) => a - b).map((value) => value.toFixed(0));
  return low === high ? `${low}°` : `${low} to ${high}°`;
};

function seamRow(seam: DraftedSeam, parts: readonly DraftedPart[]): SeamRow {
  const names = [...new Set(seam.parts)]
    .map((id) => parts.find((part) => part.id === id))
    .map((part) => (part === undefined ? '?' : `${part.letter} ${part.name}`));
  const bevelled = parts.some(({ bevels }) => bevels.some((bevel) => bevel.seam === seam.id));
  const { min, max } = seam.bevelDeg;
  return {
    id: seam.id,
    sides: seam.sides.join(' to '),
    names: `${names.join(' – ')}${seam.kind === 'dart' ? ' (dart)' : ''}`,
    lengths: seam.lengthsMm.map(millimetres).join(' / '),
    difference: `${seam.differenceMm.toFixed(2).replace(/^-(0\.00)$/, '$1')}${seam.refused ? ' refused' : ''}`,
    bevel: bevelled ? angles(min, max) : 'square',
    notches: seam.code,
  };
}

/** Sheets to buy, what they weigh, cement, small things. */
function shoppingRows(input: ExportInput, materials: readonly Material[]): readonly ShoppingRow[] {
  const stocks = new Map<string, { count: number; readonly sheet: ExportInput['sheetDrawings'][number]['sheet'] }>();
  for (const { sheet } of input.sheetDrawings) {
    const key = `${sheet.material} ${sheet.stock} ${sheet.widthMm} ${sheet.heightMm}`;
    const known = stocks.get(key);
    if (known === undefined) stocks.set(key, { count: 1, sheet });
    else known.count++;
  }
  const rows = [...stocks.values()].map(({ count, sheet }): ShoppingRow => {
    const material = materials.find(({ id }) => id === sheet.material);
    return {
      what: `${material?.name ?? sheet.material}, ${sheet.stock} ${sheet.widthMm} × ${sheet.heightMm} mm`,
      amount: String(count),
      note: '',
    };
  });
  const weightRows = materials.map((material): ShoppingRow => {
    const area = input.parts.filter((part) => part.material === material.id).reduce((sum, part) => sum + part.areaMm2 * part.count, 0);
    // mm² · mm · kg/m³ = 1e-9 kg, in grams.
    const grams = (area * material.thicknessMm.value * material.density.value) / 1_000_000;
    return {
      what: `Weight of all parts in ${material.name}`,
      amount: `${grams.toFixed(0)} g`,
      note: `${(area / 1_000_000).toFixed(2)} m²; density ${material.density.value} kg/m³ (${material.density.source})`,
    };
  });
  return [...rows, ...weightRows, cementRow(input, materials), ...smallThings];
}

/** Both edges of every seam, two coats. */
function cementRow(input: ExportInput, materials: readonly Material[]): ShoppingRow {
  const thickness = (id: string): number =>
    materials.find((material) => material.id === input.parts.find((part) => part.id === id)?.material)?.thicknessMm.value ?? 0;
  const area = input.seams.reduce(
    (sum, { parts, lengthsMm }) => sum + lengthsMm[0] * thickness(parts[0]) + lengthsMm[1] * thickness(parts[1]),
    0,
  );
  return {
    what: 'Contact cement',
    amount: `${(area / 100).toFixed(0)} cm²`,
    note: 'edges of all seams, both sides; cut edges drink: two coats (common practice)',
  };
}

const smallThings: readonly ShoppingRow[] = [
  { what: 'Fresh blades, pen, steel rule, masking tape', amount: '', note: 'common practice' },
  { what: 'Goggles, gloves, dust mask, respirator for organic vapours', amount: '', note: 'see the cautions' },
];
