import { describe, expect, it } from 'vitest';
import { torus } from '../../samples/bodies.ts';
import type { SampleMesh } from '../../samples/bodies.ts';
import { capsule, sphere, together } from '../../samples/closed-bodies.ts';
import { quietRun } from '../../src/base/run.ts';
import type { Vec3 } from '../../src/base/arrays.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { enclosedVolume, surfaceArea } from '../../src/mesh/measure.ts';
import { eulerCharacteristic } from '../../src/mesh/navigate.ts';
import { placeOf } from '../../src/mesh/spatial.ts';
import type { LevelSurface } from '../../src/standoff/level-surface.ts';
import { bridgedSurface, levelSurface, prepareBridge, prepareLevels } from '../../src/standoff/level-surface.ts';
import { createNearestFace } from '../../src/standoff/nearest-face.ts';
import { crossingPairs } from '../support/crossing-faces.ts';
import { distanceErrors, quantile, steiner, toCapsule, toSphere, toTorus } from '../support/standoff-bodies.ts';

const grain = { edgeMm: 3 };
const coarse = { edgeMm: 4.5 };
const even = (sample: SampleMesh, mm: number): Float64Array => new Float64Array(sample.positions.length / 3).fill(mm);

function level(sample: SampleMesh, mm: number): Promise<LevelSurface> {
  return levelSurface(prepareLevels(buildMesh(sample.positions, sample.faces)), even(sample, mm), quietRun);
}

async function bridged(sample: SampleMesh, mm: number, radius: number, above = 0): Promise<LevelSurface> {
  const source = prepareLevels(buildMesh(sample.positions, sample.faces));
  const bridge = await prepareBridge(source, even(sample, mm), radius, quietRun);
  return bridgedSurface(source, bridge, even(sample, mm + above), above, quietRun);
}

describe('levelSurface', () => {
  const bodies: readonly (readonly [string, SampleMesh, (at: Vec3) => number, number])[] = [
    ['sphere', sphere({ radius: 30 }, grain), toSphere(30), 2],
    ['capsule', capsule({ radius: 25, length: 30 }, grain), toCapsule(25, 30), 2],
    ['torus', torus({ radius: 34, tube: 14 }, { edgeMm: 2.5 }), toTorus(34, 14), 0],
  ];
  it.each(bodies)(
    'stands off a %s by 8 mm within 0.2 mm at nineteen points of twenty, closed, of its genus, without crossing itself [closed form]',
    async (_, sample, distance, euler) => {
      const { mesh, pockets } = await level(sample, 8);
      expect(quantile(distanceErrors(mesh, 8, distance), 0.95)).toBeLessThan(0.2);
      expect(eulerCharacteristic(mesh)).toBe(euler);
      expect(pockets).toBe(0);
      expect(crossingPairs(mesh)).toBe(0);
    },
  );
  it('stands off two near spheres as one body, 95 % within 0.2 mm of the nearer one, with the volume of two balls less their lens [closed form]', async () => {
    const [r, d, apart] = [22, 8, 52];
    const ball = sphere({ radius: r }, grain);
    const pair = together([
      { body: ball, shift: [-apart / 2, 0, 0] },
      { body: ball, shift: [apart / 2, 0, 0] },
    ]);
    const { mesh } = await level(pair, d);
    const distance = (at: Vec3): number => Math.min(toSphere(r, [-apart / 2, 0, 0])(at), toSphere(r, [apart / 2, 0, 0])(at));
    expect(quantile(distanceErrors(mesh, d, distance), 0.95)).toBeLessThan(0.2);
    expect(eulerCharacteristic(mesh)).toBe(2);
    expect(crossingPairs(mesh)).toBe(0);
    const R = r + d;
    const cap = R - apart / 2;
    const lens = 2 * ((Math.PI * cap * cap * (3 * R - cap)) / 3);
    // The faceted spheres themselves hold about 1 % less than round ones.
    expect(Math.abs(enclosedVolume(mesh) / ((8 / 3) * Math.PI * R ** 3 - lens) - 1)).toBeLessThan(0.015);
  });
  it("has Steiner's area and volume at 3, 8 and 14 mm around a capsule, within 1.2 % [closed form]", async () => {
    const [R, L] = [22, 30];
    const smooth = {
      area: 4 * Math.PI * R * R + 2 * Math.PI * R * L,
      volume: (4 / 3) * Math.PI * R ** 3 + Math.PI * R * R * L,
      meanCurvature: 4 * Math.PI * R + Math.PI * L,
    };
    for (const mm of [3, 8, 14]) {
      const { mesh } = await level(capsule({ radius: R, length: L }, grain), mm);
      const sums = steiner(smooth, mm);
      expect(Math.abs(surfaceArea(mesh) / sums.area - 1)).toBeLessThan(0.012);
      expect(Math.abs(enclosedVolume(mesh) / sums.volume - 1)).toBeLessThan(0.012);
    }
  });
  it('knows the way back: the body point of each vertex lies at the distance [invariant]', async () => {
    const sample = torus({ radius: 34, tube: 14 }, { edgeMm: 3 });
    const { mesh, toBody } = await level(sample, 8);
    for (let v = 0; v < mesh.positions.length / 3; v += 7) {
      const place = placeOf(sample, {
        face: toBody.face[v],
        weights: [toBody.weights[3 * v], toBody.weights[3 * v + 1], toBody.weights[3 * v + 2]],
      });
      expect(
        Math.hypot(place[0] - mesh.positions[3 * v], place[1] - mesh.positions[3 * v + 1], place[2] - mesh.positions[3 * v + 2]),
      ).toBeCloseTo(8, 3);
    }
  });
  it('follows distances that change along the body: a sphere whose distance grows from 4 to 12 mm with height [closed form]', async () => {
    const ball = sphere({ radius: 45 }, grain);
    const wanted = (z: number): number => 8 + (4 * z) / 45;
    const distance = Float64Array.from({ length: ball.positions.length / 3 }, (_, v) => wanted(ball.positions[3 * v + 2]));
    const { mesh } = await levelSurface(prepareLevels(buildMesh(ball.positions, ball.faces)), distance, quietRun);
    let worst = 0;
    for (let v = 0; v < mesh.positions.length; v += 3) {
      const size = Math.hypot(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]);
      worst = Math.max(worst, Math.abs(size - 45 - wanted((45 * mesh.positions[v + 2]) / size)));
    }
    expect(worst).toBeLessThan(0.1);
  });
  it('leaves an open tube open: nothing hangs over its borders [invariant]', async () => {
    const half = capsule({ radius: 35, length: 60 }, grain);
    const faces = Uint32Array.from(half.faces).filter((_, h) =>
      [0, 1, 2].every((i) => Math.abs(half.positions[3 * half.faces[h - (h % 3) + i] + 2]) <= 30 + 1e-9),
    );
    const { mesh } = await level({ positions: half.positions, faces }, 6);
    expect(eulerCharacteristic(mesh)).toBe(0);
    for (let v = 0; v < mesh.positions.length; v += 3) {
      expect(Math.abs(Math.hypot(mesh.positions[v], mesh.positions[v + 1]) - 41)).toBeLessThan(0.4);
      expect(Math.abs(mesh.positions[v + 2])).toBeLessThan(34);
    }
  });
});

