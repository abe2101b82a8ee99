/*
 * Whole layouts: nest.ts, fill-bins.ts, strip.ts, separate.ts, layout.ts.
 */
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { distanceBetween } from '../../src/nest/check-layout.ts';
import { makeForms } from '../../src/nest/forms.ts';
import type { NestOptions } from '../../src/nest/nest.ts';
import { nest, placedRing, spacingOf } from '../../src/nest/nest.ts';
import { packStrip } from '../../src/nest/strip.ts';
import type { DraftedPart } from '../../src/draft/drafted-part.ts';
import { benchNest } from '../bench/nest.ts';
import { handMaterial, handPart, roundCurve, squarePart, straightCurve } from '../support/drawings.ts';
import { root } from '../support/sources.ts';

const tile = { name: 'tile', material: 'eva-6', widthMm: 600, heightMm: 600, count: 8, marginMm: 20, turns: 'any' } as const;
const options: NestOptions = { tool: 'hand', stock: [tile] };

const square = (id: string, side: number): DraftedPart => squarePart(side, { id });
const ell = (id: string, side: number): DraftedPart =>
  handPart({
    id,
    letter: 'L',
    name: id,
    outline: straightCurve([
      [0, 0],
      [side, 0],
      [side, side / 3],
      [side / 3, side / 3],
      [side / 3, side],
      [0, side],
    ]),
  });

/** Largest trespass over margin and spacing, mm, measured by another route than the search's. */
async function trespass(
  parts: readonly DraftedPart[],
  chosen: NestOptions,
): Promise<{ margin: number; gap: number; sheets: number; placed: number }> {
  const { sheets } = await nest(parts, chosen, [handMaterial()], quietRun);
  const spacing = chosen.spacingMm ?? spacingOf(chosen.tool, handMaterial());
  let [margin, gap, placed] = [0, 0, 0];
  for (const sheet of sheets) {
    const stock = chosen.stock.find((entry) => entry.name === sheet.stock) ?? tile;
    const rings = sheet.placements.map((placement) => {
      const part = parts.find((entry) => entry.id === placement.part);
      return part ? [part.outline, ...part.holes].map((each) => placedRing(each, placement)) : [];
    });
    placed += rings.length;
    for (const [outline] of rings) {
      for (let i = 0; i < outline.length; i++)
        margin = Math.max(
          margin,
          stock.marginMm - outline[i],
          outline[i] - ((i % 2 === 0 ? sheet.widthMm : sheet.heightMm) - stock.marginMm),
        );
    }
    for (let i = 0; i < rings.length; i++)
      for (let j = i + 1; j < rings.length; j++) gap = Math.max(gap, spacing - distanceBetween(rings[i], rings[j]));
  }
  return { margin, gap, sheets: sheets.length, placed };
}

