import { describe, expect, it } from 'vitest';
import { box, torus } from '../../samples/bodies.ts';
import { capsule } from '../../samples/closed-bodies.ts';
import { createRandom } from '../../src/base/random.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import { createNearestFace } from '../../src/standoff/nearest-face.ts';
import { toTorus } from '../support/standoff-bodies.ts';

describe('createNearestFace', () => {
  const random = createRandom(8);
  const points = Array.from({ length: 800 }, () => [0, 1, 2].map(() => 160 * (random() - 0.5)) as [number, number, number]);

  it('finds the same distance as the general-purpose tree, and a foot at that distance [second route]', () => {
    const sample = torus({ radius: 50, tube: 18 }, { edgeMm: 5, seed: 3 });
    const mesh = buildMesh(sample.positions, sample.faces);
    const [own, general] = [createNearestFace(mesh), createSpatialIndex(mesh)];
    for (const point of points) {
      const foot = own.foot(...point);
      expect(Math.abs(foot?.distance ?? NaN)).toBeCloseTo(general.nearest(point)?.distance ?? -1, 9);
      const at = [0, 1, 2].map((k) =>
        [0, 1, 2].reduce((sum, i) => sum + (foot?.weights[i] ?? NaN) * mesh.positions[3 * mesh.faces[3 * (foot?.face ?? 0) + i] + k], 0),
      );
      expect(Math.hypot(...at.map((x, k) => x - point[k]))).toBeCloseTo(Math.abs(foot?.distance ?? NaN), 9);
    }
  });
  it('is negative inside and positive outside, also where the foot is a vertex or an edge [closed form]', () => {
    const cube = box({ x: 40, y: 40, z: 40 });
    const nearest = createNearestFace(buildMesh(cube.positions, cube.faces));
    for (const point of points) {
      const isInside = point.every((x) => x > 0 && x < 40);
      expect(Math.sign(nearest.foot(...point)?.distance ?? 0)).toBe(isInside ? -1 : 1);
    }
    const ring = torus({ radius: 50, tube: 18 }, { edgeMm: 3 });
    const toRing = createNearestFace(buildMesh(ring.positions, ring.faces));
    for (const point of points) {
      const exact = toTorus(50, 18)(point);
      if (Math.abs(exact) > 0.3) expect(Math.sign(toRing.foot(...point)?.distance ?? 0)).toBe(Math.sign(exact));
    }
  });
  it('says whether the foot lies on an open border, and finds nothing beyond its reach [invariant]', () => {
    const sample = capsule({ radius: 20, length: 0 }, { edgeMm: 4 });
    const half = Uint32Array.from(sample.faces).filter((_, h) =>
      [0, 1, 2].every((i) => sample.positions[3 * sample.faces[h - (h % 3) + i] + 2] > -1e-9),
    );
    const nearest = createNearestFace(buildMesh(sample.positions, half));
    expect(nearest.foot(40, 0, -5)?.onBorder).toBe(true);
    expect(nearest.foot(10, 3, 40)?.onBorder).toBe(false);
    expect(nearest.foot(0, 0, 30, 9.9)).toBeUndefined();
    expect(nearest.foot(0, 0, 30, 10.1)?.distance).toBeCloseTo(10, 9);
  });
});
