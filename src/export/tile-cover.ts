/*
 * The first page of a tiled file: how to print and join, the 100 mm square, and a map of the pages. Page millimetres.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { Box } from './box.ts';
import { marginMm } from './papers.ts';
import { paintForm, strokeContent } from './pdf-drawing.ts';
import { textLine, wrapText } from './pdf-text.ts';
import { testSquareMm } from './test-square.ts';
import { boxContent, lineContent } from './tile-page.ts';
import type { PageSize, TilePlan } from './tiling.ts';

export interface CoverMap {
  /** Name of the drawing's form. */
  readonly form: string;
  readonly plan: TilePlan;
  /** Page number of the plan's first tile. */
  readonly firstPage: number;
  readonly region: Box;
}

export interface CoverWords {
  readonly title: string;
  readonly lines: readonly string[];
  readonly printFactor: readonly [number, number];
}

const ink = [40, 40, 40] as const;

/** Content of the cover; the map is left out where there is none. */
export function coverContent(page: PageSize, scale: Vec2, words: CoverWords, map?: CoverMap): string {
  const room = page.widthMm - 2 * marginMm;
  const out: string[] = [];
  let y = page.heightMm - marginMm - 6;
  const put = (text: string, sizeMm: number, font: 'F1' | 'F2', gap: number): void => {
    for (const line of wrapText(text, room, sizeMm, font)) {
      out.push(textLine(line, [marginMm, y], { sizeMm, font }));
      y -= sizeMm * gap;
    }
  };
  put(words.title, 6, 'F2', 1.35);
  for (const line of words.lines) put(line, 3.6, 'F1', 1.4);
  y -= 2;
  for (const line of instructions(words.printFactor)) put(line, 3.4, 'F1', 1.4);
  y -= 2;
  const side: Vec2 = [testSquareMm * scale[0], testSquareMm * scale[1]];
  const square: Box = { minX: marginMm + 2, maxX: marginMm + 2 + side[0], maxY: y, minY: y - side[1] };
  out.push(squareContent(square, page.lying));
  if (map !== undefined) {
    const below: Box = { minX: marginMm, maxX: page.widthMm - marginMm, minY: marginMm, maxY: square.minY - 8 };
    const beside: Box = { minX: square.maxX + 10, maxX: page.widthMm - marginMm, minY: marginMm, maxY: y };
    const size = ({ minX, minY, maxX, maxY }: Box): number =>
      Math.min((maxX - minX) / (map.region.maxX - map.region.minX), (maxY - minY) / (map.region.maxY - map.region.minY));
    out.push(mapContent(map, size(below) > size(beside) ? below : beside));
  }
  return out.join('\n');
}

function instructions([across, along]: readonly [number, number]): readonly string[] {
  const corrected =
    across === 1 && along === 1
      ? 'If not, type both at Print and cut: the next files make up for it.'
      : `This file makes up for a printer that printed 100 mm as ${(100 * across).toFixed(2)} across and ${(100 * along).toFixed(2)} along the paper.`;
  return [
    '1  Print at 100 %, "actual size". No fitting to the page.',
    `2  Measure the square, both ways, with a steel rule: 99.5 to 100.5 mm is good. ${corrected}`,
    '3  Lay each page over its neighbour until the crosses meet, cut one of the two along the dashed line, tape.',
  ];
}

function squareContent(square: Box, lying: boolean): string {
  const middle: Vec2 = [(square.minX + square.maxX) / 2, (square.minY + square.maxY) / 2];
  const [across, up] = lying ? ['along the paper', 'across the paper'] : ['across the paper', 'along the paper'];
  return [
    `q ${strokeContent(ink, 0.2)} 0 j`,
    boxContent(square, 'S'),
    'Q',
    textLine(`${testSquareMm} mm`, [middle[0], middle[1] - 2], { sizeMm: 8, font: 'F2', align: 'middle' }),
    textLine(`${testSquareMm} mm ${across}`, [middle[0], square.minY + 3], { sizeMm: 3, align: 'middle' }),
    textLine(`${testSquareMm} mm ${up}`, [square.minX + 5, middle[1]], { sizeMm: 3, align: 'middle', angle: Math.PI / 2 }),
  ].join('\n');
}

/** The drawing, small, under the grid of pages with their numbers. */
function mapContent(map: CoverMap, room: Box): string {
  const { plan, region } = map;
  const low: Vec2 = [Math.min(region.minX, plan.origin[0]), Math.min(region.minY, plan.origin[1])];
  const high: Vec2 = [
    Math.max(region.maxX, plan.origin[0] + plan.columns * plan.step[0]),
    Math.max(region.maxY, plan.origin[1] + plan.rows * plan.step[1]),
  ];
  const scale = Math.min((room.maxX - room.minX) / (high[0] - low[0]), (room.maxY - room.minY - 6) / (high[1] - low[1]), 0.4);
  const shift: Vec2 = [room.minX - low[0] * scale, room.maxY - 6 - high[1] * scale];
  const at = (x: number, y: number): Vec2 => [shift[0] + x * scale, shift[1] + y * scale];
  const out = [
    textLine('Pages', [room.minX, room.maxY - 3], { sizeMm: 3.4, font: 'F2' }),
    paintForm(map.form, { factor: [scale, scale], shift }, room),
    `q ${strokeContent(ink, 0.2)}`,
  ];
  const cell = ({ row, column }: { readonly row: number; readonly column: number }): readonly [Vec2, Vec2] => {
    const [x, y] = [plan.origin[0] + (column - 1) * plan.step[0], plan.origin[1] + (plan.rows - row) * plan.step[1]];
    return [at(x, y), at(x + plan.step[0], y + plan.step[1])];
  };
  for (const tile of plan.tiles) {
    const [a, b] = cell(tile);
    out.push(lineContent(a, [b[0], a[1]]), lineContent([b[0], a[1]], b), lineContent(b, [a[0], b[1]]), lineContent([a[0], b[1]], a));
  }
  out.push('Q');
  for (const [index, tile] of plan.tiles.entries()) {
    const [a, b] = cell(tile);
    const sizeMm = Math.min(5, (b[1] - a[1]) / 3, (b[0] - a[0]) / 3);
    out.push(textLine(String(map.firstPage + index), [a[0] + sizeMm * 0.4, b[1] - sizeMm], { sizeMm, font: 'F2', rgb: [150, 60, 0] }));
  }
  return out.join('\n');
}
