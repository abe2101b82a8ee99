/*
 * Which piece of the paper is seen, at which size. Paper: x right, y down, mm.
 */
import { signal } from '@preact/signals';
import type { PaperLayout } from './lay-out.ts';

export interface PaperView {
  /** Paper place at the pane's upper left corner. */
  readonly x: number;
  readonly y: number;
  /** Pixels a millimetre. */
  readonly scale: number;
}

export const paperView = signal<PaperView>({ x: -40, y: -40, scale: 1 });

const scaleRange = { min: 0.05, max: 40 } as const;

/** Nearer (`by` > 1) or further, with the paper under (x, y) held still. @param x @param y pixels in the pane */
export function zoomPaper(view: PaperView, by: number, x: number, y: number): PaperView {
  const scale = Math.min(scaleRange.max, Math.max(scaleRange.min, view.scale * by));
  return { scale, x: view.x + x / view.scale - x / scale, y: view.y + y / view.scale - y / scale };
}

export const movePaper = (view: PaperView, dx: number, dy: number): PaperView => ({
  ...view,
  x: view.x - dx / view.scale,
  y: view.y - dy / view.scale,
});

/** Room left around the parts for the notes at the pane's edges, pixels. */
const edge = { left: 40, right: 24, top: 70, bottom: 24, legend: 190 } as const;

/** What tray, rulers and legend leave of a pane, pixels. */
export const roomOn = (
  pane: { readonly width: number; readonly height: number },
  hasLegend: boolean,
): { readonly width: number; readonly height: number } => ({
  width: Math.max(80, pane.width - edge.left - edge.right),
  height: Math.max(80, pane.height - edge.top - edge.bottom - (hasLegend ? edge.legend : 0)),
});

/** The whole layout in a pane. */
export function fitPaper(layout: PaperLayout, pane: { readonly width: number; readonly height: number }, hasLegend: boolean): PaperView {
  if (layout.width === 0 || layout.height === 0) return { x: -40, y: -40, scale: 1 };
  const { width: w, height: h } = roomOn(pane, hasLegend);
  const scale = Math.min(scaleRange.max, w / layout.width, h / layout.height);
  return {
    scale,
    x: layout.width / 2 - (edge.left + w / 2) / scale,
    y: layout.height / 2 - (edge.top + h / 2) / scale,
  };
}

/** Millimetres between grid lines so that they stand at least `px` apart: 10, 50, 100, 500 … or finer when near. */
export function gridStep(scale: number, px = 7): number {
  return [1, 10, 50, 100, 500, 1000].find((mm) => mm * scale >= px) ?? 5000;
}
