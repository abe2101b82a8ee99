/*
 * What a printed page carries beside its piece of the drawing: crosses and cut lines where it meets its neighbours, their names in the margin,
 * and a foot with a map, words and a ruler. Words stand outside the window, so that none can cross a cut line. Page millimetres.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { Box } from './box.ts';
import { footMm, marginMm } from './papers.ts';
import { strokeContent } from './pdf-drawing.ts';
import { textLine, textWidth, wrapText } from './pdf-text.ts';
import { pdfNumber } from './pdf-writer.ts';
import { pageWindow, type PageSize, type Tile, type TilePlan } from './tiling.ts';

const ink = [40, 40, 40] as const;
const faint = [120, 120, 120] as const;
const crossMm = 5;

/** A straight line, with no paint settings of its own. */
export const lineContent = ([ax, ay]: Vec2, [bx, by]: Vec2): string =>
  `${pdfNumber(ax)} ${pdfNumber(ay)} m ${pdfNumber(bx)} ${pdfNumber(by)} l S`;
/** A rectangle, to be stroked or filled. */
export const boxContent = (box: Box, paint: 'S' | 'f' | 'B'): string =>
  `${[box.minX, box.minY, box.maxX - box.minX, box.maxY - box.minY].map(pdfNumber).join(' ')} re ${paint}`;

export interface PageWords {
  /** What the page shows: job, sheet or part. */
  readonly title: string;
  /** Number of the page and of all pages of the file. */
  readonly page: number;
  readonly pages: number;
  /** Title of the paper. */
  readonly paper: string;
}

/** The marks of one tile: crosses, cut lines, names of neighbours. */
export function tileMarks(plan: TilePlan, tile: Tile, scale: Vec2): string {
  const shown = pageWindow(plan.page);
  const toPage = (x: number, y: number): Vec2 => [
    shown.minX + (x - tile.window.minX) * scale[0],
    shown.minY + (y - tile.window.minY) * scale[1],
  ];
  const has = (row: number, column: number): boolean => plan.tiles.some((other) => other.row === row && other.column === column);
  const { row, column } = tile;
  const left = plan.origin[0] + (column - 1) * plan.step[0];
  const bottom = plan.origin[1] + (plan.rows - row) * plan.step[1];
  const [low, high] = [toPage(left, bottom), toPage(left + plan.step[0], bottom + plan.step[1])];
  const out: string[] = [`q ${strokeContent(faint, 0.12, [2, 2])}`];
  if (has(row - 1, column)) out.push(lineContent([shown.minX, high[1]], [shown.maxX, high[1]]));
  if (has(row + 1, column)) out.push(lineContent([shown.minX, low[1]], [shown.maxX, low[1]]));
  if (has(row, column - 1)) out.push(lineContent([low[0], shown.minY], [low[0], shown.maxY]));
  if (has(row, column + 1)) out.push(lineContent([high[0], shown.minY], [high[0], shown.maxY]));
  out.push(strokeContent(ink, 0.2));
  for (const [x, dColumn] of [
    [low[0], -1],
    [high[0], 1],
  ] as const)
    for (const [y, dRow] of [
      [low[1], 1],
      [high[1], -1],
    ] as const) {
      if (!has(row, column + dColumn) && !has(row + dRow, column) && !has(row + dRow, column + dColumn)) continue;
      out.push(lineContent([x - crossMm, y], [x + crossMm, y]), lineContent([x, y - crossMm], [x, y + crossMm]));
    }
  out.push('Q', ...neighbourNames(tile, shown, has));
  return out.join('\n');
}

function neighbourNames({ row, column }: Tile, shown: Box, has: (row: number, column: number) => boolean): readonly string[] {
  const style = { sizeMm: 2.6, align: 'middle', rgb: faint } as const;
  const [middleX, middleY] = [(shown.minX + shown.maxX) / 2, (shown.minY + shown.maxY) / 2];
  const out: string[] = [];
  if (has(row - 1, column)) out.push(textLine(`row ${row - 1} above`, [middleX, shown.maxY + 1.2], style));
  if (has(row + 1, column)) out.push(textLine(`row ${row + 1} below`, [middleX, shown.minY - 3.2], style));
  if (has(row, column - 1))
    out.push(textLine(`column ${column - 1} to the left`, [shown.minX - 1.2, middleY], { ...style, angle: Math.PI / 2 }));
  if (has(row, column + 1))
    out.push(textLine(`column ${column + 1} to the right`, [shown.maxX + 1.2, middleY], { ...style, angle: -Math.PI / 2 }));
  return out;
}

