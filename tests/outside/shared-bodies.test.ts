/*
 * Bodies and busts that were not made for Plastron: areas painted at several places become parts without flips or overlaps.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import type { Job } from '../../src/job/job.ts';
import { newJob } from '../../src/job/schema.ts';
import { bounds } from '../../src/mesh/measure.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import { runJob } from '../../src/pipeline.ts';
import { readMesh } from '../../src/read/index.ts';
import { root } from '../support/sources.ts';

interface Place {
  readonly name: string;
  /** From where to look, as shares of the box (x, y, z), and the direction of the look. */
  readonly from: Vec3;
  readonly look: Vec3;
  readonly radiusMm: number;
}

interface Case {
  readonly file: string;
  readonly unit: 'm' | 'cm' | 'mm';
  /** Height that the mesh is scaled to, mm; absent: its own. */
  readonly heightMm?: number;
  readonly places: readonly Place[];
}

const front: Vec3 = [0, 0, -1];
const cases: readonly Case[] = [
  ...(['mh_female_young.obj', 'mh_male_heavy.obj'] as const).map((file): Case => ({
    file,
    unit: 'm',
    places: [
      { name: 'breast', from: [0.56, 0.77, 2], look: front, radiusMm: 70 },
      { name: 'shoulder blade', from: [0.56, 0.78, -1], look: [0, 0, 1], radiusMm: 70 },
      { name: 'thigh', from: [0.58, 0.42, 2], look: front, radiusMm: 60 },
    ],
  })),
  {
    file: 'os_demosthenes-low-res.obj',
    unit: 'mm',
    heightMm: 500,
    places: [
      { name: 'brow', from: [0.5, 0.8, 2], look: front, radiusMm: 40 },
      { name: 'back of the head', from: [0.5, 0.8, -1], look: [0, 0, 1], radiusMm: 50 },
    ],
  },
  {
    file: 'os_nefertiti-lowres.obj',
    unit: 'mm',
    heightMm: 500,
    places: [
      { name: 'crown', from: [0.5, 0.85, 2], look: front, radiusMm: 50 },
      { name: 'crown, behind', from: [0.5, 0.8, -1], look: [0, 0, 1], radiusMm: 50 },
    ],
  },
  { file: 'mp_canonical_face.obj', unit: 'cm', places: [{ name: 'cheek', from: [0.65, 0.45, 2], look: front, radiusMm: 30 }] },
];

const folder = join(root, '../shared/data/meshes');

describe('bodies beside the project', () => {
  if (!existsSync(folder)) console.log('left out: the shared meshes are not beside the project');
  for (const { file, unit, heightMm, places } of cases) {
    it.skipIf(!existsSync(folder))(
      `${file}: ${places.map((place) => place.name).join(', ')} become parts [open data: meshes]`,
      async () => {
        const source = { name: file, bytes: readFileSync(join(folder, file)) };
        const soup = await readMesh(source, quietRun);
        const box = bounds(soup);
        const up = longestAxis(box, file);
        const scale = heightMm === undefined ? 1 : heightMm / (box.max[up] - box.min[up]);
        const body = await makeBody(soup, { unit, scale, up: 'y', front: 'z' }, quietRun);
        const { min, max } = bounds(body.mesh);
        const index = createSpatialIndex(body.mesh);
        const job = newJob(file, file, '2026-11-25');
        const areas = places.map(({ name, from, look, radiusMm }, i) => {
          const origin = from.map((share, k) => min[k] + share * (max[k] - min[k])) as [number, number, number];
          const hit = index.firstHit(origin, look);
          if (!hit) throw new Error(`the look at ${name} misses ${file}`);
          return {
            id: `area-${i}`,
            name,
            layer: 0,
            growMm: 0,
            forming: 'domed' as const,
            strokes: [{ mode: 'paint' as const, points: [hit.at], radiusMm }],
          };
        });
        const marked: Job = { ...job, body: { ...job.body, unit, scale }, marks: { ...job.marks, mirrored: false, areas } };
        const results = await runJob(marked, source, quietRun, { until: 'draft' });
        expect(results.failed).toBeUndefined();
        expect(results.parts?.map((part) => part.area).sort()).toEqual(areas.map((area) => area.id));
        for (const part of results.parts ?? []) expect([part.id, part.summary.flips, part.summary.overlaps]).toEqual([part.id, 0, 0]);
      },
    );
  }
});

/** Busts may lie: the axis in which they are longest is not asked of bodies, which stand. */
function longestAxis(box: { readonly min: Vec3; readonly max: Vec3 }, file: string): number {
  if (!file.startsWith('os_')) return 1;
  const size = box.max.map((high, k) => high - box.min[k]);
  return size.indexOf(Math.max(...size));
}
