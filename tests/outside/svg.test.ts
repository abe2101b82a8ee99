import { expect, it } from 'vitest';
import { exporters } from '../../src/export/index.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { layerNames } from '../../src/draft/drawing.ts';
import { handInput, handOptions, leafPart, place } from '../support/drawings.ts';
import { apartMm, areaOf, askScript, describeWithJudges, inScratch, pairs, putFile, runJudge, type JudgedPath } from '../support/judges.ts';

const svg = exporters.find(({ format }) => format === 'svg');
if (svg === undefined) throw new Error('no SVG exporter');
const input = handInput();
const [file] = await svg.write(input, handOptions);

interface JudgedSvg {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly layers: readonly string[];
  readonly paths: readonly JudgedPath[];
  readonly titles: readonly string[];
}

describeWithJudges('SVG before its judges', ['xmllint', 'rsvg-convert', 'convert', '/usr/bin/python3'], () => {
  it('is well-formed [xmllint]', () => {
    inScratch((folder) => runJudge('xmllint', ['--noout', putFile(folder, 'sheet.svg', file.bytes)]));
  });

  const judged = inScratch((folder) => askScript<JudgedSvg>('svg_paths.py', [putFile(folder, 'sheet.svg', file.bytes)]));

  it('is as large as the sheet, with one group a layer by the names of the contract [Python XML parser]', () => {
    expect([judged.widthMm, judged.heightMm]).toEqual([600, 600]);
    expect(judged.layers).toEqual([...layerNames]);
  });

  it('holds every path within 0.01 mm, closed as drawn, not mirrored, with its part [Python path reader]', () => {
    const drawn = input.sheetDrawings[0].drawing.paths;
    expect(judged.paths.length).toBe(drawn.length);
    for (const layer of layerNames) {
      const read = judged.paths.filter((path) => path.layer === layer);
      const wanted = drawn.filter((path) => path.layer === layer);
      expect(read.length).toBe(wanted.length);
      for (const path of wanted) {
        const points = pairs(flattenCurve(path.curve, 0.0005), path.curve.closed);
        const best = read.map((other) => ({ other, apart: apartMm(points, other.points) })).sort((a, b) => a.apart - b.apart)[0];
        expect(best.apart).toBeLessThan(0.01);
        expect(best.other.closed).toBe(path.curve.closed);
        expect(best.other.part ?? undefined).toBe(path.part);
        if (path.curve.closed) expect(Math.sign(areaOf(best.other.points))).toBe(Math.sign(areaOf(points)));
      }
    }
  });

  it('lays the outline where the placement says: mirror, turn, move by another hand [second route]', () => {
    const { xMm, yMm, angleDeg } = place('breast.1.L', 220, 330, 97.5);
    const angle = (angleDeg * Math.PI) / 180;
    const outline = pairs(flattenCurve(leafPart().drawing.paths[0].curve, 0.0005), true).map(([x, y]): [number, number] => [
      xMm + Math.cos(angle) * x - Math.sin(angle) * y,
      yMm + Math.sin(angle) * x + Math.cos(angle) * y,
    ]);
    const nearest = Math.min(...judged.paths.filter(({ layer }) => layer === 'CUT').map(({ points }) => apartMm(outline, points)));
    expect(nearest).toBeLessThan(0.01);
  });

  it('carries every label as a title, letters beyond ASCII too [Python XML parser]', () => {
    const wanted = input.sheetDrawings[0].drawing.labels.map(({ text }) => text);
    expect([...judged.titles].sort()).toEqual([...wanted].sort());
    expect(judged.titles).toContain('A Brünne, øvre Łuk');
  });

  it('has a test square of 100.00 mm [Python path reader]', () => {
    const [square] = judged.paths.filter(({ layer }) => layer === 'TEST_SQUARE');
    const xs = square.points.map(([x]) => x);
    const ys = square.points.map(([, y]) => y);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(100, 4);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(100, 4);
    expect(square.closed).toBe(true);
  });

  it('is drawn at 254 dpi as 6000 pixels for 600 mm, the square 1000 wide [rsvg]', () => {
    inScratch((folder) => {
      const only = new TextDecoder()
        .decode(Uint8Array.from(file.bytes as Uint8Array))
        .replace(/<g id="(?!TEST_SQUARE)(\w+)"/g, '<g id="$1" visibility="hidden"');
      const png = `${folder}/sheet.png`;
      runJudge('rsvg-convert', ['-d', '254', '-p', '254', '-b', 'white', putFile(folder, 'sheet.svg', only), '-o', png]);
      const said = runJudge('convert', [png, '-format', '%w %h ', '-write', 'info:', '-trim', '-format', '%w %h', 'info:'])
        .trim()
        .split(' ')
        .map(Number);
      expect(said.slice(0, 2)).toEqual([6000, 6000]);
      // 1000 pixels between the middles of two lines of one pixel, which may each touch two pixels.
      for (const size of said.slice(2)) expect(Math.abs(size - 1001)).toBeLessThanOrEqual(1);
    });
  });
});
