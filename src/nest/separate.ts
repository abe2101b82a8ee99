/*
 * From a layout with overlaps to one without: item by item to the place with the least weighted overlap found by sampling the bin and refining the best
 * samples; pairs that stay in conflict grow heavier.
 * @source [gardeyn2025] separation by sampling; weights [voudouris1999]
 */
import type { Run } from '../base/run.ts';
import type { Layout, Snapshot } from './layout.ts';
import { costAmong, costAt, neighboursInto, pairDepth, restoreInto, snapshot } from './layout.ts';

export interface Bin {
  readonly length: number;
  readonly height: number;
}

export interface SeparateOptions {
  /** Places tried over the whole bin, and around where the item lies, for each item and round. */
  readonly wideSamples: number;
  readonly nearSamples: number;
  /** Samples that are refined. */
  readonly refined: number;
  /** Rounds without progress before the attempt is given up. */
  readonly patience: number;
  /** Fresh attempts from the best layout so far. */
  readonly attempts: number;
  /** Items that may not move (a bin is filled around them). */
  readonly isFixed?: Readonly<Uint8Array>;
}

export const separateDefaults: SeparateOptions = { wideSamples: 18, nearSamples: 8, refined: 3, patience: 60, attempts: 3 };

/** Heavier by this at least and at most where overlap stays, lighter where it went. */
const growth = { least: 1.2, most: 2, decay: 0.95 } as const;

/** An attempt counts as progress when overlap falls below this share of the best. */
const progressShare = 0.98;

/**
 * Moves items until none overlap, or patience ends; the layout is then the one with the least overlap.
 * @param isDone asked now and then; true ends the search
 * @returns sum of the depths that are left, 0 if nothing overlaps any more
 */
export async function separate(
  layout: Layout,
  bin: Bin,
  random: () => number,
  run: Run,
  isDone: () => boolean,
  options: Partial<SeparateOptions> = {},
): Promise<number> {
  const settings = { ...separateDefaults, ...options };
  clampInto(layout, bin);
  layout.weight.fill(1);
  let best = totalDepth(layout);
  if (best === 0) return 0;
  let bestLayout: Snapshot = snapshot(layout);
  for (let attempt = 0; attempt < settings.attempts; attempt++) {
    let idle = 0;
    let bestOfAttempt = Infinity;
    while (idle < settings.patience) {
      moveRound(layout, bin, random, settings);
      const total = reweigh(layout);
      if (total < best) {
        best = total;
        bestLayout = snapshot(layout);
      }
      if (total === 0) return 0;
      idle = total < bestOfAttempt * progressShare ? 0 : idle + 1;
      bestOfAttempt = Math.min(bestOfAttempt, total);
      await run.breathe();
      if (isDone()) {
        restoreInto(layout, bestLayout);
        return best;
      }
    }
    restoreInto(layout, bestLayout);
  }
  return best;
}

/** Brings every box inside the bin. */
export function clampInto(layout: Layout, bin: Bin): void {
  for (let i = 0; i < layout.count; i++) {
    const form = layout.set.forms[layout.form[i]];
    layout.x[i] = Math.max(0, Math.min(layout.x[i], bin.length - form.width));
    layout.y[i] = Math.max(0, Math.min(layout.y[i], bin.height - form.height));
  }
}

function totalDepth(layout: Layout): number {
  let total = 0;
  for (let i = 0; i < layout.count; i++) for (let j = i + 1; j < layout.count; j++) total += pairDepth(layout, i, j);
  return total;
}

/** Changes the weights by where overlap is; returns the sum of depths. */
function reweigh(layout: Layout): number {
  const { count, weight } = layout;
  const depths: number[] = [];
  const pairs: number[] = [];
  let total = 0;
  let deepest = 0;
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; j++) {
      const depth = pairDepth(layout, i, j);
      if (depth > 0) {
        depths.push(depth);
        pairs.push(i * count + j);
        total += depth;
        deepest = Math.max(deepest, depth);
      } else if (weight[i * count + j] > 1) {
        const lighter = Math.max(1, weight[i * count + j] * growth.decay);
        weight[i * count + j] = lighter;
        weight[j * count + i] = lighter;
      }
    }
  }
  for (let k = 0; k < pairs.length; k++) {
    const i = Math.floor(pairs[k] / count);
    const j = pairs[k] % count;
    const heavier = weight[pairs[k]] * (growth.least + (growth.most - growth.least) * (depths[k] / deepest));
    weight[i * count + j] = heavier;
    weight[j * count + i] = heavier;
  }
  return total;
}

