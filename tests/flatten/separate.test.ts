/*
 * Parts held apart from themselves, with contacts.ts; starts without flips, with tutte.ts, untangle.ts and circle-border.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { circleByLength } from '../../src/flatten/circle-border.ts';
import { addDistanceGradientInto, createBarrier, findContacts } from '../../src/flatten/contacts.ts';
import { faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { injectiveStart } from '../../src/flatten/injective-start.ts';
import { newtonSteps, prepareNewton } from '../../src/flatten/newton.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import { separate } from '../../src/flatten/separate.ts';
import { shapeMap } from '../../src/flatten/shape.ts';
import { symmetricDirichletDensity } from '../../src/flatten/stretch-energy.ts';
import { tutteMap } from '../../src/flatten/tutte.ts';
import { untangle } from '../../src/flatten/untangle.ts';
import { scaleToArea } from '../../src/flatten/conformal.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { boundaryLoops } from '../../src/mesh/navigate.ts';
import { capMesh, lift, limbMesh, planeDisc, range, slitDiscPatch } from '../support/flat-shapes.ts';

/** A saddle slit along a ray: its legs cross in its best shape. */
const slitSaddle = (spacing: number) => slitDiscPatch((x, y) => [100 * x, 100 * y, 45 * (x * x - y * y)], 0.15, spacing);

describe('shapeMap of a slit saddle', () => {
  it('would lie over itself, and is held apart instead, one-to-one, at a small cost [invariant]', async () => {
    const { mesh } = slitSaddle(0.1).patch;
    const system = await prepareNewton(mesh, quietRun);
    const free = await newtonSteps(system, await injectiveStart(mesh, quietRun), symmetricDirichletDensity, 60, quietRun);
    expect(borderOverlaps(mesh, free.positions).count).toBeGreaterThan(0);
    const map = await shapeMap(mesh, {}, quietRun);
    expect(map.converged).toBe(true);
    expect([flippedFaces(mesh, map.positions).length, borderOverlaps(mesh, map.positions).count]).toEqual([0, 0]);
    expect((map.heldApart ?? []).length).toBeGreaterThan(0);
    const held = symmetricDirichlet(faceDistortion(mesh, map.positions)) - 4;
    expect(held).toBeGreaterThan(free.energy);
    // Not more than the uncut saddle costs: its legs could at worst be closed again.
    const uncut = lift(planeDisc(400), (x, y) => [100 * x, 100 * y, 45 * (x * x - y * y)]);
    expect(held).toBeLessThan(1.1 * (symmetricDirichlet(faceDistortion(uncut, (await shapeMap(uncut, {}, quietRun)).positions)) - 4));
  });
});

describe('separate', () => {
  it('refuses a piece of which no map is one-to-one to begin with, naming faces [contract]', async () => {
    // A strip of two faces whose only offered start lies over itself cannot fail the disc map: so the refusal is forced by a closed-up border.
    const mesh = buildMesh(Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0]), Uint32Array.from([0, 1, 2]));
    const system = await prepareNewton(mesh, quietRun);
    const result = await separate(mesh, system, [Float64Array.from([0, 0, 0, 1, 1, 0])], [], quietRun);
    expect(flippedFaces(mesh, result.positions)).toEqual([]);
  });
});

