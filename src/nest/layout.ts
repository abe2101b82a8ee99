/*
 * A layout: which form each item takes and where its box starts, in a bin of a given length and height; and what it costs that items overlap.
 * The cost of a pair is its weight times its depth; weights rise where overlap stays (guided local search).
 * @source [voudouris1999] weights; overlap minimisation [umetani2009], [egeblad2007]
 */
import type { FormSet } from './forms.ts';
import type { NoFit } from './no-fit.ts';
import { depthAt } from './no-fit.ts';

export interface Layout {
  readonly set: FormSet;
  readonly count: number;
  /** Shape of each item. */
  readonly shape: Readonly<Uint32Array>;
  /** Form, and box corner, of each item: written by the search. */
  readonly form: Uint32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Symmetric, count². */
  readonly weight: Float64Array;
  /** No-fit regions by form pair, filled when first met. */
  readonly table: (NoFit | undefined)[];
}

export function createLayout(set: FormSet, shape: Readonly<Uint32Array>): Layout {
  const count = shape.length;
  return {
    set,
    count,
    shape,
    form: Uint32Array.from(shape, (s) => set.ofShape[s][0]),
    x: new Float64Array(count),
    y: new Float64Array(count),
    weight: new Float64Array(count * count).fill(1),
    table: new Array<NoFit | undefined>(set.forms.length * set.forms.length),
  };
}

/** Depth of overlap of items i and j as they lie; 0 if they do not overlap. */
export function pairDepth(layout: Layout, i: number, j: number): number {
  return depthAt(noFitOf(layout, layout.form[i], layout.form[j]), layout.x[j] - layout.x[i], layout.y[j] - layout.y[i]);
}

function noFitOf(layout: Layout, a: number, b: number): NoFit {
  const key = a * layout.set.forms.length + b;
  return (layout.table[key] ??= layout.set.noFit(a, b));
}

/**
 * Weighted overlap of item i if it took a form at a place.
 * @param bound the sum is given up once it reaches this
 */
export function costAt(layout: Layout, i: number, form: number, x: number, y: number, bound: number): number {
  const { count, weight, set, table } = layout;
  const { width, height } = set.forms[form];
  const forms = set.forms;
  let cost = 0;
  for (let j = 0; j < count; j++) {
    if (j === i) continue;
    const other = layout.form[j];
    const dx = x - layout.x[j];
    const dy = y - layout.y[j];
    const box = forms[other];
    if (dx >= box.width || dy >= box.height || -dx >= width || -dy >= height) continue;
    const noFit = (table[other * forms.length + form] ??= set.noFit(other, form));
    const depth = depthAt(noFit, dx, dy);
    if (depth === 0) continue;
    cost += weight[i * count + j] * depth;
    if (cost >= bound) return cost;
  }
  return cost;
}

/**
 * Items whose boxes come within reach of item i's box if it took a form at a place.
 * @param target receives their numbers
 * @returns how many
 */
export function neighboursInto(target: Uint32Array, layout: Layout, i: number, form: number, x: number, y: number, reach: number): number {
  const { forms } = layout.set;
  const { width, height } = forms[form];
  let count = 0;
  for (let j = 0; j < layout.count; j++) {
    if (j === i) continue;
    const dx = x - layout.x[j];
    const dy = y - layout.y[j];
    const box = forms[layout.form[j]];
    if (dx < box.width + reach && dy < box.height + reach && -dx < width + reach && -dy < height + reach) target[count++] = j;
  }
  return count;
}

/** `costAt` against the first `among` of some items only. */
export function costAmong(
  layout: Layout,
  i: number,
  form: number,
  x: number,
  y: number,
  bound: number,
  items: Readonly<Uint32Array>,
  among: number,
): number {
  const { count, weight, set, table } = layout;
  const forms = set.forms;
  let cost = 0;
  for (let k = 0; k < among; k++) {
    const j = items[k];
    const other = layout.form[j];
    const noFit = (table[other * forms.length + form] ??= set.noFit(other, form));
    const depth = depthAt(noFit, x - layout.x[j], y - layout.y[j]);
    if (depth === 0) continue;
    cost += weight[i * count + j] * depth;
    if (cost >= bound) return cost;
  }
  return cost;
}

/** Where everything lies, to go back to. */
export interface Snapshot {
  readonly form: Uint32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export const snapshot = (layout: Layout): Snapshot => ({ form: layout.form.slice(), x: layout.x.slice(), y: layout.y.slice() });

/** Puts everything back where it lay. */
export function restoreInto(layout: Layout, saved: Snapshot): void {
  layout.form.set(saved.form);
  layout.x.set(saved.x);
  layout.y.set(saved.y);
}

/** Where the rightmost box ends. */
export function rightEnd(layout: Layout): number {
  let end = 0;
  for (let i = 0; i < layout.count; i++) end = Math.max(end, layout.x[i] + layout.set.forms[layout.form[i]].width);
  return end;
}