describe('nest', () => {
  it('keeps spacing and margins and places everything [second route]', async () => {
    const parts = Array.from({ length: 14 }, (_, i) =>
      i % 2 === 0 ? ell(`ell.${i}.C`, 150 + 10 * i) : square(`square.${i}.C`, 60 + 8 * i),
    );
    const found = await trespass(parts, options);
    expect(found.placed).toBe(14);
    expect(found.margin).toBeLessThan(1e-6);
    expect(found.gap).toBeLessThan(1e-3);
    expect(found.sheets).toBeLessThanOrEqual(2);
  });

  it('uses bays: two L shapes lock where their boxes would not fit side by side [closed form]', async () => {
    const stock = [{ ...tile, widthMm: 460, heightMm: 360, marginMm: 8 }];
    expect((await trespass([ell('a.1.L', 300), ell('a.1.R', 300)], { ...options, tool: 'knife', stock })).sheets).toBe(1);
  });

  it('lays a small part inside a cut-out [closed form]', async () => {
    const frame = handPart({
      id: 'frame.1.C',
      letter: 'F',
      name: 'Frame',
      outline: straightCurve([
        [0, 0],
        [280, 0],
        [280, 280],
        [0, 280],
      ]),
      holes: [roundCurve([140, 140], 90, 90, true)],
    });
    const stock = [{ ...tile, widthMm: 300, heightMm: 300, marginMm: 8 }];
    const found = await trespass([frame, square('small.1.C', 80)], { ...options, stock });
    expect([found.sheets, found.placed]).toEqual([1, 2]);
    expect(found.gap).toBeLessThan(1e-3);
  });

  it('names a part that fits no sheet, one for which there is no sheet left, and says what to do [invariant]', async () => {
    const large = await nest([square('large.1.C', 590)], options, [handMaterial()], quietRun);
    expect(large.unplaced).toEqual(['large.1.C']);
    expect(large.findings[0]).toMatchObject({ code: 'nest/does-not-fit', severity: 'severe' });
    const many = await nest(
      [square('a.1.C', 500), square('a.2.C', 500)],
      { ...options, stock: [{ ...tile, count: 1 }] },
      [handMaterial()],
      quietRun,
    );
    expect(many.findings.map((entry) => entry.code)).toEqual(['nest/out-of-stock']);
    const bed = await nest([square('a.1.C', 400)], { ...options, bed: { widthMm: 300, heightMm: 500 } }, [handMaterial()], quietRun);
    expect(bed.findings.map((entry) => entry.code)).toEqual(['nest/does-not-fit']);
  });

  it('keeps the grain [closed form]', async () => {
    const tall = handPart({
      id: 'tall.1.C',
      letter: 'T',
      name: 'Tall',
      outline: straightCurve([
        [0, 0],
        [100, 0],
        [100, 500],
        [0, 500],
      ]),
    });
    const stock = [{ ...tile, widthMm: 600, heightMm: 300, turns: 'none' as const }];
    expect((await nest([tall], { ...options, stock }, [handMaterial()], quietRun)).unplaced).toEqual(['tall.1.C']);
    const turned = await nest([tall], { ...options, stock: [{ ...stock[0], turns: '90' }] }, [handMaterial()], quietRun);
    expect(turned.unplaced).toEqual([]);
    expect(turned.sheets[0].placements[0].angleDeg % 180).toBe(90);
  });

  it('gives the same layout for the same seed [invariant]', async () => {
    const parts = Array.from({ length: 9 }, (_, i) => ell(`ell.${i}.C`, 120 + 15 * i));
    const layouts = await Promise.all([1, 1].map((seed) => nest(parts, { ...options, seed }, [handMaterial()], quietRun)));
    expect(layouts[0]).toEqual(layouts[1]);
  });

  it('makes room for what the material shrinks [closed form]', async () => {
    const stock = [{ ...tile, widthMm: 220, heightMm: 120, marginMm: 5 }];
    const parts = [square('a.1.C', 98), square('a.2.C', 98)];
    const still = await nest(parts, { ...options, tool: 'knife', stock }, [handMaterial()], quietRun);
    const shrinking = await nest(
      parts,
      { ...options, tool: 'knife', stock },
      [handMaterial({ shrink: { value: 0.05, source: 'measure a coupon' } })],
      quietRun,
    );
    expect([still.sheets.length, shrinking.sheets.length]).toEqual([1, 2]);
  });
});

describe('packStrip', () => {
  it('puts four squares into a strip two high without a gap [closed form]', async () => {
    const unit = Float64Array.from([0, 0, 50, 0, 50, 50, 0, 50]);
    let asked = 0;
    const { length } = await packStrip(
      makeForms([{ rings: [unit], anglesDeg: [0] }]),
      new Uint32Array(4),
      { height: 100.01, seed: 1, spent: () => asked++ / 400 },
      quietRun,
    );
    expect(length).toBeGreaterThanOrEqual(100);
    expect(length).toBeLessThan(101);
  });

  const albano = `${root}/../shared/data/nesting/albano.json`;
  it.skipIf(!existsSync(albano))('packs an instance of the literature the same way twice, denser than 75 % [ESICUP albano]', async () => {
    const runs = await Promise.all([1, 2].map(() => benchNest(albano, { steps: 1500, seed: 4 })));
    expect(runs[0].placements).toEqual(runs[1].placements);
    expect(runs[0].density).toBeGreaterThan(0.75);
    expect(runs[0].density).toBeLessThan(0.89821);
  });
  if (!existsSync(albano)) console.log('left out: the nesting instances are not beside the project');
});
