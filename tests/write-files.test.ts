/* Also report.ts and pipeline.ts: a small job from its body to its files, whole and with things that are refused. */
import { beforeAll, describe, expect, it } from 'vitest';
import { quietRun } from '../src/base/run.ts';
import { sha256 } from '../src/base/hash.ts';
import type { FormatName } from '../src/export/exporter.ts';
import type { Job } from '../src/job/job.ts';
import { newJob } from '../src/job/schema.ts';
import { materials } from '../src/materials/index.ts';
import type { Material } from '../src/materials/material.ts';
import type { JobResults } from '../src/pipeline.ts';
import { createPipelineCache, runJob } from '../src/pipeline.ts';
import type { SourceFile } from '../src/read/triangle-soup.ts';
import { makeReport, type Report } from '../src/report.ts';
import { writeFiles } from '../src/write-files.ts';
import { writeObj } from '../samples/mesh-files.ts';
import { areaMark, lineMark, sphereMesh } from './support/marked-bodies.ts';

const file: SourceFile = { name: 'ball.obj', bytes: writeObj(sphereMesh(100, 9), 'ball') };
const foam = materials.find(({ id }) => id === 'eva-6') as Material;
/** A sheet that no laser may have, which shrinks and of which a knife removes a little. */
const pvc: Material = {
  ...foam,
  id: 'own-pvc',
  name: 'PVC 6 mm',
  shrink: { value: 0.02, source: 'coupon' },
  kerfMm: { ...foam.kerfMm, knife: { value: 0.8, source: 'coupon' } },
};

/** A cap on either side of a ball; the one on the left is cut in two by a seam and lies on the second layer where there is one. */
function ballJob(layers: readonly string[], tool: Job['output']['tool']): Job {
  const job = newJob('Ball', file.name, '2026-11-25');
  const cap = (id: string, x: number, layer: number) =>
    areaMark({ id, name: id, layer, strokes: [{ mode: 'paint', points: [[x, 0, 0]], radiusMm: 45 }] });
  return {
    ...job,
    body: { ...job.body, unit: 'mm' },
    standoff: { ...job.standoff, layers },
    marks: {
      ...job.marks,
      mirrored: false,
      areas: [cap('left', 100, layers.length - 1), cap('right', -100, 0)],
      lines: [
        lineMark({
          id: 'half',
          kind: 'seam',
          points: [
            [60, 80, 0],
            [100, 0, 0],
            [60, -80, 0],
          ],
        }),
      ],
    },
    materials: [pvc],
    output: { ...job.output, tool, printFactor: [1.01, 0.995] },
  };
}

const formats: FormatName[] = ['svg', 'dxf-sewn', 'pdf-tiles', 'build-sheet'];
const cache = createPipelineCache();
const made = async (job: Job): Promise<{ results: JobResults; report: Report; paths: string[] }> => {
  const results = await runJob(job, file, quietRun, { cache });
  const { report, files } = await writeFiles(job, file, results, quietRun, formats);
  for (const entry of report.output.files) {
    const bytes = files.find(({ path }) => path === entry.path)?.bytes;
    expect(entry.sha256).toBe(sha256(Uint8Array.from(bytes as Uint8Array)));
  }
  return { results, report, paths: files.map(({ path }) => path) };
};

describe('writeFiles', () => {
  let sound: Awaited<ReturnType<typeof made>>;
  let mixed: Awaited<ReturnType<typeof made>>;
  beforeAll(async () => {
    sound = await made(ballJob(['own-pvc'], 'knife'));
    mixed = await made(ballJob(['eva-6', 'own-pvc'], 'laser'));
  });

  it('reports a sound job as ok, three parts and one seam [contract: report]', () => {
    const { report, paths } = sound;
    expect([report.ok, report.parts.length, report.seams.length, report.output.refused]).toEqual([true, 3, 1, []]);
    expect(paths).toEqual(expect.arrayContaining(['sheets/sheet-1.svg', 'sewn.dxf', 'build-sheet.html', 'report.json', 'job.plastron']));
  });

  it('lists each correction once, as data [contract: once each]', () => {
    const parts = sound.report.parts.map(({ id }) => id);
    expect(sound.report.output.corrections).toEqual([
      { kind: 'shrink', material: 'own-pvc', parts, ratio: 0.02, scale: 1 / 0.98, source: 'coupon' },
      { kind: 'kerf', material: 'own-pvc', parts, widthMm: 0.8, outMm: 0.4, source: 'coupon' },
      { kind: 'print-factor', factor: [1.01, 0.995], scale: [1 / 1.01, 1 / 0.995] },
    ]);
  });

  it('writes the sound sheets, names what the laser must not have in every format, and is not ok [contract: exit codes]', () => {
    const { report, paths } = mixed;
    expect(report.ok).toBe(false);
    const pvcParts = report.parts.filter(({ material }) => material === 'own-pvc').map(({ id }) => id);
    const pvcSheets = report.sheets.filter(({ material }) => material === 'own-pvc').map(({ id }) => id);
    expect(pvcParts.length).toBe(2);
    expect(pvcSheets.length).toBe(1);
    expect(report.output.refused.map(({ format, sheets, parts }) => ({ format, sheets, parts }))).toEqual([
      { format: 'svg', sheets: pvcSheets, parts: undefined },
      { format: 'dxf-sewn', sheets: undefined, parts: pvcParts },
      { format: 'pdf-tiles', sheets: pvcSheets, parts: pvcParts },
    ]);
    for (const { code, what } of report.output.refused)
      expect([code, what]).toEqual(['export/laser-refused', expect.stringMatching(/PVC 6 mm.*chlor/)]);
    const soundSheet = report.sheets.find(({ material }) => material === 'eva-6')?.id ?? '';
    expect(paths).toContain(`sheets/${soundSheet}.svg`);
    expect(paths).not.toContain(`sheets/${pvcSheets[0]}.svg`);
  });

  it('is not ok where a seam is refused; its files are written all the same [contract: Seams meet, exit codes]', async () => {
    const job = ballJob(['own-pvc'], 'knife');
    const seams = sound.results.seams?.map((seam) => ({ ...seam, differenceMm: 4, refused: true })) ?? [];
    const { report, files } = await writeFiles(job, file, { ...sound.results, seams }, quietRun, formats);
    expect([report.ok, report.seams[0].refused]).toEqual([false, true]);
    expect(files.map(({ path }) => path)).toEqual(sound.paths);
  });

  it('is not ok where a part found no sheet [contract: exit codes]', () => {
    const nested = sound.results.nested;
    if (nested === undefined) throw new Error('the sound job has no sheets');
    const report = makeReport(ballJob(['own-pvc'], 'knife'), { ...sound.results, nested: { ...nested, unplaced: ['left.1.L'] } }, [], []);
    expect([report.ok, report.unplaced]).toEqual([false, ['left.1.L']]);
  });
});