describe('bridgedSurface', () => {
  it('changes nothing around a convex body [invariant]', async () => {
    const body = capsule({ radius: 35, length: 30 }, coarse);
    const made = await bridged(body, 8, 60);
    expect(made.bridged).toEqual({ areaMm2: 0, deepestMm: expect.closeTo(0, 3) as number });
    const nearest = createNearestFace(buildMesh(body.positions, body.faces));
    for (let v = 0; v < made.mesh.positions.length; v += 3)
      expect(nearest.foot(made.mesh.positions[v], made.mesh.positions[v + 1], made.mesh.positions[v + 2])?.distance).toBeCloseTo(8, 4);
  });
  it('rolls a ball over two spheres: in the gap the surface is the ball’s own groove [closed form]', async () => {
    const [r, d, apart, ballRadius] = [30, 5, 64, 50];
    const ball = sphere({ radius: r }, coarse);
    const pair = together([
      { body: ball, shift: [-apart / 2, 0, 0] },
      { body: ball, shift: [apart / 2, 0, 0] },
    ]);
    const made = await bridged(pair, d, ballRadius);
    expect(crossingPairs(made.mesh)).toBe(0);
    // The ball's middle runs on a circle around the axis, at this distance from it; the groove's bottom lies one ball radius nearer.
    const middle = Math.sqrt((r + d + ballRadius) ** 2 - (apart / 2) ** 2);
    let bottom = Infinity;
    let nearest = Infinity;
    for (let v = 0; v < made.mesh.positions.length; v += 3) {
      const [x, y, z] = [made.mesh.positions[v], made.mesh.positions[v + 1], made.mesh.positions[v + 2]];
      const fromAxis = Math.hypot(y, z);
      if (Math.abs(x) < 12) bottom = Math.min(bottom, fromAxis);
      nearest = Math.min(nearest, toSphere(r, [-apart / 2, 0, 0])([x, y, z]), toSphere(r, [apart / 2, 0, 0])([x, y, z]));
    }
    expect(Math.abs(bottom - (middle - ballRadius))).toBeLessThan(1);
    // Faces of the spheres lie up to 0.25 mm inside the round ones.
    expect(nearest).toBeGreaterThan(d - 0.3);
    expect(made.bridged.areaMm2).toBeGreaterThan(2000);
  });
  it('puts the next layer its own distance above the bridge, and beyond the ball at the plain level [closed form]', async () => {
    const ball = sphere({ radius: 30 }, coarse);
    const pair = together([
      { body: ball, shift: [-32, 0, 0] },
      { body: ball, shift: [32, 0, 0] },
    ]);
    const grooves = await Promise.all(
      [0, 4].map(async (above) => {
        const { mesh } = await bridged(pair, 5, 50, above);
        let bottom = Infinity;
        for (let v = 0; v < mesh.positions.length; v += 3)
          if (Math.abs(mesh.positions[v]) < 12) bottom = Math.min(bottom, Math.hypot(mesh.positions[v + 1], mesh.positions[v + 2]));
        return bottom;
      }),
    );
    expect(Math.abs(grooves[1] - grooves[0] - 4)).toBeLessThan(0.6);
    const far = await bridged(pair, 5, 10, 12);
    expect(far.bridged.areaMm2).toBe(0);
  });
});
