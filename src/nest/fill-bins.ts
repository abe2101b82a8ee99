/*
 * Shapes into bins of given sizes: large ones first, each into the first bin where the search finds room for it among the others; then bins are emptied into the
 * rest, the emptiest first, for as long as the effort lasts.
 */
import { createRandom } from '../base/random.ts';
import type { Run } from '../base/run.ts';
import type { FormSet } from './forms.ts';
import type { Layout } from './layout.ts';
import { createLayout, restoreInto, rightEnd, snapshot } from './layout.ts';
import type { Bin, SeparateOptions } from './separate.ts';
import { separate } from './separate.ts';

export interface BinSize extends Bin {
  /** How many there are. */
  readonly count: number;
}

export interface FilledBin {
  /** Index into the sizes. */
  readonly size: number;
  /** Items in it, and where they lie (same order). */
  readonly items: readonly number[];
  readonly layout: Layout;
}

export interface FillOptions {
  readonly seed: number;
  /** Attempts to empty a bin into the others. */
  readonly effort: number;
  /** Told whenever a better filling is found. */
  readonly onBetter?: (bins: readonly FilledBin[]) => void;
}

export interface FillResult {
  readonly bins: readonly FilledBin[];
  /** Items for which there was no room. */
  readonly left: readonly number[];
}

/** No search fills a bin further than this; such an attempt is not made. */
const fullest = 0.93;

/** A bin is shortened by the first share again and again, then by half of it, until the last. */
const pressing = { first: 0.08, last: 0.015 } as const;

const quick: Partial<SeparateOptions> = { patience: 12, attempts: 1 };
const thorough: Partial<SeparateOptions> = { patience: 40, attempts: 2 };

/**
 * @param shape shape of each item
 * @param sizes bins in the order in which they are to be used
 * @throws run/stopped
 */
export async function fillBins(
  set: FormSet,
  shape: Readonly<Uint32Array>,
  sizes: readonly BinSize[],
  options: FillOptions,
  run: Run,
): Promise<FillResult> {
  const random = createRandom(options.seed);
  const areaOf = (item: number): number => set.areas[shape[item]];
  const order = Array.from(shape, (_, item) => item).sort((a, b) => areaOf(b) - areaOf(a) || a - b);
  let bins: FilledBin[] = [];
  const left: number[] = [];
  for (const [done, item] of order.entries()) {
    run.report('sheets', (0.6 * done) / order.length);
    if (!(await addToFirst(bins, item)) && !(await openBin(item))) left.push(item);
  }
  options.onBetter?.(bins);
  for (let attempt = 0; attempt < options.effort && bins.length > 1; attempt++) {
    run.report('sheets', 0.6 + (0.4 * attempt) / options.effort);
    const fewer = await withoutEmptiest(bins);
    if (!fewer) continue;
    bins = fewer;
    options.onBetter?.(bins);
  }
  const pressed: FilledBin[] = [];
  for (const bin of bins) pressed.push(await press(bin));
  return { bins: pressed, left };

  /** The bin with one more item, all its items free to move; undefined if no room is found. */
  async function withItem(bin: FilledBin, item: number, effort: Partial<SeparateOptions>): Promise<FilledBin | undefined> {
    const { length, height } = sizes[bin.size];
    const used = bin.items.reduce((sum, other) => sum + areaOf(other), 0);
    if (used + areaOf(item) > fullest * length * height || !fits(item, sizes[bin.size])) return undefined;
    const items = [...bin.items, item];
    const layout = createLayout(
      set,
      Uint32Array.from(items, (each) => shape[each]),
    );
    layout.form.set(bin.layout.form);
    layout.x.set(bin.layout.x);
    layout.y.set(bin.layout.y);
    const last = items.length - 1;
    const forms = set.ofShape[shape[item]].filter((form) => set.forms[form].width <= length && set.forms[form].height <= height);
    layout.form[last] = forms[Math.floor(random() * forms.length)];
    layout.x[last] = random() * (length - set.forms[layout.form[last]].width);
    layout.y[last] = random() * (height - set.forms[layout.form[last]].height);
    return (await separate(layout, { length, height }, random, run, () => false, effort)) === 0
      ? { size: bin.size, items, layout }
      : undefined;
  }

  async function addToFirst(into: FilledBin[], item: number): Promise<boolean> {
    for (let b = 0; b < into.length; b++) {
      const grown = await withItem(into[b], item, quick);
      if (!grown) continue;
      into[b] = grown;
      return true;
    }
    return false;
  }

  async function openBin(item: number): Promise<boolean> {
    for (let size = 0; size < sizes.length; size++) {
      if (bins.filter((bin) => bin.size === size).length >= sizes[size].count || !fits(item, sizes[size])) continue;
      const opened = await withItem({ size, items: [], layout: createLayout(set, new Uint32Array(0)) }, item, quick);
      if (!opened) continue;
      bins.push(opened);
      return true;
    }
    return false;
  }

  /** The bin with its items pressed to the left, so that what is left of the sheet is one piece. */
  async function press(bin: FilledBin): Promise<FilledBin> {
    const { layout } = bin;
    const { height } = sizes[bin.size];
    let best = snapshot(layout);
    let share = pressing.first;
    while (share > pressing.last) {
      const end = rightEnd(layout);
      const overlap = await separate(layout, { length: end * (1 - share), height }, random, run, () => false, quick);
      // An item as long as the bin stands over the wanted end and frees nothing.
      if (overlap === 0 && rightEnd(layout) < end) best = snapshot(layout);
      else share /= 2;
      restoreInto(layout, best);
    }
    return bin;
  }

  /** All items of the emptiest bin moved into the others; undefined if they do not go in. */
  async function withoutEmptiest(from: readonly FilledBin[]): Promise<FilledBin[] | undefined> {
    const use = (bin: FilledBin): number => bin.items.reduce((sum, item) => sum + areaOf(item), 0);
    const emptiest = from.reduce((least, bin) => (use(bin) < use(least) ? bin : least));
    const rest = from.filter((bin) => bin !== emptiest);
    const room = rest.reduce((sum, bin) => sum + fullest * sizes[bin.size].length * sizes[bin.size].height - use(bin), 0);
    if (use(emptiest) > room) return undefined;
    for (const item of [...emptiest.items].sort((a, b) => areaOf(b) - areaOf(a))) {
      let isPlaced = false;
      for (let b = 0; b < rest.length && !isPlaced; b++) {
        const grown = await withItem(rest[b], item, thorough);
        if (!grown) continue;
        rest[b] = grown;
        isPlaced = true;
      }
      if (!isPlaced) return undefined;
    }
    return rest;
  }

  function fits(item: number, size: Bin): boolean {
    return set.ofShape[shape[item]].some((form) => set.forms[form].width <= size.length && set.forms[form].height <= size.height);
  }
}
