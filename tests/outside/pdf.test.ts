import { expect, it } from 'vitest';
import { exporters } from '../../src/export/index.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { boxOf } from '../../src/export/box.ts';
import { papers } from '../../src/export/papers.ts';
import { planTiles } from '../../src/export/tiling.ts';
import type { ExportInput, ExportOptions, FormatName, OutputFile } from '../../src/export/exporter.ts';
import { handInput, handOptions, handSheet, leafPart, place, squarePart } from '../support/drawings.ts';
import {
  apartMm,
  askScript,
  describeWithJudges,
  inScratch,
  pairs,
  putFile,
  runJudge,
  type JudgedPath,
  type Polyline,
} from '../support/judges.ts';

interface JudgedPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly paths: readonly (JudgedPath & { readonly clip: readonly [number, number, number, number] | null })[];
}

async function write(format: FormatName, input: ExportInput, options: ExportOptions = handOptions): Promise<readonly OutputFile[]> {
  const exporter = exporters.find((entry) => entry.format === format);
  if (exporter === undefined) throw new Error(`no exporter ${format}`);
  return exporter.write(input, options);
}

const read = (file: OutputFile): readonly JudgedPage[] =>
  inScratch((folder) => askScript<{ pages: readonly JudgedPage[] }>('pdf_pages.py', [putFile(folder, 'file.pdf', file.bytes)])).pages;
const words = (file: OutputFile): string =>
  inScratch((folder) => runJudge('pdftotext', ['-layout', putFile(folder, 'file.pdf', file.bytes), '-']));
const check = (file: OutputFile): string => inScratch((folder) => runJudge('qpdf', ['--check', putFile(folder, 'file.pdf', file.bytes)]));

/** Centres of the crosses of a page: lines of 10 mm along x with one along y through their middle. */
function crossesOf(page: JudgedPage): readonly (readonly [number, number])[] {
  const short = page.paths.filter(
    ({ points }) => points.length === 2 && Math.abs(Math.hypot(points[1][0] - points[0][0], points[1][1] - points[0][1]) - 10) < 0.001,
  );
  const level = short.filter(({ points }) => Math.abs(points[0][1] - points[1][1]) < 0.001);
  return level.map(({ points }) => [(points[0][0] + points[1][0]) / 2, points[0][1]] as const);
}

const span = (points: Polyline): readonly [number, number] =>
  [0, 1].map((k) => Math.max(...points.map((p) => p[k])) - Math.min(...points.map((p) => p[k]))) as unknown as readonly [number, number];

