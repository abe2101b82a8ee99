import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { materials } from '../../src/materials/index.ts';
import { readMesh } from '../../src/read/index.ts';
import { createNearestFace } from '../../src/standoff/nearest-face.ts';
import { makeStandoff } from '../../src/standoff/standoff.ts';
import { crossingPairs } from '../support/crossing-faces.ts';
import { distanceErrors, plainSettings, quantile } from '../support/standoff-bodies.ts';
import { root } from '../support/sources.ts';

const folder = join(root, '../shared/data/meshes');

describe('standoff of whole bodies', () => {
  if (!existsSync(folder)) console.log('left out: the shared meshes are not beside the project');
  it.skipIf(!existsSync(folder)).each(['mh_female_young.obj', 'mh_male_heavy.obj'])(
    '%s: vertices 8 mm off within 0.2 mm at nineteen of twenty, faces over fingers and toes by their chords, closed, not crossing itself in armpits and crotch [second route]',
    async (file) => {
      const soup = await readMesh({ name: file, bytes: readFileSync(join(folder, file)) }, quietRun);
      const body = await makeBody(soup, { unit: 'm', up: 'y', front: 'z' }, quietRun);
      const [surface] = await makeStandoff(body, plainSettings, materials, quietRun);
      const nearest = createNearestFace(body.mesh);
      const distance = (at: readonly [number, number, number]): number => nearest.foot(...at)?.distance ?? Infinity;
      const vertices = distanceErrors({ positions: surface.mesh.positions, faces: new Uint32Array(0) }, 8, distance);
      expect(quantile(vertices, 0.95)).toBeLessThan(0.2);
      // Edges of 8 mm over a finger of 8 mm radius and 8 mm of standoff: chord 8²/(8·16) = 0.5 mm.
      expect(quantile(distanceErrors(surface.mesh, 8, distance), 0.95)).toBeLessThan(0.5);
      expect(surface.mesh.twin.every((g) => g !== -1)).toBe(true);
      expect(crossingPairs(surface.mesh)).toBe(0);
    },
  );
});