describe('findContacts', () => {
  it('has the derivatives of its barrier [second route]', () => {
    const { mesh } = slitSaddle(0.15).patch;
    const open = Float64Array.from({ length: (mesh.positions.length / 3) * 2 }, (_, k) => mesh.positions[3 * Math.floor(k / 2) + (k % 2)]);
    // Legs half closed: opened by 0.02 mm from lying on each other, with the barrier of the fully opened part.
    const wide = open.map((y, k) => (k % 2 === 1 && k / 2 > mesh.positions.length / 3 - 8 ? y - 5 : y));
    const barrier = createBarrier(mesh, wide);
    const near = open.map((y, k) => (k % 2 === 1 && k / 2 > mesh.positions.length / 3 - 8 ? y - 0.02 * (1 + (k % 5)) : y));
    const contacts = findContacts(barrier, near);
    expect(contacts.length).toBeGreaterThan(3);
    const valueAt = (map: Float64Array): number => findContacts(barrier, map).reduce((sum, contact) => sum + contact.value[0], 0);
    const gradient = new Float64Array(near.length);
    for (const contact of contacts) {
      const own = new Float64Array(near.length);
      addDistanceGradientInto(own, contact);
      own.forEach((value, i) => (gradient[i] += contact.value[1] * value));
      expect(contact.value[1]).toBeLessThan(0);
      expect(contact.value[2]).toBeGreaterThan(0);
    }
    const random = createRandom(5);
    const d = near.map(() => random() - 0.5);
    const [ahead, behind] = [1e-7, -1e-7].map((t) => valueAt(near.map((x, i) => x + t * d[i])));
    const slope = gradient.reduce((sum, g, i) => sum + g * d[i], 0);
    expect(Math.abs((ahead - behind) / 2e-7 / slope - 1)).toBeLessThan(1e-3);
  });

  it('is silent where a cut lay closed from the start [contract]', () => {
    const { mesh } = slitDiscPatch((x, y) => [50 * x, 50 * y, 0], 0.2, 0.12).patch;
    const plane = Float64Array.from({ length: (mesh.positions.length / 3) * 2 }, (_, k) => mesh.positions[3 * Math.floor(k / 2) + (k % 2)]);
    expect(findContacts(createBarrier(mesh, plane), plane)).toEqual([]);
  });
});

describe('tutteMap', () => {
  it('has no flips on bumpy discs, tubes and rings, and keeps the border on the circle [tutte1963]', async () => {
    const ring = buildMesh(
      Float64Array.from(
        range(48).flatMap((i) => [(i < 24 ? 1 : 2) * Math.cos((i * Math.PI) / 12), (i < 24 ? 1 : 2) * Math.sin((i * Math.PI) / 12), i % 3]),
      ),
      Uint32Array.from(range(24).flatMap((i) => [i, 24 + i, 24 + ((i + 1) % 24), i, 24 + ((i + 1) % 24), (i + 1) % 24])),
    );
    for (const mesh of [capMesh(50, 2.6, 500), limbMesh(4, 20), ring, lift(planeDisc(300), (x, y) => [x, y, Math.sin(9 * x * y)])]) {
      const plane = await tutteMap(mesh, quietRun);
      expect(flippedFaces(mesh, plane)).toEqual([]);
      for (const h of boundaryLoops(mesh)[0]) expect(Math.hypot(plane[2 * mesh.faces[h]], plane[2 * mesh.faces[h] + 1])).toBeCloseTo(1, 12);
    }
  });
});

describe('circleByLength', () => {
  it('spaces the border by its length in space, counter-clockwise [closed form]', () => {
    const mesh = buildMesh(Float64Array.from([0, 0, 0, 3, 0, 0, 0, 4, 0]), Uint32Array.from([0, 1, 2]));
    const plane = circleByLength(mesh, boundaryLoops(mesh)[0]);
    const angles = [0, 1, 2].map((v) => (Math.atan2(plane[2 * v + 1], plane[2 * v]) + 2 * Math.PI) % (2 * Math.PI));
    expect(angles[0]).toBeCloseTo(0, 12);
    expect(angles[1]).toBeCloseTo((2 * Math.PI * 3) / 12, 12);
    expect(angles[2]).toBeCloseTo((2 * Math.PI * 8) / 12, 12);
  });
});

describe('untangle', () => {
  it('turns every face back from a random start [garanzha2021]', async () => {
    const mesh = capMesh(100, 1, 150);
    const random = createRandom(3);
    const start = Float64Array.from({ length: (mesh.positions.length / 3) * 2 }, () => 100 * random());
    expect(flippedFaces(mesh, start).length).toBeGreaterThan(50);
    expect(flippedFaces(mesh, (await untangle(mesh, start, quietRun)) ?? start)).toEqual([]);
  });

  it('serves where rounding has flipped faces of a very long tube [second route]', async () => {
    const mesh = limbMesh(40, 12);
    const disc = scaleToArea(mesh, await tutteMap(mesh, quietRun));
    const start = await injectiveStart(mesh, quietRun);
    expect(flippedFaces(mesh, start)).toEqual([]);
    expect(start.length).toBe(disc.length);
  });
});
