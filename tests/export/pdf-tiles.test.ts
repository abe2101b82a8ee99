/* Also the furniture of its pages: tile-page.ts, tile-cover.ts, and shelf.ts. */
import { describe, expect, it } from 'vitest';
import { boxOf } from '../../src/export/box.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { papers } from '../../src/export/papers.ts';
import { pdfTiles } from '../../src/export/pdf-tiles.ts';
import { packShelves } from '../../src/export/shelf.ts';
import { coverContent } from '../../src/export/tile-cover.ts';
import { pageFoot, rulerContent, tileMarks } from '../../src/export/tile-page.ts';
import { planTiles } from '../../src/export/tiling.ts';
import { handInput, handOptions, roundCurve } from '../support/drawings.ts';

const page = { widthMm: 210, heightMm: 297, lying: false };
const region = { minX: 0, minY: 0, maxX: 500, maxY: 400 };

describe('pdfTiles', () => {
  it('names its files after sheet and paper', async () => {
    const files = await pdfTiles.write(handInput(), { ...handOptions, paper: 'letter' });
    expect(files.map(({ path }) => path)).toEqual([
      'sheets/sheet-1.tiles-letter.pdf',
      'parts/parts.tiles-letter.pdf',
      'parts/coupons.tiles-letter.pdf',
    ]);
  });
  it('prints a mirrored pair once', async () => {
    const input = handInput();
    const paired = { ...input, parts: input.parts.map((part) => (part.side === 'R' ? { ...part, mirrorOf: 'breast.1.L' } : part)) };
    const [, all] = await pdfTiles.write(input, handOptions);
    const [, once] = await pdfTiles.write(paired, handOptions);
    const pages = (bytes: unknown): number =>
      Buffer.from(bytes as Uint8Array)
        .toString('latin1')
        .match(/\/Type \/Page /g)?.length ?? 0;
    expect(pages(all.bytes) - pages(once.bytes)).toBe(1);
  });
});

describe('tileMarks', () => {
  const plan = planTiles(region, [], papers.a4, [1, 1]);
  const crosses = (content: string): number =>
    [...content.matchAll(/(\S+) (\S+) m (\S+) (\S+) l S/g)].filter(
      (m) => Math.abs(Math.hypot(Number(m[3]) - Number(m[1]), Number(m[4]) - Number(m[2])) - 10) < 1e-4,
    ).length / 2;
  it('has a cross at every corner that a neighbour shares', () => {
    expect(plan.columns * plan.rows).toBeGreaterThan(3);
    const corner = plan.tiles[0];
    expect(crosses(tileMarks(plan, corner, [1, 1]))).toBe(3);
  });
  it('has none on a page that stands alone', () => {
    const alone = planTiles({ ...region, maxX: 100, maxY: 100 }, [], papers.a4, [1, 1]);
    expect(crosses(tileMarks(alone, alone.tiles[0], [1, 1]))).toBe(0);
  });
});

describe('pageFoot, rulerContent', () => {
  it('says row, column and page', () => {
    const plan = planTiles(region, [], papers.a4, [1, 1]);
    expect(pageFoot(page, [1, 1], { title: 'Job', page: 3, pages: 9, paper: 'A4' }, { plan, tile: plan.tiles[1] })).toContain(
      'row 1, column 2',
    );
  });
  it('rules 100 mm in the printer’s own millimetres [closed form]', () => {
    expect(rulerContent([10, 20], 1.02)).toContain('10 20 m 112 20 l S');
  });
});

describe('coverContent', () => {
  it('holds the 100 mm square, stretched as the printer needs it [closed form]', () => {
    const words = { title: 'Job', lines: [], printFactor: [0.98, 1.01] as const };
    expect(coverContent(page, [1 / 0.98, 1 / 1.01], words)).toContain('102.04082 99.0099 re S');
    expect(coverContent(page, [1, 1], { ...words, printFactor: [1, 1] })).toContain('100 100 re S');
  });
});

describe('packShelves', () => {
  const items = Array.from({ length: 7 }, (_, k) => ({
    name: `T${k}`,
    drawing: { labels: [], paths: [{ layer: 'CUT' as const, curve: roundCurve([0, 0], 30 + k) }] },
  }));
  it('keeps every item, within the room, apart from each other [invariant]', () => {
    const groups = packShelves(items, [200, 220]);
    expect(groups.map(({ name }) => name).join(', ')).toBe(items.map(({ name }) => name).join(', '));
    expect(groups.length).toBeLessThan(4);
    for (const { drawing } of groups) {
      const boxes = drawing.paths.map(({ curve }) => boxOf(flattenCurve(curve, 0.1)));
      const all = boxOf(...drawing.paths.map(({ curve }) => flattenCurve(curve, 0.1)));
      expect(all.maxX - all.minX).toBeLessThanOrEqual(200);
      expect(all.maxY - all.minY).toBeLessThanOrEqual(220);
      for (const [k, a] of boxes.entries())
        for (const b of boxes.slice(k + 1)) expect(a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY).toBe(true);
    }
  });
});