/** One move for every item that overlaps, in random order. */
function moveRound(layout: Layout, bin: Bin, random: () => number, settings: SeparateOptions): void {
  const order: number[] = [];
  for (let i = 0; i < layout.count; i++) if (!settings.isFixed?.[i]) order.push(i);
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  for (const i of order) {
    const now = costAt(layout, i, layout.form[i], layout.x[i], layout.y[i], Infinity);
    if (now > 0) moveItem(layout, i, now, bin, random, settings);
  }
}

interface Place {
  cost: number;
  form: number;
  x: number;
  y: number;
}

function moveItem(layout: Layout, i: number, now: number, bin: Bin, random: () => number, settings: SeparateOptions): void {
  const forms = layout.set.ofShape[layout.shape[i]].filter(
    (f) => layout.set.forms[f].width <= bin.length && layout.set.forms[f].height <= bin.height,
  );
  const kept: Place[] = [{ cost: now, form: layout.form[i], x: layout.x[i], y: layout.y[i] }];
  const consider = (form: number, x: number, y: number): void => {
    const worst = kept.length < settings.refined ? Infinity : kept[kept.length - 1].cost;
    const cost = costAt(layout, i, form, x, y, worst);
    if (cost >= worst) return;
    const at = kept.findIndex((place) => cost < place.cost);
    kept.splice(at === -1 ? kept.length : at, 0, { cost, form, x, y });
    if (kept.length > settings.refined) kept.pop();
  };
  for (let k = 0; k < settings.wideSamples; k++) {
    const form = forms[Math.floor(random() * forms.length)];
    const { width, height } = layout.set.forms[form];
    consider(form, random() * (bin.length - width), random() * (bin.height - height));
  }
  for (let k = 0; k < settings.nearSamples; k++) {
    const form = forms[Math.floor(random() * forms.length)];
    const { width, height } = layout.set.forms[form];
    const x = layout.x[i] + (random() - 0.5) * width;
    const y = layout.y[i] + (random() - 0.5) * height;
    consider(form, Math.max(0, Math.min(x, bin.length - width)), Math.max(0, Math.min(y, bin.height - height)));
  }
  let best = kept[0];
  for (const place of kept) {
    refineInto(place, layout, i, bin, refinement.first, refinement.coarse);
    if (place.cost < best.cost) best = place;
  }
  refineInto(best, layout, i, bin, refinement.coarse, refinement.last);
  layout.form[i] = best.form;
  layout.x[i] = best.x;
  layout.y[i] = best.y;
}

/** Steps of the refinement, as shares of the item's box: every kept sample from `first` to `coarse`, the best one on to `last`. */
const refinement = { first: 0.1, coarse: 0.01, last: 0.0002 } as const;

/** Pattern search along the axes and diagonals with a shrinking step, against the items that it can reach. */
function refineInto(place: Place, layout: Layout, i: number, bin: Bin, first: number, last: number): void {
  const { width, height } = layout.set.forms[place.form];
  const size = Math.min(width, height);
  const [right, top] = [bin.length - width, bin.height - height];
  let step = first * size;
  // Steps of the first size go this far before the neighbours are looked up again.
  const reach = 4 * step;
  const items = new Uint32Array(layout.count);
  let [nearX, nearY] = [place.x, place.y];
  let among = neighboursInto(items, layout, i, place.form, nearX, nearY, reach);
  while (step > last * size && place.cost > 0) {
    const { x, y, cost } = place;
    if (Math.abs(x - nearX) + step > reach || Math.abs(y - nearY) + step > reach) {
      [nearX, nearY] = [x, y];
      among = neighboursInto(items, layout, i, place.form, x, y, reach);
    }
    for (let direction = 0; direction < 8; direction++) {
      const tryX = Math.max(0, Math.min(right, x + step * directionX[direction]));
      const tryY = Math.max(0, Math.min(top, y + step * directionY[direction]));
      const tryCost = costAmong(layout, i, place.form, tryX, tryY, place.cost, items, among);
      if (tryCost < place.cost) {
        place.cost = tryCost;
        place.x = tryX;
        place.y = tryY;
      }
    }
    if (place.cost >= cost) step /= 2;
  }
}

const directionX = [1, -1, 0, 0, 1, 1, -1, -1];
const directionY = [0, 0, 1, -1, 1, -1, 1, -1];
