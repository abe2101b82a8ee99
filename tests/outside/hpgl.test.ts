import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { exporters } from '../../src/export/index.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { signedArea } from '../../src/plane/polygon.ts';
import type { OutputFile } from '../../src/export/exporter.ts';
import { handInput, handOptions, handSheet, leafPart, place, squarePart } from '../support/drawings.ts';
import { apartMm, askScript, describeWithJudges, inScratch, pairs, putFile, runJudge } from '../support/judges.ts';

interface JudgedHpgl {
  readonly strokes: readonly { readonly pen: number; readonly points: readonly (readonly [number, number])[] }[];
  readonly least: number;
  readonly largest: number;
}

const found = exporters.find(({ format }) => format === 'hpgl');
if (found === undefined) throw new Error('no HPGL exporter');
const hpgl = found;
const read = (file: OutputFile): JudgedHpgl =>
  inScratch((folder) => askScript<JudgedHpgl>('hpgl_paths.py', [putFile(folder, 'sheet.hpgl', file.bytes)]));

const pens = {
  CUT: 4,
  CUT_INSIDE: 3,
  SCORE: 2,
  NOTCH: 1,
  DRAWN: 1,
  REFERENCE: 1,
  BEVEL_OUTER: 1,
  BEVEL_INNER: 1,
  ARROW: 1,
  TEXT: 1,
  TEST_SQUARE: 1,
} as const;

describeWithJudges('HPGL before its judges', ['/usr/bin/python3', 'hp2xx'], () => {
  const input = handInput();
  it('holds every path within 0.018 mm, closed ones closed, by pen [Python HPGL reader]', async () => {
    const [file] = await hpgl.write(input, handOptions);
    const judged = read(file);
    const drawn = input.sheetDrawings[0].drawing.paths.filter(({ layer }) => layer !== 'SHEET');
    expect(judged.strokes.length).toBe(drawn.length);
    let worst = 0;
    for (const path of drawn) {
      const points = pairs(flattenCurve(path.curve, 0.0002), path.curve.closed);
      const pen = path.layer === 'SHEET' ? 0 : pens[path.layer];
      const best = judged.strokes
        .filter((stroke) => stroke.pen === pen)
        .map((stroke) => ({ stroke, apart: apartMm(points, stroke.points) }))
        .sort((a, b) => a.apart - b.apart)[0];
      worst = Math.max(worst, best.apart);
      const { points: seen } = best.stroke;
      if (path.curve.closed) expect(seen[0]).toEqual(seen[seen.length - 1]);
    }
    expect(worst).toBeLessThanOrEqual(0.018);
  });

  it('draws letters first, then scores, holes, outlines, small parts before large [contract of the station]', async () => {
    const [file] = await hpgl.write(input, handOptions);
    const { strokes } = read(file);
    const order = strokes.map(({ pen }) => pen);
    expect(order).toEqual([...order].sort((a, b) => a - b));
    const areas = strokes.filter(({ pen }) => pen === 4).map(({ points }) => Math.abs(signedArea(Float64Array.from(points.flat()))));
    // Equal parts differ by what rounding to units does: 0.0125 mm along their border.
    for (const [k, area] of areas.slice(1).entries()) expect(area).toBeGreaterThan(areas[k] - 6);
  });

  it('splits a sheet of 2000 by 1000 mm into six files within the safe range; the pieces put together are the sheet [second route]', async () => {
    const big = handInput({
      parts: [squarePart(500), leafPart()],
      sheets: [handSheet([place('square.1.C', 500, 200), place('breast.1.L', 1320, 650, 15)], { widthMm: 2000, heightMm: 1000 })],
    });
    const files = await hpgl.write(big, handOptions);
    expect(files.length).toBe(6);
    expect(files[0].findings?.map(({ code }) => code)).toEqual(['export/hpgl-split']);
    const strokes = files.flatMap((file, k) => {
      const judged = read(file);
      expect(judged.least).toBeGreaterThanOrEqual(0);
      expect(judged.largest).toBeLessThanOrEqual(32767);
      const [x, y] = [((k % 3) * 2000) / 3, Math.floor(k / 3) * 500];
      return judged.strokes.map(({ pen, points }) => ({ pen, points: points.map(([u, v]): [number, number] => [u + x, v + y]) }));
    });
    const length = (points: readonly (readonly [number, number])[]): number =>
      points.slice(1).reduce((sum, [x, y], k) => sum + Math.hypot(x - points[k][0], y - points[k][1]), 0);
    const cuts = big.sheetDrawings[0].drawing.paths.filter(({ layer }) => layer === 'CUT');
    const wanted = cuts.reduce((sum, { curve }) => sum + length(pairs(flattenCurve(curve, 0.001), true)), 0);
    const got = strokes.filter(({ pen }) => pen === 4).reduce((sum, { points }) => sum + length(points), 0);
    expect(Math.abs(got - wanted)).toBeLessThan(0.5);
    const outline = cuts.flatMap(({ curve }) => [pairs(flattenCurve(curve, 0.001), true)]);
    for (const { points } of strokes.filter(({ pen }) => pen === 4))
      for (const point of points) expect(Math.min(...outline.map((line) => oneSided(point, line)))).toBeLessThan(0.019);
  });

  it('comes out of hp2xx at true size: the test square 100.00 mm [hp2xx]', async () => {
    const [file] = await hpgl.write(handInput({ parts: [], sheets: [handSheet([])] }), handOptions);
    inScratch((folder) => {
      const onlySquare = `IN;SP1;${/PU\d+,\d+;PD(?:\d+,){7,9}\d+;/.exec(new TextDecoder().decode(Uint8Array.from(file.bytes as Uint8Array)))?.[0] ?? ''}PU;SP0;`;
      const source = putFile(folder, 'square.hpgl', onlySquare);
      const out = join(folder, 'square.svg');
      runJudge('hp2xx', ['-q', '-t', '-m', 'svg', '-f', out, source]);
      // hp2xx writes points of 1/72 in.
      const moves = [...readFileSync(out, 'utf8').matchAll(/[ML] (-?[\d.]+), (-?[\d.]+)/g)].map((move) => [
        Number(move[1]),
        Number(move[2]),
      ]);
      expect(moves.length).toBe(5);
      for (const k of [0, 1]) {
        const values = moves.map((move) => (move[k] * 25.4) / 72);
        expect(Math.max(...values) - Math.min(...values)).toBeCloseTo(100, 2);
      }
    });
  });
});

function oneSided([x, y]: readonly [number, number], line: readonly (readonly [number, number])[]): number {
  let best = Infinity;
  for (let k = 1; k < line.length; k++) {
    const [[ax, ay], [bx, by]] = [line[k - 1], line[k]];
    const span = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = span === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / span));
    best = Math.min(best, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return best;
}
