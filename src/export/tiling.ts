/*
 * How a drawing is divided over pages. A page shows a window; windows of neighbours overlap by 10 mm, and the lines in the middle of the overlaps
 * form a grid whose crossings are printed on all four pages that meet there. All lengths are of the drawing; where the printer's own error is
 * compensated, a window of the page shows that much more or less of it.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { boxOf, boxesMeet, type Box } from './box.ts';
import { footMm, longestPageMm, marginMm, overlapMm, type Paper } from './papers.ts';

/** Narrowest page whose foot holds map, words and ruler, mm. */
const leastFootMm = 190;

export interface Tile {
  /** From the top, from 1. */
  readonly row: number;
  /** From the left, from 1. */
  readonly column: number;
  /** What of the drawing the page shows, mm. */
  readonly window: Box;
}

export interface TilePlan {
  readonly page: PageSize;
  readonly rows: number;
  readonly columns: number;
  /** Lower left crossing of the grid, in the drawing, mm. */
  readonly origin: Vec2;
  /** Distance of the grid's lines, mm. */
  readonly step: Vec2;
  /** In reading order, empty ones left out. */
  readonly tiles: readonly Tile[];
}

/** A page's size in one of its two positions. */
export interface PageSize {
  readonly widthMm: number;
  readonly heightMm: number;
  /** The paper's short side, or the width of the roll, runs up the page. */
  readonly lying: boolean;
}

/**
 * The window of a page, in page millimetres from the lower left corner of the paper.
 */
export function pageWindow({ widthMm, heightMm }: PageSize): Box {
  return { minX: marginMm, minY: marginMm + footMm, maxX: widthMm - marginMm, maxY: heightMm - marginMm };
}

/** Printed length of one millimetre of the drawing, across and up an upright or a lying page: 1/measured factor of the paper's own sides. */
export function printScale(printFactor: readonly [number, number], page: PageSize): Vec2 {
  const [across, along] = printFactor;
  return page.lying ? [1 / along, 1 / across] : [1 / across, 1 / along];
}

/** The two positions of a paper; on a roll as long as the region needs. */
function positions(paper: Paper, region: Box, printFactor: readonly [number, number]): readonly PageSize[] {
  const { heightMm } = paper;
  if (heightMm !== undefined)
    return [
      { widthMm: paper.widthMm, heightMm, lying: false },
      { widthMm: heightMm, heightMm: paper.widthMm, lying: true },
    ];
  // A roll is as wide as it is; its length is the other side, in page millimetres.
  const length = (size: number, extra: number): number => Math.min(longestPageMm, Math.ceil(size / printFactor[1]) + extra);
  return [
    { widthMm: paper.widthMm, heightMm: length(region.maxY - region.minY, 2 * marginMm + footMm), lying: false },
    { widthMm: Math.max(leastFootMm, length(region.maxX - region.minX, 2 * marginMm)), heightMm: paper.widthMm, lying: true },
  ];
}

/**
 * The plan with the fewest pages, upright paper before lying, less paper before more.
 * @param region what must be shown, mm
 * @param outlines closed outlines, 2·n, mm: a page that shows none of their lines or insides is left out; without any, every page stays
 */
export function planTiles(region: Box, outlines: readonly F64[], paper: Paper, printFactor: readonly [number, number]): TilePlan {
  const plans = positions(paper, region, printFactor).map((page) => planPage(region, outlines, page, printFactor));
  const cost = (plan: TilePlan): readonly number[] => [plan.tiles.length, plan.tiles.length * plan.page.widthMm * plan.page.heightMm];
  const [[firstPages, firstPaper], [secondPages, secondPaper]] = [cost(plans[0]), cost(plans[1])];
  return secondPages < firstPages || (secondPages === firstPages && secondPaper < firstPaper) ? plans[1] : plans[0];
}

