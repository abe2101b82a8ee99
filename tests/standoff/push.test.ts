import { describe, expect, it } from 'vitest';
import { box, cylinder, roof, torus } from '../../samples/bodies.ts';
import type { SampleMesh } from '../../samples/bodies.ts';
import { sphere, together } from '../../samples/closed-bodies.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { createNearestFace } from '../../src/standoff/nearest-face.ts';
import type { PushCheck } from '../../src/standoff/push.ts';
import { checkPush, offsetDirections, pushedPositions } from '../../src/standoff/push.ts';
import { distanceErrors, quantile, toSphere } from '../support/standoff-bodies.ts';

function push(sample: SampleMesh, mm: number): { readonly positions: Float64Array; readonly check: PushCheck } {
  const mesh = buildMesh(sample.positions, sample.faces);
  const distance = new Float64Array(mesh.positions.length / 3).fill(mm);
  const positions = pushedPositions(mesh, offsetDirections(mesh), distance);
  return { positions, check: checkPush(mesh, createNearestFace(mesh), positions, distance) };
}

describe('offsetDirections', () => {
  it('moves the planes of a box by the distance: its corners go to the mitres [closed form]', () => {
    const cube = box({ x: 20, y: 30, z: 40 });
    const { positions } = push(cube, 5);
    // The pull towards the mean normal costs the mitre a thousandth.
    for (let i = 0; i < positions.length; i++) expect(positions[i] - cube.positions[i]).toBeCloseTo(cube.positions[i] === 0 ? -5 : 5, 1);
  });
  it.each([30, 60, 90])('keeps the slopes of a roof of %d° parallel: the ridge rises by d/cos(fold/2) [closed form]', (degrees) => {
    const fold = (degrees * Math.PI) / 180;
    const sample = roof({ fold, slope: 40, length: 30 }, { edgeMm: 8, seed: 2 });
    const { positions } = push(sample, 6);
    let ridge = 0;
    for (let v = 0; v < positions.length; v += 3) {
      if (Math.abs(sample.positions[v]) > 1e-9) continue;
      ridge++;
      expect(positions[v + 2]).toBeCloseTo(6 / Math.cos(fold / 2), 1);
      expect(Math.abs(positions[v])).toBeLessThan(0.02);
    }
    expect(ridge).toBeGreaterThan(3);
  });
  it('does not depend on how flat faces are cut: a regular and an irregular roof rise alike [invariant]', () => {
    const tops = [undefined, 4, 9].map((seed) => {
      const { positions } = push(roof({ fold: 1, slope: 40, length: 40 }, { edgeMm: 5, ...(seed === undefined ? {} : { seed }) }), 6);
      return positions.filter((_, i) => i % 3 === 2).reduce((most, z) => Math.max(most, z), -Infinity);
    });
    expect(Math.max(...tops) - Math.min(...tops)).toBeLessThan(0.02);
  });
  it('lies within 0.2 mm of the larger sphere at 95 % [closed form]', () => {
    const ball = sphere({ radius: 60 }, { edgeMm: 5 });
    const { positions, check } = push(ball, 8);
    expect(check.isSound).toBe(true);
    expect(quantile(distanceErrors({ positions, faces: ball.faces }, 8, toSphere(60)), 0.95)).toBeLessThan(0.2);
  });
});

describe('checkPush', () => {
  it('accepts what stays clear and refuses a torus whose hole the sheet closes: d > R − r [closed form]', () => {
    const ring = torus({ radius: 40, tube: 20 }, { edgeMm: 4 });
    expect(push(ring, 10).check.isSound).toBe(true);
    const closed = push(ring, 23).check;
    expect(closed.isSound).toBe(false);
    expect(closed.faces.length).toBeGreaterThan(0);
    expect(closed.tooNearMm).toBeGreaterThan(2);
  });
  it('refuses two spheres whose sheets meet across the gap, and accepts them further apart [closed form]', () => {
    const ball = sphere({ radius: 30 }, { edgeMm: 4 });
    const apart = (gap: number): SampleMesh =>
      together([
        { body: ball, shift: [0, 0, 0] },
        { body: ball, shift: [60 + gap, 0, 0] },
      ]);
    expect(push(apart(15), 8).check.isSound).toBe(false);
    expect(push(apart(18), 8).check.isSound).toBe(true);
  });
  it('refuses faces that turn over inside a tube whose radius is below the distance: t·κ > 1 [closed form]', () => {
    const tube = cylinder({ radius: 10, height: 30 }, { edgeMm: 3 });
    const insideOut = { positions: tube.positions, faces: Uint32Array.from(tube.faces).reverse() };
    expect(push(insideOut, 6).check.isSound).toBe(true);
    expect(push(insideOut, 14).check.isSound).toBe(false);
  });
});