/** The foot of a page: map, words, ruler of 100 mm. */
export function pageFoot(page: PageSize, scale: Vec2, words: PageWords, place?: { readonly plan: TilePlan; readonly tile: Tile }): string {
  const top = marginMm + footMm - 4;
  const right = page.widthMm - marginMm;
  const out: string[] = [`q ${strokeContent(faint, 0.12)}`, lineContent([marginMm, top], [right, top]), 'Q'];
  const map =
    place === undefined
      ? undefined
      : mapContent(place.plan, place.tile, { minX: marginMm, minY: marginMm, maxX: marginMm + 34, maxY: top - 1 });
  if (map !== undefined) out.push(map.content);
  const x = marginMm + (map === undefined ? 0 : map.widthMm + 4);
  const place2 =
    place === undefined || place.plan.rows * place.plan.columns === 1 ? '' : `row ${place.tile.row}, column ${place.tile.column}  ·  `;
  const second = `${place2}page ${words.page} of ${words.pages}  ·  ${words.paper}, print at 100 %, no scaling`;
  out.push(textLine(fitWords(words.title, right - x, 3.2), [x, top - 3.8], { sizeMm: 3.2, font: 'F2' }));
  const room = right - 100 * scale[0] - 3 - x;
  for (const [n, line] of wrapText(second, room, 2.4).entries()) out.push(textLine(line, [x, top - 7.4 - 3 * n], { sizeMm: 2.4 }));
  out.push(rulerContent([right - 100 * scale[0], marginMm + 4.4], scale[0]));
  return out.join('\n');
}

/** A title cut short where it would run into the edge. */
function fitWords(text: string, roomMm: number, sizeMm: number): string {
  if (textWidth(text, sizeMm, 'F2') <= roomMm) return text;
  let short = text;
  while (short.length > 1 && textWidth(`${short}…`, sizeMm, 'F2') > roomMm) short = short.slice(0, -1);
  return `${short}…`;
}

/** A ruler of 100 mm from a point to the right, millimetre by millimetre. */
export function rulerContent([x, y]: Vec2, scale: number): string {
  const out = [`q ${strokeContent(ink, 0.15)} 0 J`, lineContent([x, y], [x + 100 * scale, y])];
  for (let mm = 0; mm <= 100; mm++) {
    const length = mm % 10 === 0 ? 2.4 : mm % 5 === 0 ? 1.8 : 1.1;
    out.push(lineContent([x + mm * scale, y], [x + mm * scale, y - length]));
  }
  out.push('Q');
  for (let mm = 0; mm <= 100; mm += 10)
    out.push(
      textLine(mm === 100 ? '100 mm' : String(mm), [x + mm * scale, y - 4.4], { sizeMm: 1.9, align: mm === 100 ? 'right' : 'middle' }),
    );
  return out.join('\n');
}

/** Pages as small boxes, this one filled, pages that were left out only dotted. */
function mapContent(plan: TilePlan, tile: Tile, room: Box): { readonly content: string; readonly widthMm: number } | undefined {
  if (plan.rows * plan.columns === 1) return undefined;
  const cell = Math.min((room.maxX - room.minX) / plan.columns, (room.maxY - room.minY) / plan.rows, 5);
  const out = [`q ${strokeContent(ink, 0.15)} ${ink.map((part) => pdfNumber(part / 255)).join(' ')} rg`];
  const boxOfCell = (row: number, column: number): Box => ({
    minX: room.minX + (column - 1) * cell,
    maxX: room.minX + column * cell,
    minY: room.minY + (plan.rows - row) * cell,
    maxY: room.minY + (plan.rows - row + 1) * cell,
  });
  for (const { row, column } of plan.tiles)
    out.push(boxContent(boxOfCell(row, column), row === tile.row && column === tile.column ? 'B' : 'S'));
  out.push('Q');
  return { content: out.join('\n'), widthMm: plan.columns * cell };
}