function planPage(region: Box, outlines: readonly F64[], page: PageSize, printFactor: readonly [number, number]): TilePlan {
  const scale = printScale(printFactor, page);
  const shown = pageWindow(page);
  const window: Vec2 = [(shown.maxX - shown.minX) / scale[0], (shown.maxY - shown.minY) / scale[1]];
  const size: Vec2 = [region.maxX - region.minX, region.maxY - region.minY];
  const count = size.map((length, k) => Math.max(1, Math.ceil((length - overlapMm) / (window[k] - overlapMm))));
  const [columns, rows] = count;
  const step: Vec2 = [window[0] - overlapMm, window[1] - overlapMm];
  // The grid is centred on the region, so that slack falls to both sides.
  const origin: Vec2 = [(region.minX + region.maxX - columns * step[0]) / 2, (region.minY + region.maxY - rows * step[1]) / 2];
  const half = overlapMm / 2;
  const tiles: Tile[] = [];
  for (let row = 1; row <= rows; row++)
    for (let column = 1; column <= columns; column++) {
      const [x, y] = [origin[0] + (column - 1) * step[0], origin[1] + (rows - row) * step[1]];
      const own: Box = { minX: x - half, minY: y - half, maxX: x + step[0] + half, maxY: y + step[1] + half };
      if (outlines.length === 0 || outlines.some((outline) => meetsOutline(own, outline))) tiles.push({ row, column, window: own });
    }
  return { page, rows, columns, origin, step, tiles };
}

/** True when a box shares a point with the inside or the border of an outline. */
function meetsOutline(box: Box, outline: F64): boolean {
  if (!boxesMeet(box, boxOf(outline))) return false;
  let inside = false;
  for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
    const [ax, ay, bx, by] = [outline[j], outline[j + 1], outline[k], outline[k + 1]];
    if (segmentMeetsBox(ax, ay, bx, by, box)) return true;
    if (ay <= box.minY !== by <= box.minY && box.minX < ax + ((box.minY - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  }
  return inside;
}

function segmentMeetsBox(ax: number, ay: number, bx: number, by: number, box: Box): boolean {
  if (Math.max(ax, bx) < box.minX || Math.min(ax, bx) > box.maxX || Math.max(ay, by) < box.minY || Math.min(ay, by) > box.maxY)
    return false;
  const side = (x: number, y: number): number => Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));
  const sides = [side(box.minX, box.minY), side(box.maxX, box.minY), side(box.minX, box.maxY), side(box.maxX, box.maxY)];
  return !(sides.every((value) => value > 0) || sides.every((value) => value < 0));
}

/** A turn (cosine, sine) that brings a drawing within a page's window, and the position of the page; undefined when there is none. */
export interface WholeFit {
  readonly page: PageSize;
  readonly turn: Vec2;
}

/**
 * How a part fits one page whole: as it is, turned by a quarter, else by the first whole step that fits.
 * @param points all points that must be seen, 2·n, mm
 * @param turns unit vectors to try, in order
 */
export function fitWhole(points: F64, paper: Paper, printFactor: readonly [number, number], turns: readonly Vec2[]): WholeFit | undefined {
  for (const turn of turns) {
    const box = boxOf(turned(points, turn));
    for (const page of positions(paper, box, printFactor)) {
      const shown = pageWindow(page);
      const scale = printScale(printFactor, page);
      if ((box.maxX - box.minX) * scale[0] <= shown.maxX - shown.minX && (box.maxY - box.minY) * scale[1] <= shown.maxY - shown.minY)
        return { page, turn };
    }
  }
  return undefined;
}

/** Points turned about the origin. */
export function turned(points: F64, [c, s]: Vec2): Float64Array {
  const out = new Float64Array(points.length);
  for (let k = 0; k < points.length; k += 2) {
    out[k] = c * points[k] - s * points[k + 1];
    out[k + 1] = s * points[k] + c * points[k + 1];
  }
  return out;
}
