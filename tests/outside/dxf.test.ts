import { expect, it } from 'vitest';
import { exporters } from '../../src/export/index.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { layerNames } from '../../src/draft/drawing.ts';
import type { FormatName } from '../../src/export/exporter.ts';
import { handInput, handOptions } from '../support/drawings.ts';
import { apartMm, areaOf, askScript, describeWithJudges, inScratch, pairs, putFile, type JudgedPath } from '../support/judges.ts';

interface JudgedDxf {
  readonly version: string;
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  readonly units: number | null;
  readonly layers: readonly string[];
  readonly paths: readonly (JudgedPath & { readonly type: string })[];
  readonly texts: readonly {
    readonly text: string;
    readonly part: string | null;
    readonly layer: string;
    readonly at: readonly number[];
  }[];
}

const input = handInput();

async function judge(format: FormatName): Promise<JudgedDxf> {
  const exporter = exporters.find((entry) => entry.format === format);
  if (exporter === undefined) throw new Error(`no exporter ${format}`);
  const [file] = await exporter.write(input, handOptions);
  return inScratch((folder) => askScript<JudgedDxf>('dxf_paths.py', [putFile(folder, 'sheet.dxf', file.bytes)]));
}

describeWithJudges('DXF before ezdxf', ['python:ezdxf'], () => {
  const formats = [
    { format: 'dxf-r12', version: 'AC1009', units: null, kinds: ['POLYLINE'] },
    { format: 'dxf-2000', version: 'AC1015', units: 4, kinds: ['LWPOLYLINE', 'SPLINE'] },
  ] as const;
  for (const { format, version, units, kinds } of formats.filter((entry) => exporters.some((e) => e.format === entry.format))) {
    it(`${format}: audit clean, right release and unit, layers of the contract [ezdxf audit]`, async () => {
      const judged = await judge(format);
      expect(judged.version).toBe(version);
      expect(judged.errors).toEqual([]);
      expect(judged.fixes).toEqual([]);
      if (units !== null) expect(judged.units).toBe(units);
      expect(judged.layers).toEqual(expect.arrayContaining([...layerNames]));
    });
    it(`${format}: every path within 0.01 mm, closed as drawn, not mirrored, with its part [ezdxf]`, async () => {
      const judged = await judge(format);
      const drawn = input.sheetDrawings[0].drawing.paths;
      expect(judged.paths.length).toBe(drawn.length);
      expect([...new Set(judged.paths.map(({ type }) => type))].sort()).toEqual([...kinds]);
      for (const layer of layerNames) {
        const read = judged.paths.filter((path) => path.layer === layer);
        for (const path of drawn.filter((entry) => entry.layer === layer)) {
          const points = pairs(flattenCurve(path.curve, 0.0005), path.curve.closed);
          const best = read.map((other) => ({ other, apart: apartMm(points, other.points) })).sort((a, b) => a.apart - b.apart)[0];
          expect(best.apart).toBeLessThan(0.01);
          expect(best.other.closed).toBe(path.curve.closed);
          expect(best.other.part ?? undefined).toBe(path.part);
          if (path.curve.closed) expect(Math.sign(areaOf(best.other.points))).toBe(Math.sign(areaOf(points)));
        }
      }
    });
    it(`${format}: every label as text where it stands, letters beyond ASCII too, with its part [ezdxf]`, async () => {
      const judged = await judge(format);
      const { labels } = input.sheetDrawings[0].drawing;
      const key = (text: string, part: string | undefined, at: readonly number[]): string =>
        `${text}|${part ?? ''}|${at[0].toFixed(3)}|${at[1].toFixed(3)}`;
      expect(judged.texts.map(({ text, part, at }) => key(text, part ?? undefined, at)).sort()).toEqual(
        labels.map(({ text, part, at }) => key(text, part, at)).sort(),
      );
      expect(judged.texts.every(({ layer }) => layer === 'TEXT')).toBe(true);
    });
    it(`${format}: a test square of 100.00 mm [ezdxf]`, async () => {
      const judged = await judge(format);
      const [square] = judged.paths.filter(({ layer }) => layer === 'TEST_SQUARE');
      for (const k of [0, 1]) {
        const values = square.points.map((point) => point[k]);
        expect(Math.max(...values) - Math.min(...values)).toBeCloseTo(100, 5);
      }
    });
  }
});
