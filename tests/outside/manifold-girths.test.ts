/*
 * Girths beside slices by an independent library for solids, and arms taken off bodies to which they have grown.
 */
import Module from 'manifold-3d';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { cutArms } from '../../src/body/arms.ts';
import type { Body } from '../../src/body/body.ts';
import { makeBody } from '../../src/body/make-body.ts';
import { girthAtHeight } from '../../src/body/measure-girth.ts';
import { sectionOf } from '../../src/body/section.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { bounds } from '../../src/mesh/measure.ts';
import { readMesh } from '../../src/read/index.ts';

const pathOf = (name: string): string => new URL(`../../../shared/data/meshes/${name}.obj`, import.meta.url).pathname;
const bodies = ['mh_female_young', 'mh_male_heavy'].filter((name) => existsSync(pathOf(name)));
const load = async (name: string): Promise<Body> =>
  makeBody(
    await readMesh({ name, bytes: new Uint8Array(readFileSync(pathOf(name))) }, quietRun),
    { unit: 'm', up: 'y', front: 'z' },
    quietRun,
  );

describe.skipIf(bodies.length === 0)('girths of whole bodies', async () => {
  const solid = await Module();
  solid.setup();
  const solidOf = (body: Body): InstanceType<typeof solid.Manifold> =>
    new solid.Manifold(
      new solid.Mesh({ numProp: 3, vertProperties: Float32Array.from(body.mesh.positions), triVerts: Uint32Array.from(body.mesh.faces) }),
    );

  it.each(bodies)('agree with slices of %s to 1 mm [manifold-3d]', async (name) => {
    const body = await load(name);
    const whole = solidOf(body);
    expect(whole.status()).toBe('NoError');
    // Its slices run across z: y up becomes z up.
    const turned = whole.rotate([90, 0, 0]);
    const foot = bounds(body.mesh).min[1];
    for (const height of [300, 700, 900, 1000, 1050, 1100, 1150, 1180, 1300]) {
      const polygons = turned.slice(foot + height).toPolygons();
      const lengths = polygons.map((ring) =>
        ring.reduce(
          (sum, point, i) => sum + Math.hypot(point[0] - ring[(i + 1) % ring.length][0], point[1] - ring[(i + 1) % ring.length][1]),
          0,
        ),
      );
      const own = sectionOf(body.mesh, { point: [0, foot + height, 0], normal: [0, 1, 0] });
      expect(Math.abs(own[0].length - Math.max(...lengths)), `height ${height}`).toBeLessThan(1);
      expect(Math.abs(own.reduce((sum, loop) => sum + loop.length, 0) - lengths.reduce((sum, value) => sum + value, 0))).toBeLessThan(1);
    }
  });

  it.skipIf(!bodies.includes('mh_female_young')).each([12, 30, 50])(
    'with arms grown to the trunk over %i mm are refused, and within 5 mm once the arms are off [manifold-3d union]',
    async (thickness) => {
      const body = await load('mh_female_young');
      let fused = solidOf(body);
      for (const side of [1, -1]) {
        const outline: [number, number][] = [
          [80, 1060],
          [330, 1060],
          [190, 1215],
          [80, 1220],
        ];
        const turned = outline.map(([x, y]): [number, number] => [side * x, y]);
        fused = fused.add(solid.Manifold.extrude([side > 0 ? turned : turned.reverse()], thickness).translate([0, 0, 10]));
      }
      const { vertProperties, triVerts } = fused.getMesh();
      const soup = { positions: Float64Array.from(vertProperties), faces: triVerts, unit: 'mm', format: 'obj', findings: [] } as const;
      const grown = await makeBody(soup, { unit: 'mm', up: 'y', front: 'z' }, quietRun);
      expect(() => girthAtHeight(grown.mesh, 'y', 1180)).toThrowError(/body\/girth-cuts-arm/);
      const armless = (from: Body): ReturnType<typeof buildMesh> => {
        const { triangles, arms } = cutArms(from.mesh, 'y', 'z');
        expect(arms).toBe(2);
        return buildMesh(triangles.positions, triangles.faces);
      };
      const [without, taken] = [armless(body), armless(grown)];
      for (const height of [1100, 1140, 1180, 1200])
        expect(
          Math.abs(girthAtHeight(taken, 'y', height).tapeMm - girthAtHeight(without, 'y', height).tapeMm),
          `height ${height}`,
        ).toBeLessThan(5);
    },
  );
});
