/*
 * Strip packing: all items in a strip of given height, as short as the search finds. A first layout is built item by item; then the strip is shortened and
 * its overlaps are taken apart, with coarse steps and shaken layouts first (exploring), with fine steps in the end (pressing together).
 * @source [gardeyn2025] exploration and compression; first layout bottom-left [baker1980]
 */
import { createRandom } from '../base/random.ts';
import type { Run } from '../base/run.ts';
import type { FormSet } from './forms.ts';
import type { Layout, Snapshot } from './layout.ts';
import { costAt, createLayout, restoreInto, rightEnd, snapshot } from './layout.ts';
import { separate } from './separate.ts';

export interface StripOptions {
  readonly height: number;
  readonly seed: number;
  /** Share of the effort that is gone, 0…1; 1 ends the search. Asked often. */
  readonly spent: () => number;
  readonly onBetter?: (length: number, layout: Snapshot) => void;
}

export interface StripResult {
  readonly length: number;
  readonly layout: Layout;
  /** Shortenings tried. */
  readonly tries: number;
}

const exploringShare = 0.75;
const steps = { explore: 0.012, leastExplore: 0.002, press: 0.006, leastPress: 0.0002 } as const;

/**
 * @param shape shape of each item
 * @throws run/stopped
 */
export async function packStrip(set: FormSet, shape: Readonly<Uint32Array>, options: StripOptions, run: Run): Promise<StripResult> {
  const random = createRandom(options.seed);
  const layout = createLayout(set, shape);
  let length = buildFirst(layout, options.height, random);
  let best = snapshot(layout);
  let tries = 0;
  const isDone = (): boolean => options.spent() >= 1;
  const keep = (reached: number): void => {
    length = reached;
    best = snapshot(layout);
    options.onBetter?.(length, best);
  };
  const attempt = async (target: number, end: () => boolean): Promise<number> => {
    tries++;
    const overlap = await separate(layout, { length: target, height: options.height }, random, run, end);
    if (overlap === 0) keep(Math.min(length, rightEnd(layout)));
    return overlap;
  };
  let step: number = steps.explore;
  // Layouts that came close at the wanted length; the next attempt starts from one of them, shaken.
  let close: { readonly overlap: number; readonly layout: Snapshot }[] = [];
  const exploringEnds = (): boolean => options.spent() >= exploringShare;
  while (!exploringEnds()) {
    const target = length * (1 - step);
    restoreInto(layout, close.length === 0 ? best : close[lowBiased(close.length, random)].layout);
    if (close.length > 0) shake(layout, random);
    const overlap = await attempt(target, exploringEnds);
    if (overlap === 0) {
      close = [];
      continue;
    }
    close.push({ overlap, layout: snapshot(layout) });
    close.sort((a, b) => a.overlap - b.overlap);
    if (close.length % 3 === 0 && step > steps.leastExplore) {
      step = Math.max(steps.leastExplore, step / 2);
      close = [];
    }
    close.length = Math.min(close.length, keptClose);
  }
  step = steps.press;
  while (!isDone()) {
    restoreInto(layout, best);
    if ((await attempt(length * (1 - step), isDone)) > 0) step = Math.max(steps.leastPress, step / 2);
  }
  restoreInto(layout, best);
  return { length, layout, tries };
}

/** Largest items first, each as far left as sampled places allow without overlap; returns the strip's length. */
function buildFirst(layout: Layout, height: number, random: () => number): number {
  const { set, shape } = layout;
  const order = Array.from({ length: layout.count }, (_, i) => i).sort((a, b) => set.areas[shape[b]] - set.areas[shape[a]] || a - b);
  const far = order.reduce((sum, i) => sum + Math.max(...set.ofShape[shape[i]].map((f) => set.forms[f].width)), 0) * 2;
  for (let i = 0; i < layout.count; i++) layout.x[i] = 2 * far + i * far;
  let end = 0;
  for (const i of order) {
    let bestX = Infinity;
    for (const form of set.ofShape[shape[i]]) {
      const { width, height: tall } = set.forms[form];
      if (tall > height) continue;
      for (let sample = 0; sample < firstSamples; sample++) {
        const y = sample === 0 ? 0 : sample === 1 ? height - tall : random() * (height - tall);
        const x = leftmostFree(layout, i, form, y, end + width);
        if (x + width / 2 >= bestX) continue;
        bestX = x + width / 2;
        layout.form[i] = form;
        layout.y[i] = y;
        layout.x[i] = x;
        // The place counts only for the best form so far; others are tried with the item out of the way.
      }
    }
    end = Math.max(end, layout.x[i] + set.forms[layout.form[i]].width);
  }
  return end;
}

const firstSamples = 24;

/** Least x at height y without overlap, found by scanning from the left with a fixed step and then halving. */
function leftmostFree(layout: Layout, i: number, form: number, y: number, limit: number): number {
  const step = layout.set.forms[form].width / 16;
  const isFree = (x: number): boolean => costAt(layout, i, form, x, y, Number.MIN_VALUE) === 0;
  let x = 0;
  while (x < limit && !isFree(x)) x += step;
  if (x === 0) return 0;
  let [blocked, free] = [x - step, x];
  for (let k = 0; k < 12; k++) {
    const middle = (blocked + free) / 2;
    if (isFree(middle)) free = middle;
    else blocked = middle;
  }
  return free;
}

/** Close layouts that are remembered. */
const keptClose = 12;

/** An index below `count`, small ones more often. */
const lowBiased = (count: number, random: () => number): number => Math.floor(count * random() * random());

/** Two large items of different shapes change places. */
function shake(layout: Layout, random: () => number): void {
  const { set, shape, count } = layout;
  const order = Array.from({ length: count }, (_, i) => i).sort((a, b) => set.areas[shape[b]] - set.areas[shape[a]]);
  const large = Math.max(2, Math.ceil(count / 2));
  const a = order[Math.floor(random() * large)];
  const others = order.filter((i) => shape[i] !== shape[a]);
  if (others.length === 0) return;
  const b = others[Math.floor(random() * Math.min(large, others.length))];
  [layout.x[a], layout.x[b]] = [layout.x[b], layout.x[a]];
  [layout.y[a], layout.y[b]] = [layout.y[b], layout.y[a]];
}
