import { describe, expect, it } from 'vitest';
import { cylinder, torus } from '../../samples/bodies.ts';
import { capsule, sphere, together } from '../../samples/closed-bodies.ts';
import { quietRun } from '../../src/base/run.ts';
import { materials } from '../../src/materials/index.ts';
import { placeOf } from '../../src/mesh/spatial.ts';
import { reportStandoff } from '../../src/standoff/report.ts';
import type { StandoffSettings } from '../../src/standoff/settings.ts';
import { makeStandoff } from '../../src/standoff/standoff.ts';
import { crossingPairs } from '../support/crossing-faces.ts';
import { bodyOf, distanceErrors, plainSettings, quantile, toSphere } from '../support/standoff-bodies.ts';

const make = (body: ReturnType<typeof bodyOf>, settings: Partial<StandoffSettings> = {}): ReturnType<typeof makeStandoff> =>
  makeStandoff(body, { ...plainSettings, ...settings }, materials, quietRun);

describe('makeStandoff', () => {
  it('gives one surface a layer at its neutral plane, on the body’s own faces where a push is the true offset [closed form]', async () => {
    const body = bodyOf(sphere({ radius: 60 }, { edgeMm: 5 }));
    const surfaces = await make(body, { layers: ['eva-6', 'eva-2'] });
    expect(surfaces.map(({ layer, material, distanceMm }) => ({ layer, material, distanceMm }))).toEqual([
      { layer: 0, material: 'eva-6', distanceMm: 8 },
      { layer: 1, material: 'eva-2', distanceMm: 12 },
    ]);
    for (const surface of surfaces) {
      expect(surface.mesh.faces).toEqual(body.mesh.faces);
      expect(surface.findings).toEqual([]);
      expect(quantile(distanceErrors(surface.mesh, surface.distanceMm, toSphere(60)), 0.95)).toBeLessThan(0.2);
      for (const v of [0, 100, 777]) {
        const weights = [0, 1, 2].map((i) => surface.toBody.weights[3 * v + i]) as [number, number, number];
        const place = placeOf(body.mesh, { face: surface.toBody.face[v], weights });
        expect(place).toEqual([0, 1, 2].map((k) => body.mesh.positions[3 * v + k]));
      }
    }
  });
  it('takes the level of the distance field where a push would fold, without crossing itself [closed form]', async () => {
    const ball = sphere({ radius: 30 }, { edgeMm: 4 });
    const body = bodyOf(
      together([
        { body: ball, shift: [-34, 0, 0] },
        { body: ball, shift: [34, 0, 0] },
      ]),
    );
    const [surface] = await make(body);
    expect(surface.mesh.faces.length).not.toBe(body.mesh.faces.length);
    expect(crossingPairs(surface.mesh)).toBe(0);
    expect(surface.findings).toEqual([]);
  });
  it('closes a hole that no sheet can enter and says what it bridges [closed form]', async () => {
    const body = bodyOf(torus({ radius: 32, tube: 18 }, { edgeMm: 4 }));
    const [bridged] = await make(body, { bridgeHollowsMm: 60 });
    const note = bridged.findings.find((found) => found.code === 'standoff/bridged');
    expect(note?.what).toMatch(/\d+ cm² .* up to \d+ mm/);
  });
  it('does not bridge an open body, and says so [contract]', async () => {
    const [surface] = await make(bodyOf(cylinder({ radius: 50, height: 80 }, { edgeMm: 8 })), { bridgeHollowsMm: 40 });
    expect(surface.findings.map((found) => found.code)).toEqual(['standoff/open-body']);
  });
  it('does not change the body, and gives the same bytes again [invariant]', async () => {
    const body = bodyOf(torus({ radius: 24, tube: 10 }, { edgeMm: 5 }));
    const before = Array.from(body.mesh.positions);
    const [first, second] = [await make(body, { clearanceMm: 14 }), await make(body, { clearanceMm: 14 })];
    expect(Array.from(body.mesh.positions)).toEqual(before);
    expect(first[0].mesh.faces.length).not.toBe(body.mesh.faces.length);
    expect(second[0].mesh).toEqual(first[0].mesh);
  });
});

describe('reportStandoff', () => {
  it('gives girths that grow by 2π·distance around a closed convex section, within 0.3 mm [closed form]', async () => {
    const body = bodyOf(capsule({ radius: 60, length: 80 }, { edgeMm: 5 }));
    const measures = [{ name: 'middle', kind: 'girth', points: [[60, 0, 3]], tapeMm: 377 }] as const;
    const surfaces = await make(body, { layers: ['eva-6', 'eva-10'] });
    const report = reportStandoff(body, surfaces, measures);
    expect(report.map((row) => row.layer)).toEqual([0, 1]);
    for (const row of report) {
      const [girth] = row.girths;
      expect(girth.name).toBe('middle');
      expect(Math.abs(girth.surfaceMm - girth.bodyMm - 2 * Math.PI * row.distanceMm)).toBeLessThan(0.3);
    }
  });
  it('takes off what the scan wore and leaves out a girth without a closed section [contract]', async () => {
    const body = { ...bodyOf(capsule({ radius: 60, length: 80 }, { edgeMm: 5 })), wornMm: 2 };
    const measures = [
      { name: 'middle', kind: 'girth', points: [[60, 0, 3]], tapeMm: 377 },
      { name: 'above', kind: 'girth', points: [[0, 0, 400]], tapeMm: 0 },
      { name: 'height', kind: 'height', points: [[0, 0, 100]], tapeMm: 200 },
    ] as const;
    const [row] = reportStandoff(body, await make(body), measures);
    expect(row.girths.map((girth) => girth.name)).toEqual(['middle']);
    // Skin to neutral plane is the asked distance: the scan's surface already stands 2 mm off.
    expect(Math.abs(row.girths[0].surfaceMm - row.girths[0].bodyMm - 2 * Math.PI * row.distanceMm)).toBeLessThan(0.3);
  });
});