describeWithJudges('PDF before its judges', ['qpdf', 'mutool', 'pdfinfo', 'pdftotext', '/usr/bin/python3'], () => {
  const input = handInput();
  const drawn = input.sheetDrawings[0].drawing;

  it('the large page is sound, as large as the sheet, with every path within 0.01 mm on its layer [qpdf, mutool trace]', async () => {
    const [file] = await write('pdf', input);
    expect(check(file)).toContain('No syntax or stream encoding errors');
    const [page] = read(file);
    expect(Math.abs(page.widthMm - 600) + Math.abs(page.heightMm - 600)).toBeLessThan(0.005);
    expect(page.paths.length).toBe(drawn.paths.length);
    for (const path of drawn.paths) {
      const points = pairs(flattenCurve(path.curve, 0.0005), path.curve.closed);
      const rivals = page.paths.filter(({ layer, closed }) => layer === path.layer && closed === path.curve.closed);
      expect(Math.min(...rivals.map((other) => apartMm(points, other.points)))).toBeLessThan(0.01);
    }
  });

  it('words can be found, letters beyond the font’s encoding too [pdftotext]', async () => {
    const [file] = await write('pdf', input);
    expect(words(file)).toContain('A Brünne, øvre Łuk');
  });

  it('asks not to be scaled, and lists its layers [qpdf]', async () => {
    const [file] = await write('pdf', input);
    const text = inScratch((folder) =>
      runJudge('qpdf', ['--qdf', '--object-streams=disable', putFile(folder, 'file.pdf', file.bytes), '-']),
    );
    expect(text).toContain('/PrintScaling /None');
    expect(text.match(/\/Type \/OCG/g)?.length).toBe(new Set([...drawn.paths.map(({ layer }) => layer), 'TEXT']).size);
  });

  it('splits a sheet of 6 m into pages below 14 400 units that together show it all [ISO 32000 annex C]', async () => {
    const long = handInput({
      parts: [squarePart(90)],
      sheets: [handSheet([place('square.1.C', 100, 100), place('square.1.C', 5700, 100)], { widthMm: 6000, heightMm: 400 })],
    });
    const [file] = await write('pdf', long);
    const pages = read(file);
    expect(pages.length).toBe(2);
    for (const page of pages) expect(page.widthMm / (25.4 / 72)).toBeLessThanOrEqual(14400);
    expect(pages[0].widthMm + pages[1].widthMm - 10).toBeCloseTo(6000, 2);
    expect(file.findings?.map(({ code }) => code)).toEqual(['export/pdf-split']);
  });

  it('tiles joined at their crosses are the sheet to 0.05 mm, and every line lies within some tile [mutool trace]', async () => {
    const [file] = await write('pdf-tiles', input);
    expect(check(file)).toContain('No syntax or stream encoding errors');
    const [, ...pages] = read(file);
    const outlines = drawn.paths
      .filter(({ layer, part }) => layer === 'CUT' && part !== undefined)
      .map(({ curve }) => flattenCurve(curve, 0.002));
    const box = boxOf(...outlines);
    const region = { minX: box.minX - 1, minY: box.minY - 1, maxX: box.maxX + 1, maxY: box.maxY + 1 };
    const plan = planTiles(region, outlines, papers.a4, [1, 1]);
    expect(pages.length).toBe(plan.tiles.length);
    // Shift of each page on the table: the first lies at 0; a neighbour's crosses come to lie on those of a page that lies already.
    const shifts: ([number, number] | undefined)[] = pages.map((_, k) => (k === 0 ? [0, 0] : undefined));
    for (let round = 0; round < pages.length; round++)
      for (const [k, tile] of plan.tiles.entries()) {
        if (shifts[k] !== undefined) continue;
        const j = plan.tiles.findIndex(
          (other, n) => shifts[n] !== undefined && Math.abs(other.row - tile.row) + Math.abs(other.column - tile.column) === 1,
        );
        const laid = shifts[j];
        if (laid === undefined) continue;
        const [right, up] = [tile.column - plan.tiles[j].column, plan.tiles[j].row - tile.row];
        const axis = right !== 0 ? 0 : 1;
        const pick = (page: JudgedPage, high: boolean): readonly [number, number] =>
          [...crossesOf(page)].sort((a, b) => (high ? b[axis] - a[axis] : a[axis] - b[axis]) || a[1 - axis] - b[1 - axis])[0];
        const forward = right + up > 0;
        const [there, here] = [pick(pages[j], forward), pick(pages[k], !forward)];
        shifts[k] = [laid[0] + there[0] - here[0], laid[1] + there[1] - here[1]];
      }
    const first = pages[0].paths.filter(({ layer }) => layer !== '');
    let worst = 0;
    for (const [k, page] of pages.entries()) {
      const [dx, dy] = shifts[k] ?? [NaN, NaN];
      for (const [n, path] of page.paths.filter(({ layer }) => layer !== '').entries())
        for (const [m, [x, y]] of path.points.entries())
          worst = Math.max(worst, Math.hypot(x + dx - first[n].points[m][0], y + dy - first[n].points[m][1]));
    }
    expect(worst).toBeLessThan(0.05);
    // All of every part's outline is inside the window of at least one page.
    const windows = pages.map((page, k) => {
      const clip = page.paths.find(({ layer }) => layer === 'CUT')?.clip ?? [0, 0, 0, 0];
      const [dx, dy] = shifts[k] ?? [NaN, NaN];
      return [clip[0] + dx, clip[1] + dy, clip[2] + dx, clip[3] + dy];
    });
    for (const { points } of first.filter(({ layer }) => layer === 'CUT'))
      for (const [x, y] of points) expect(windows.some(([a, b, c, d]) => x >= a && y >= b && x <= c && y <= d)).toBe(true);
  });

  it('the first page has a square of 100.00 mm and every page a ruler of 100.00 mm [mutool trace]', async () => {
    const [file] = await write('pdf-tiles', input);
    const [cover, ...pages] = read(file);
    const squares = cover.paths.filter(({ layer, closed, points }) => layer === '' && closed && Math.abs(span(points)[0] - 100) < 0.005);
    expect(squares.some(({ points }) => Math.abs(span(points)[1] - 100) < 0.005)).toBe(true);
    for (const page of pages)
      expect(
        page.paths.some(({ points }) => points.length === 2 && Math.abs(span(points)[0] - 100) < 0.005 && span(points)[1] < 0.001),
      ).toBe(true);
  });

  it('a printer that prints 98 for 100 across and 101 along gets both back, on upright and on lying pages [closed form: 100/0.98, 100/1.01]', async () => {
    for (const paper of ['a4', 'letter'] as const) {
      const files = await write('pdf-tiles', input, { ...handOptions, paper, printFactor: [0.98, 1.01] });
      const [cover] = read(files[0]);
      const lying = cover.widthMm > cover.heightMm;
      const wanted = lying ? [100 / 1.01, 100 / 0.98] : [100 / 0.98, 100 / 1.01];
      const sizes = cover.paths.filter(({ layer, closed }) => layer === '' && closed).map(({ points }) => span(points));
      expect(sizes.some(([w, h]) => Math.abs(w - wanted[0]) < 0.005 && Math.abs(h - wanted[1]) < 0.005)).toBe(true);
    }
  });

  it('by part: what fits one page is on one page, whole, and leaves no line outside the window [mutool trace]', async () => {
    const files = await write(
      'pdf-tiles',
      handInput({ parts: [leafPart(), squarePart(100), { ...squarePart(400), id: 'large.1.C' }], sheets: [handSheet([])] }),
    );
    const parts = files.find(({ path }) => path.startsWith('parts/'));
    if (parts === undefined) throw new Error('no file of parts');
    expect(check(parts)).toContain('No syntax or stream encoding errors');
    const [, leaf, square, ...large] = read(parts);
    expect(large.length).toBeGreaterThan(3);
    for (const page of [leaf, square])
      for (const { points, clip, layer } of page.paths.filter((path) => path.layer !== ''))
        for (const [x, y] of points)
          expect(clip !== null && x >= clip[0] && y >= clip[1] && x <= clip[2] && y <= clip[3], layer).toBe(true);
    expect(
      apartMm(
        rigid(pairs(flattenCurve(leafPart().drawing.paths[0].curve, 0.0005), true)),
        rigid(leaf.paths.filter(({ layer }) => layer === 'CUT')[0].points),
      ),
    ).toBeLessThan(0.01);
  });

  it.each(Object.keys(papers) as (keyof typeof papers)[])('%s: every page is of that paper [mutool]', async (paper) => {
    const [file] = await write('pdf-tiles', input, { ...handOptions, paper });
    const { widthMm, heightMm } = papers[paper];
    for (const page of read(file)) {
      const sides = [page.widthMm, page.heightMm].map((side) => Math.round(side * 10) / 10);
      expect(sides).toContain(widthMm);
      if (heightMm !== undefined) expect(sides).toContain(heightMm);
    }
  });
});

/** A polyline moved so that the lower left of its box is the origin. */
function rigid(points: Polyline): Polyline {
  const [x, y] = [0, 1].map((k) => Math.min(...points.map((p) => p[k])));
  return points.map((p) => [p[0] - x, p[1] - y] as const);
}
