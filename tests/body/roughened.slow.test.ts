/*
 * A whole body roughened as scanners do it comes back: noise, holes, a floor, inches, shuffled orientation, doubled faces.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { remeshTriangles } from '../../src/body/remesh.ts';
import { vertexNormals } from '../../src/mesh/measure.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import { readMesh } from '../../src/read/index.ts';
import type { Shape } from '../support/shapes.ts';
import { grid, moved, shuffled, soupOf, together } from '../support/shapes.ts';

const path = new URL('../../../shared/data/meshes/mh_female_young.obj', import.meta.url).pathname;

describe.skipIf(!existsSync(path))('a roughened body', () => {
  it('comes back within 0.8 mm (95 %) outside the holes and a tenth of their width inside [issue: must hold]', async () => {
    const clean = await makeBody(
      await readMesh({ name: 'a.obj', bytes: new Uint8Array(readFileSync(path)) }, quietRun),
      { unit: 'm', up: 'y', front: 'z' },
      quietRun,
    );
    // As dense as a scan: edges of 4 mm.
    const { triangles: dense } = await remeshTriangles(clean.mesh, 4, quietRun);
    const random = createRandom(21);
    const normals = vertexNormals(dense);
    const noisy = Float64Array.from(dense.positions);
    for (let v = 0; v < noisy.length; v += 3) {
      const step = 2 * random() - 1;
      for (let k = 0; k < 3; k++) noisy[v + k] += step * normals[v + k];
    }
    // Twenty holes on the trunk and thighs, up to 80 mm wide, apart from each other.
    const holes: { at: Vec3; radius: number }[] = [];
    while (holes.length < 20) {
      const v = 3 * Math.floor((random() * dense.positions.length) / 3);
      const at: Vec3 = [dense.positions[v], dense.positions[v + 1], dense.positions[v + 2]];
      if (
        at[1] < 550 ||
        at[1] > 1180 ||
        Math.abs(at[0]) > 150 ||
        holes.some((hole) => Math.hypot(...at.map((x, k) => x - hole.at[k])) < 90)
      )
        continue;
      holes.push({ at, radius: 10 + 28 * random() });
    }
    const faces = dense.faces.filter((_, h) => {
      const corners = [0, 1, 2].map((i) => 3 * dense.faces[h - (h % 3) + i]);
      return !holes.some(({ at, radius }) => corners.some((v) => Math.hypot(...at.map((x, k) => x - dense.positions[v + k])) < radius));
    });
    const holed: Shape = { positions: noisy, faces: Uint32Array.from(faces) };
    const floor = moved(grid(1600, 1600, 80, 80), (x, y) => [x - 800, -3, y - 800]);
    const doubled: Shape = { positions: noisy, faces: Uint32Array.from(holed.faces.slice(0, 30_000)) };
    const rough = moved(shuffled(together(holed, doubled, floor), 5, 0.05), (x, y, z) => [x / 25.4, y / 25.4, z / 25.4]);
    const mend = [
      { step: 'floor', accept: true },
      { step: 'fill-holes', accept: true, maxMm: 100 },
      { step: 'smooth', accept: true, maxMm: 3 },
    ];
    const body = await makeBody(soupOf(rough), { unit: 'in', up: 'y', front: 'z', mend }, quietRun);
    const index = createSpatialIndex(clean.mesh);
    const outside: number[] = [];
    let worstInside = 0;
    for (let v = 0; v < body.mesh.positions.length; v += 3) {
      const place: Vec3 = [body.mesh.positions[v], body.mesh.positions[v + 1], body.mesh.positions[v + 2]];
      const distance = index.nearest(place)?.distance ?? Infinity;
      const hole = holes.find(({ at, radius }) => Math.hypot(...at.map((x, k) => x - place[k])) < radius + 8);
      if (hole === undefined) outside.push(distance);
      else worstInside = Math.max(worstInside, distance / (2 * hole.radius));
    }
    outside.sort((a, b) => a - b);
    expect(outside[Math.floor(0.95 * outside.length)]).toBeLessThan(0.8);
    expect(worstInside).toBeLessThan(0.1);
  });
});
