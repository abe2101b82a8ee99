import { describe, expect, it } from 'vitest';
import { papers } from '../../src/export/papers.ts';
import { fitWhole, pageWindow, planTiles, printScale, turned } from '../../src/export/tiling.ts';

const box = (x: number, y: number, w: number, h: number): Float64Array => Float64Array.of(x, y, x + w, y, x + w, y + h, x, y + h);
const region = (w: number, h: number): Parameters<typeof planTiles>[0] => ({ minX: 0, minY: 0, maxX: w, maxY: h });
const quarter = [
  [1, 0],
  [0, 1],
] as const;

describe('planTiles', () => {
  it('needs one page for what its window holds, two for a millimetre more [closed form: A4 190 by 259]', () => {
    expect(pageWindow({ widthMm: 210, heightMm: 297, lying: false })).toEqual({ minX: 10, minY: 28, maxX: 200, maxY: 287 });
    expect(planTiles(region(190, 259), [], papers.a4, [1, 1]).tiles.length).toBe(1);
    expect(planTiles(region(190, 260), [], papers.a4, [1, 1]).tiles.length).toBe(2);
  });
  it('windows of neighbours share 10 mm, and all together cover the region [invariant]', () => {
    const { tiles, rows, columns } = planTiles(region(900, 700), [], papers.a4, [1, 1]);
    expect(tiles.length).toBe(rows * columns);
    const at = (row: number, column: number): (typeof tiles)[number]['window'] => {
      const tile = tiles.find((other) => other.row === row && other.column === column);
      if (tile === undefined) throw new Error('missing tile');
      return tile.window;
    };
    expect(at(1, 1).maxX - at(1, 2).minX).toBeCloseTo(10, 9);
    expect(at(2, 1).maxY - at(1, 1).minY).toBeCloseTo(10, 9);
    expect(at(rows, 1).minX).toBeLessThanOrEqual(0);
    expect(at(rows, 1).minY).toBeLessThanOrEqual(0);
    expect(at(1, columns).maxX).toBeGreaterThanOrEqual(900);
    expect(at(1, columns).maxY).toBeGreaterThanOrEqual(700);
  });
  it('leaves out pages that no part touches, and keeps those inside a large part [closed form]', () => {
    const full = planTiles(region(1000, 1000), [], papers.a4, [1, 1]);
    const corners = planTiles(region(1000, 1000), [box(0, 0, 50, 50), box(950, 950, 50, 50)], papers.a4, [1, 1]);
    expect(corners.tiles.length).toBe(2);
    expect(planTiles(region(1000, 1000), [box(0, 0, 1000, 1000)], papers.a4, [1, 1]).tiles.length).toBe(full.tiles.length);
  });
  it('takes the position of the paper that saves pages', () => {
    expect(planTiles(region(270, 150), [], papers.a4, [1, 1]).page).toEqual({ widthMm: 297, heightMm: 210, lying: true });
    expect(planTiles(region(150, 250), [], papers.a4, [1, 1]).page.lying).toBe(false);
  });
  it('is one strip of roll as long as the region', () => {
    const plan = planTiles(region(580, 2000), [], papers['roll-610'], [1, 1]);
    expect(plan.tiles.length).toBe(1);
    expect(plan.page).toEqual({ widthMm: 610, heightMm: 2038, lying: false });
  });
  it('shows more of the drawing on a printer that prints too small [closed form: window·factor]', () => {
    const [tile] = planTiles(region(100, 100), [], papers.a4, [0.95, 1]).tiles;
    expect(tile.window.maxX - tile.window.minX).toBeCloseTo(190 * 0.95, 9);
  });
});

describe('printScale', () => {
  it('belongs to the sides of the paper, not of the page [closed form]', () => {
    expect(printScale([0.98, 1.01], { widthMm: 210, heightMm: 297, lying: false })).toEqual([1 / 0.98, 1 / 1.01]);
    expect(printScale([0.98, 1.01], { widthMm: 297, heightMm: 210, lying: true })).toEqual([1 / 1.01, 1 / 0.98]);
  });
});

describe('fitWhole', () => {
  it('turns a part that fits only slanting, and gives up on one that fits no way [closed form: diagonal of 190 by 259]', () => {
    const degrees = Array.from({ length: 60 }, (_, k) => [Math.cos((k * Math.PI) / 60), Math.sin((k * Math.PI) / 60)] as const);
    const slim = box(0, 0, 300, 5);
    expect(fitWhole(slim, papers.a4, [1, 1], quarter)).toBeUndefined();
    const fit = fitWhole(slim, papers.a4, [1, 1], degrees);
    expect(fit).toBeDefined();
    expect(fitWhole(box(0, 0, 325, 5), papers.a4, [1, 1], degrees)).toBeUndefined();
    expect(fitWhole(box(0, 0, 250, 170), papers.a4, [1, 1], quarter)?.page.lying).toBe(true);
  });
  it('turns points about the origin [closed form]', () => {
    expect(Array.from(turned(Float64Array.of(3, 4), [0, 1]))).toEqual([-4, 3]);
  });
});
