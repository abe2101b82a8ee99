/*
 * `bench -- marks FILE.obj…`: one shortest path over a body, and cutting an area with a seam out of it.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { shortestThrough } from '../../src/lines/line-path.ts';
import type { LineMark } from '../../src/lines/line.ts';
import { bounds } from '../../src/mesh/measure.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import { cutPatches } from '../../src/patches/cut-patches.ts';
import { readMesh } from '../../src/read/index.ts';
import type { SourceFile } from '../../src/read/triangle-soup.ts';
import { makeStandoff } from '../../src/standoff/standoff.ts';
import { materialOf } from '../../src/materials/index.ts';
import { sampleJob } from '../../samples/jobs/tide-warden.ts';
import type { BenchRow } from './bench-row.ts';

/** @param options.files meshes; without them the sample torso */
export async function benchMarks(options: { readonly files?: readonly string[]; readonly repeat?: number }): Promise<BenchRow[]> {
  const sources: SourceFile[] = options.files
    ? options.files.map((path) => ({ name: basename(path), bytes: readFileSync(path) }))
    : [(await sampleJob()).file];
  const repeat = options.repeat ?? 5;
  const rows: BenchRow[] = [];
  for (const source of sources) rows.push(...(await benchOne(source, repeat)));
  return rows;
}

async function benchOne(source: SourceFile, repeat: number): Promise<BenchRow[]> {
  const body = await makeBody(await readMesh(source, quietRun), {}, quietRun);
  const { mesh } = body;
  const { min, max } = bounds(mesh);
  const middle = min.map((low, k) => (low + max[k]) / 2) as [number, number, number];
  const index = createSpatialIndex(mesh);
  const seen = (share: number): ReturnType<typeof index.firstHit> =>
    index.firstHit([middle[0] + share * (max[0] - min[0]), middle[1], max[2] + 1], [0, 0, -1]);
  const [a, b] = [seen(-0.1), seen(0.1)];
  if (!a || !b) throw new RangeError(`${source.name} is not seen from its front`);
  const head = { file: source.name, faces: mesh.faces.length / 3, repeat, judges: [] };
  let length = 0;
  const path = await median(repeat, () => {
    length = shortestThrough(mesh, [a, b], false).length;
  });
  const surfaces = await makeStandoff(
    body,
    { clearanceMm: 0, paddingMm: 0, bridgeHollowsMm: 0, ease: [], layers: ['eva-2'] },
    [materialOf('eva-2')],
    quietRun,
  );
  const line: LineMark = { id: 'seam', kind: 'seam', path: 'shortest', closed: false, mirror: false, points: [a.at, b.at] };
  const radiusMm = 0.05 * (max[1] - min[1]);
  const marks = {
    mirrored: false,
    areas: [
      {
        id: 'area',
        name: 'Area',
        layer: 0,
        growMm: 0,
        forming: 'domed' as const,
        strokes: [{ mode: 'paint' as const, points: [a.at, b.at], radiusMm }],
      },
    ],
    lines: [line],
    points: [],
    names: [],
  };
  let patches = 0;
  const cut = await median(repeat, async () => {
    patches = (await cutPatches(body, surfaces, marks, quietRun)).patches.length;
  });
  const peakMb = process.resourceUsage().maxRSS / 1024;
  return [
    { ...head, method: 'path', medianSeconds: { total: path }, peakMb, quality: { lengthMm: length } },
    { ...head, method: 'cut', medianSeconds: { total: cut }, peakMb, quality: { patches } },
  ];
}

async function median(repeat: number, work: () => void | Promise<void>): Promise<number> {
  const seconds: number[] = [];
  for (let k = 0; k < repeat; k++) {
    const started = performance.now();
    await work();
    seconds.push((performance.now() - started) / 1000);
  }
  return seconds.sort((a, b) => a - b)[Math.floor(repeat / 2)];
}
