/*
 * Parts to sheets. A first, simple placing: rows of bounding boxes by falling height, material by material, with spacing and margins.
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { Material } from '../materials/material.ts';
import type { NestSettings, Stock } from './settings.ts';
import type { NestResult, PlacedPart, Sheet } from './sheet.ts';

export interface NestOptions extends NestSettings {
  readonly tool: 'hand' | 'knife' | 'laser';
  readonly seed?: number;
  readonly iterations?: number;
}

/** Space between parts by tool, mm [common practice, no source]: hand 10, knife 3, laser twice the kerf and 1. */
export function spacingOf(tool: NestOptions['tool'], material: Material): number {
  if (tool === 'laser') return 2 * material.kerfMm.laser.value + 1;
  return tool === 'knife' ? 3 : 10;
}

interface Box {
  readonly part: DraftedPart;
  readonly minX: number;
  readonly minY: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Lays parts on the stock of their material.
 * @param parts outlines in part coordinates, mm
 * @returns sheets in order of material and use; parts that fit no stock are named
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
  for (const material of [...new Set(parts.map((part) => part.material))].sort()) {
    await run.breathe();
    const own = parts.filter((part) => part.material === material);
    const stock = stockOf(options.stock, material);
    const entry = materials.find((known) => known.id === material);
    const spacing = options.spacingMm ?? (entry ? spacingOf(options.tool, entry) : 10);
    let open = own.map(boxOf).sort((a, b) => b.height - a.height || a.part.id.localeCompare(b.part.id));
    for (const size of stock) {
      for (let i = 0; i < size.count && open.length > 0; i++) {
        const { placements, left } = fillSheet(open, size, spacing);
        if (placements.length === 0) break;
        const area = placements.reduce((sum, placed) => sum + (own.find((part) => part.id === placed.part)?.areaMm2 ?? 0), 0);
        sheets.push({
          id: `sheet-${sheets.length + 1}`,
          stock: size.name,
          material,
          widthMm: size.widthMm,
          heightMm: size.heightMm,
          use: area / (size.widthMm * size.heightMm),
          placements,
        });
        open = left;
      }
    }
    for (const box of open) {
      unplaced.push(box.part.id);
      findings.push(
        finding(
          'severe',
          'nest/does-not-fit',
          `${box.part.name || box.part.id} is ${Math.ceil(box.width)} × ${Math.ceil(box.height)} mm and fits no sheet of ${material} that is left.`,
          { stage: 'sheets', item: box.part.id },
          'Add a larger sheet or more sheets to the stock, or draw a seam through the part.',
        ),
      );
    }
  }
  return { sheets, unplaced, findings };
}

/** The maker's stock of a material, or tiles as sold when none is named. */
function stockOf(stock: readonly Stock[], material: string): readonly Stock[] {
  const own = stock.filter((entry) => entry.material === material);
  return own.length > 0
    ? own
    : [{ name: 'sheet 1000 × 1000', material, widthMm: 1000, heightMm: 1000, count: 99, marginMm: 8, turns: 'any' }];
}

function boxOf(part: DraftedPart): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < part.outline.length; i += 2) {
    minX = Math.min(minX, part.outline[i]);
    maxX = Math.max(maxX, part.outline[i]);
    minY = Math.min(minY, part.outline[i + 1]);
    maxY = Math.max(maxY, part.outline[i + 1]);
  }
  return { part, minX, minY, width: maxX - minX, height: maxY - minY };
}

/** Rows from the bottom; each row as high as its first part. */
function fillSheet(boxes: readonly Box[], size: Stock, spacing: number): { placements: PlacedPart[]; left: Box[] } {
  const right = size.widthMm - size.marginMm;
  const top = size.heightMm - size.marginMm;
  const placements: PlacedPart[] = [];
  const left: Box[] = [];
  let x = size.marginMm;
  let y = size.marginMm;
  let rowHeight = 0;
  for (const box of boxes) {
    if (x + box.width > right && rowHeight > 0) {
      x = size.marginMm;
      y += rowHeight + spacing;
      rowHeight = 0;
    }
    if (x + box.width > right || y + box.height > top) {
      left.push(box);
      continue;
    }
    placements.push({ part: box.part.id, xMm: x - box.minX, yMm: y - box.minY, angleDeg: 0, mirrored: false });
    x += box.width + spacing;
    rowHeight = Math.max(rowHeight, box.height);
  }
  return { placements, left };
}
