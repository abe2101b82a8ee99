/*
 * The sample job from end to end, as the README's demo makes it: files read back by judges that are not ours and compared with each other and with the report.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { placedRing } from '../../src/nest/nest.ts';
import type { Report } from '../../src/report.ts';
import { sha256 } from '../../src/base/hash.ts';
import { apartMm, askScript, describeWithJudges, inScratch, pairs, putFile, type JudgedPath } from '../support/judges.ts';
import { root } from '../support/sources.ts';
import { threadless } from '../support/threadless.ts';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import { createClient } from '../../worker/client.ts';

describeWithJudges('the sample job before outside judges', ['python:ezdxf', 'python:shapely', 'rsvg-convert'], () => {
  let out = '';
  let report: Report;

  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'plastron-demo-'));
    const made = spawnSync(process.execPath, ['--import', 'tsx', join(root, 'samples/demo.ts'), out], { cwd: root, encoding: 'utf8' });
    expect(made.stderr).toBe('');
    expect(made.status).toBe(0);
    report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as Report;
  });
  afterAll(() => rmSync(out, { recursive: true, force: true }));

  it('lays every part flat without a flip or an overlap [contract: report]', () => {
    expect(report.ok).toBe(true);
    expect(report.parts.length).toBeGreaterThanOrEqual(13);
    expect(report.parts.filter((part) => part.flips > 0 || part.overlaps > 0 || !part.converged).map((part) => part.id)).toEqual([]);
    expect(report.unplaced).toEqual([]);
    expect(report.findings.filter((entry) => entry.severity === 'severe')).toEqual([]);
  });

  it('the worker writes the same bytes as the command line [second route]', async () => {
    const { job, file } = await sampleJob();
    const client = createClient(threadless);
    await client.ask({ kind: 'open', job, file }).done;
    const { files } = await client.ask({ kind: 'files', formats: job.output.formats }).done;
    expect(files.map((entry) => entry.path).sort()).toEqual([...report.output.files.map((entry) => entry.path), 'report.json'].sort());
    for (const entry of files)
      expect([entry.path, Buffer.from(entry.bytes as Uint8Array).equals(readFileSync(join(out, ...entry.path.split('/'))))]).toEqual([
        entry.path,
        true,
      ]);
    client.dispose();
  });

  it('parts lie apart on their sheets and inside them [shapely]', () => {
    for (const sheet of report.sheets) {
      const rings = sheet.placements.map((placement) => {
        const part = report.parts.find((entry) => entry.id === placement.part);
        if (!part) throw new Error(`${placement.part} is in no row of parts`);
        return [part.outline, ...part.holes].map((ring) => pairs(placedRing(Float64Array.from(ring.flat()), placement), false));
      });
      const judged = inScratch((folder) =>
        askScript<{ least: number; inside: boolean; areas: number[] }>('sheet_judge.py', [
          putFile(folder, 'sheet.json', JSON.stringify({ width: sheet.widthMm, height: sheet.heightMm, rings })),
        ]),
      );
      expect(judged.least).toBeGreaterThan(0.5);
      expect(judged.inside).toBe(true);
      const areas = sheet.placements.map((placement) => report.parts.find((part) => part.id === placement.part)?.areaMm2 ?? 0);
      judged.areas.forEach((area, i) => expect(Math.abs(area - areas[i])).toBeLessThan(0.002 * area));
    }
  });

  it('SVG, DXF and report agree to 0.01 mm, and the test square measures 100.00 mm [ezdxf, own parser of the judge]', () => {
    for (const sheet of report.sheets) {
      const svg = askScript<{ paths: JudgedPath[] }>('svg_paths.py', [join(out, `sheets/${sheet.id}.svg`)]).paths;
      const dxf = askScript<{ paths: JudgedPath[]; errors: string[] }>('dxf_paths.py', [join(out, `sheets/${sheet.id}.r12.dxf`)]);
      expect(dxf.errors).toEqual([]);
      for (const placement of sheet.placements) {
        const part = report.parts.find((entry) => entry.id === placement.part);
        if (!part) throw new Error(`${placement.part} is in no row of parts`);
        const wanted = pairs(placedRing(Float64Array.from(part.outline.flat()), placement), true);
        const [fromSvg, fromDxf] = [svg, dxf.paths].map((paths) => paths.filter((path) => path.layer === 'CUT' && path.part === part.id));
        expect([fromSvg.length, fromDxf.length]).toEqual([1, 1]);
        expect(apartMm(fromSvg[0].points, fromDxf[0].points)).toBeLessThan(0.01);
        expect(apartMm(wanted, fromDxf[0].points)).toBeLessThan(0.01);
      }
      for (const paths of [svg, dxf.paths]) {
        const [square] = paths.filter((path) => path.layer === 'TEST_SQUARE');
        for (const k of [0, 1]) {
          const values = square.points.map((point) => point[k]);
          expect(Math.max(...values) - Math.min(...values)).toBeCloseTo(100, 2);
        }
      }
    }
  });

  it('mating sides meet the seam rule and notch codes are unique up to mirror image [contract: seams meet, notches]', () => {
    for (const seam of report.seams)
      expect(Math.abs(seam.differenceMm), `${seam.id} ${seam.line}`).toBeLessThanOrEqual(Math.max(2, 0.002 * seam.surfaceMm));
    const reversed = (code: string): string => code.split('-').reverse().join('-');
    const codes = report.seams.map((seam) => seam.code).filter((code) => code !== '');
    for (const code of codes) {
      expect(code).not.toBe(reversed(code));
      expect(codes.filter((other) => other === code || other === reversed(code))).toHaveLength(1);
    }
  });

  it('the report lists every file with its true hash [second route]', () => {
    expect(report.output.files.length).toBeGreaterThan(3);
    for (const file of report.output.files) expect(sha256(readFileSync(join(out, ...file.path.split('/'))))).toBe(file.sha256);
  });
});
