/*
 * Papers, and the part of a page that tiles may use. Sizes: A series [iso216], inch sizes exact, rolls by their width.
 */
import type { ExportOptions } from './exporter.ts';

export type PaperName = ExportOptions['paper'];

export interface Paper {
  readonly title: string;
  /** Shorter side, or the width of a roll, mm. */
  readonly widthMm: number;
  /** Longer side, mm; absent on a roll, which is cut as long as needed. */
  readonly heightMm?: number;
}

export const papers: Readonly<Record<PaperName, Paper>> = {
  a4: { title: 'A4', widthMm: 210, heightMm: 297 },
  a3: { title: 'A3', widthMm: 297, heightMm: 420 },
  letter: { title: 'Letter', widthMm: 215.9, heightMm: 279.4 },
  legal: { title: 'Legal', widthMm: 215.9, heightMm: 355.6 },
  a1: { title: 'A1', widthMm: 594, heightMm: 841 },
  a0: { title: 'A0', widthMm: 841, heightMm: 1189 },
  'roll-610': { title: 'roll, 610 mm', widthMm: 610 },
  'roll-914': { title: 'roll, 914 mm', widthMm: 914 },
};

/** Kept free on every side for printers that cannot print to the edge, mm. */
export const marginMm = 10;
/** Strip at the foot of every page: map, words, ruler, mm. */
export const footMm = 18;
/** What neighbouring tiles share, mm. */
export const overlapMm = 10;
/** Longest page that we make, mm, below the limit of the format. */
export const longestPageMm = 5000;
