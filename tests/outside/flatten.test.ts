/*
 * Flattening before judges that are not ours: Eigen and CHOLMOD for the conformal map, CGAL for the as-rigid energy, shapely for overlaps.
 */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { prepareRigid, rigidSteps } from '../../src/flatten/as-rigid.ts';
import { conformalMap } from '../../src/flatten/conformal.ts';
import { faceDistortion, planeArea, rigidEnergy } from '../../src/flatten/distortion.ts';
import { shapeMap } from '../../src/flatten/shape.ts';
import { boundaryLoops } from '../../src/mesh/navigate.ts';
import { randomPiece } from '../support/body-patches.ts';
import { capMesh } from '../support/flat-shapes.ts';
import { describeWithJudges, python } from '../support/judges.ts';
import { similarityError } from '../support/laws.ts';
import { askJudge } from '../support/mesh-exchange.ts';
import { compileJudge } from '../support/native.ts';
import { hasBodies } from '../support/reference.ts';

const pieces = hasBodies ? [2, 12, 17, 22, 37, 47, 52].map(randomPiece) : [];
const conformalJudge = compileJudge('flatten-conformal', ['-lcholmod']);
const cgalJudge = compileJudge('flatten-cgal', ['-lgmp', '-lmpfr']);
if ('missing' in conformalJudge) console.warn(`Left out: the conformal judge. ${conformalJudge.missing}`);
if ('missing' in cgalJudge) console.warn(`Left out: the CGAL judge. ${cgalJudge.missing}`);

describe.skipIf('missing' in conformalJudge)('conformalMap', () => {
  it('is the map of a real 2n solve by Eigen and of a complex one by CHOLMOD [Eigen] [CHOLMOD]', async () => {
    if ('missing' in conformalJudge) return;
    for (const mesh of [capMesh(100, 1.2, 1500), ...pieces.slice(0, 3).map((piece) => piece.mesh)]) {
      const map = await conformalMap(mesh, {}, quietRun);
      for (const mode of ['eigen', 'cholmod']) {
        const judged = askJudge(conformalJudge.path, mesh, { before: [mode], after: [...map.pins.map(String), '1'] });
        expect(similarityError(map.positions, judged.map)).toBeLessThan(1e-7);
      }
    }
  });
});

describe.skipIf('missing' in cgalJudge || !hasBodies)('rigidSteps', () => {
  it('ends with an as-rigid energy that is never above CGAL’s on the same patch [CGAL]', async () => {
    if ('missing' in cgalJudge) return;
    let compared = 0;
    for (let seed = 0; seed < 40; seed++) {
      const { mesh, hasHole } = randomPiece(seed % 5 === 1 && seed < 40 ? seed + 200 : seed);
      if (hasHole || boundaryLoops(mesh).length !== 1 || mesh.faces.length < 60) continue;
      const judged = askJudge(cgalJudge.path, mesh, {});
      if (judged.lines[0].code !== 0) continue;
      const theirs = rigidEnergy(
        faceDistortion(mesh, planeArea(mesh, judged.map) < 0 ? judged.map.map((x, k) => (k % 2 === 0 ? -x : x)) : judged.map),
      );
      const system = await prepareRigid(mesh, quietRun);
      const ours = Math.min(
        (await rigidSteps(system, (await conformalMap(mesh, {}, quietRun)).positions, 3000, 1e-9, quietRun)).energy,
        (await rigidSteps(system, (await shapeMap(mesh, {}, quietRun)).positions, 3000, 1e-9, quietRun)).energy,
      );
      compared++;
      expect([seed, ours <= theirs * (1 + 1e-6) + 1e-9]).toEqual([seed, true]);
    }
    expect(compared).toBeGreaterThan(8);
  });
});

describeWithJudges('shapeMap', ['python:shapely'], () => {
  it.skipIf(!hasBodies)('covers nothing twice: the union of its faces has the area of their sum [shapely]', async () => {
    for (const seed of [2, 4, 5, 26, 29, 38, 43, 46]) {
      const { mesh } = randomPiece(seed);
      const { positions } = await shapeMap(mesh, {}, quietRun);
      const input = JSON.stringify({ points: Array.from(positions), faces: Array.from(mesh.faces) });
      const script = `
import json, sys
from shapely.geometry import Polygon
from shapely.ops import unary_union
d = json.load(sys.stdin); p = d['points']; f = d['faces']
faces = [Polygon([(p[2*f[h+i]], p[2*f[h+i]+1]) for i in range(3)]) for h in range(0, len(f), 3)]
print(json.dumps([sum(t.area for t in faces), unary_union(faces).area]))`;
      const [sum, union] = JSON.parse(execFileSync(python, ['-c', script], { input, encoding: 'utf8' })) as [number, number];
      expect([seed, Math.abs(sum / union - 1) < 1e-9]).toEqual([seed, true]);
    }
  });
});
