/*
 * The 100 mm test square of a sheet: where it overlaps no part, or, on a full sheet, where it covers least of them, and then a finding
 * says so. The sheet is ruled into cells; a cell is taken when a part's edge touches it or its middle lies in a part, so a free place is
 * truly free. Sums over rectangles come from one running table.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { boxOf } from './box.ts';

/** Side of the square, mm. */
export const testSquareMm = 100;
/** Free space kept around it, mm. */
const clearMm = 3;
const cellMm = 2;

export interface SquarePlace {
  /** Lower left corner, mm. */
  readonly at: Vec2;
  readonly free: boolean;
}

/**
 * The place of the square on a sheet. Of the free places the first from the bottom row up, from the left.
 * @param outlines outlines of the placed parts, sheet coordinates, 2·n each, mm; holes need not be given
 * Cost: cells of the sheet + length of the outlines.
 */
export function placeTestSquare(widthMm: number, heightMm: number, outlines: readonly F64[]): SquarePlace {
  const columns = Math.max(1, Math.floor(widthMm / cellMm));
  const rows = Math.max(1, Math.floor(heightMm / cellMm));
  const taken = new Uint8Array(columns * rows);
  for (const outline of outlines) {
    markEdgesInto(taken, columns, rows, outline);
    markInsideInto(taken, columns, rows, outline);
  }
  const sums = runningSums(taken, columns, rows);
  const span = Math.ceil((testSquareMm + 2 * clearMm) / cellMm);
  let [bestColumn, bestRow, best] = [0, 0, Infinity];
  for (let row = 0; row + span <= rows && best > 0; row++)
    for (let column = 0; column + span <= columns && best > 0; column++) {
      const covered = sumOf(sums, columns, column, row, span);
      if (covered < best) [bestColumn, bestRow, best] = [column, row, covered];
    }
  if (best === Infinity) return { at: [clearMm, clearMm], free: false };
  return { at: [bestColumn * cellMm + clearMm, bestRow * cellMm + clearMm], free: best === 0 };
}

/** Marks the cells that an outline's edges pass through, row by row, one cell further on each side. */
function markEdgesInto(taken: Uint8Array, columns: number, rows: number, outline: F64): void {
  for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
    const [low, high] = outline[j + 1] < outline[k + 1] ? [j, k] : [k, j];
    const [x0, y0, x1, y1] = [outline[low], outline[low + 1], outline[high], outline[high + 1]];
    const slope = y1 > y0 ? (x1 - x0) / (y1 - y0) : 0;
    const lastRow = Math.min(rows - 1, Math.floor(y1 / cellMm));
    for (let row = Math.max(0, Math.floor(y0 / cellMm)); row <= lastRow; row++) {
      const from = y1 > y0 ? x0 + slope * (Math.max(y0, row * cellMm) - y0) : x0;
      const to = y1 > y0 ? x0 + slope * (Math.min(y1, (row + 1) * cellMm) - y0) : x1;
      const first = Math.max(0, Math.floor(Math.min(from, to) / cellMm) - 1);
      const last = Math.min(columns - 1, Math.floor(Math.max(from, to) / cellMm) + 1);
      for (let column = first; column <= last; column++) taken[row * columns + column] = 1;
    }
  }
}

/** Marks the cells whose middle lies inside an outline (even–odd along the row). */
function markInsideInto(taken: Uint8Array, columns: number, rows: number, outline: F64): void {
  const box = boxOf(outline);
  const lastRow = Math.min(rows - 1, Math.floor(box.maxY / cellMm));
  for (let row = Math.max(0, Math.floor(box.minY / cellMm)); row <= lastRow; row++) {
    const y = (row + 0.5) * cellMm;
    const crossings: number[] = [];
    for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
      const [ya, yb] = [outline[j + 1], outline[k + 1]];
      if (ya <= y !== yb <= y) crossings.push(outline[j] + ((y - ya) / (yb - ya)) * (outline[k] - outline[j]));
    }
    crossings.sort((a, b) => a - b);
    for (let pair = 0; pair + 1 < crossings.length; pair += 2) {
      const first = Math.max(0, Math.floor(crossings[pair] / cellMm));
      const last = Math.min(columns - 1, Math.floor(crossings[pair + 1] / cellMm));
      for (let column = first; column <= last; column++) taken[row * columns + column] = 1;
    }
  }
}

function runningSums(taken: Uint8Array, columns: number, rows: number): Uint32Array {
  const sums = new Uint32Array((columns + 1) * (rows + 1));
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const below = row * (columns + 1) + column;
      const above = below + columns + 1;
      sums[above + 1] = taken[row * columns + column] + sums[above] + sums[below + 1] - sums[below];
    }
  return sums;
}

function sumOf(sums: Uint32Array, columns: number, column: number, row: number, span: number): number {
  const below = row * (columns + 1) + column;
  const above = (row + span) * (columns + 1) + column;
  return sums[above + span] - sums[above] - sums[below + span] + sums[below];
}
