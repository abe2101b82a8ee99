/*
 * How each layer of the contract looks and what a machine does with it: one table for every writer. The colours are from the
 * colour-blind-safe set of [okabe2008], darkened where a hairline of it would vanish on white paper; all twelve differ, so that a
 * program which sorts by colour can tell the layers apart.
 */
import type { LayerName } from '../draft/drawing.ts';

export interface LayerStyle {
  /** What it is for, in a maker's words. */
  readonly purpose: string;
  /** 0…255. */
  readonly rgb: readonly [number, number, number];
  /** Colour number of the old drawing exchange palette, 1…9. */
  readonly colorIndex: number;
  /** Dash and gap lengths, mm; empty when solid. */
  readonly dashMm: readonly number[];
  /** Width on paper, mm. */
  readonly paperMm: number;
  /** What a machine does: cut through, cut part way, draw, or nothing. */
  readonly act: 'cut' | 'score' | 'draw' | 'none';
}

export const layerStyles: Readonly<Record<LayerName, LayerStyle>> = {
  CUT: { purpose: 'cut through: outlines', rgb: [0, 0, 0], colorIndex: 7, dashMm: [], paperMm: 0.35, act: 'cut' },
  CUT_INSIDE: {
    purpose: 'cut through: holes, before the outline',
    rgb: [213, 94, 0],
    colorIndex: 1,
    dashMm: [],
    paperMm: 0.35,
    act: 'cut',
  },
  NOTCH: { purpose: 'draw: where mates meet', rgb: [0, 114, 178], colorIndex: 5, dashMm: [], paperMm: 0.3, act: 'draw' },
  SCORE: { purpose: 'cut part way: creases and grooves', rgb: [0, 158, 115], colorIndex: 3, dashMm: [6, 2], paperMm: 0.25, act: 'score' },
  DRAWN: { purpose: 'draw: recesses, overlays', rgb: [166, 90, 138], colorIndex: 6, dashMm: [], paperMm: 0.25, act: 'draw' },
  REFERENCE: {
    purpose: 'draw thinly: centre and help lines',
    rgb: [110, 110, 110],
    colorIndex: 8,
    dashMm: [8, 1.5, 1, 1.5],
    paperMm: 0.18,
    act: 'draw',
  },
  BEVEL_OUTER: { purpose: 'draw: edge of the outer face', rgb: [196, 136, 0], colorIndex: 2, dashMm: [3, 1], paperMm: 0.2, act: 'draw' },
  BEVEL_INNER: { purpose: 'draw: edge of the inner face', rgb: [56, 150, 200], colorIndex: 4, dashMm: [1, 1], paperMm: 0.2, act: 'draw' },
  ARROW: { purpose: 'draw: up on the wearer', rgb: [40, 40, 90], colorIndex: 5, dashMm: [], paperMm: 0.3, act: 'draw' },
  TEXT: { purpose: 'draw: names, letters, angles', rgb: [60, 60, 60], colorIndex: 8, dashMm: [], paperMm: 0.25, act: 'draw' },
  TEST_SQUARE: { purpose: 'draw and measure: 100 mm a side', rgb: [120, 100, 0], colorIndex: 6, dashMm: [], paperMm: 0.25, act: 'draw' },
  SHEET: { purpose: 'leave out: edge of the stock', rgb: [170, 170, 170], colorIndex: 9, dashMm: [], paperMm: 0.18, act: 'none' },
};

/** A colour as the web writes it. */
export function hexColor([red, green, blue]: readonly [number, number, number]): string {
  return `#${[red, green, blue].map((part) => part.toString(16).padStart(2, '0')).join('')}`;
}
