import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { compactTriangles } from '../../src/body/triangles.ts';
import { weldEqual, weldWithin } from '../../src/body/weld.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { eulerCharacteristic } from '../../src/mesh/navigate.ts';
import { loosened, sphere } from '../support/shapes.ts';

const ball = sphere(100, 3);

describe('weldEqual', () => {
  it('gives a loosened sphere its 642 vertices back, closed again [closed form: V = 2 + F/2]', () => {
    const welded = weldEqual(loosened(ball));
    expect(welded.merged).toBe(3 * 1280 - 642);
    expect(welded.largestMm).toBe(0);
    const compact = compactTriangles(welded.triangles);
    expect(compact.positions.length / 3).toBe(642);
    expect(eulerCharacteristic(buildMesh(compact.positions, compact.faces))).toBe(2);
  });

  it('takes 0 and −0 as one place, and nothing else that differs [closed form]', () => {
    const next = 1 + 2 ** -52;
    const positions = Float64Array.from([0, 1, 0, -0, 1, -0, 0, next, 0]);
    const welded = weldEqual({ positions, faces: Uint32Array.from([0, 1, 2]) });
    expect([...welded.triangles.faces]).toEqual([0, 0, 2]);
  });

  it('returns the very same triangles where nothing coincides [identity]', () => {
    expect(weldEqual(ball).triangles).toBe(ball);
  });
});

describe('weldWithin', () => {
  it('closes a sphere whose loose corners were moved by up to 0.1 mm, moving none further than asked [invariant]', () => {
    const loose = loosened(ball);
    const random = createRandom(5);
    const positions = loose.positions.map((x) => x + 0.1 * (random() - 0.5));
    const welded = weldWithin({ ...loose, positions }, 0.2);
    expect(welded.largestMm).toBeLessThanOrEqual(0.2);
    const compact = compactTriangles(welded.triangles);
    expect(eulerCharacteristic(buildMesh(compact.positions, compact.faces))).toBe(2);
  });

  it('finds every pair in reach, whichever cell it lies in [second route: all pairs]', () => {
    const random = createRandom(8);
    const positions = Float64Array.from({ length: 900 }, () => 10 * random() - 5);
    const faces = Uint32Array.from({ length: 300 }, (_, v) => v);
    const welded = weldWithin({ positions, faces }, 0.6).triangles.faces;
    const kept: number[] = [];
    for (let v = 0; v < 300; v++) {
      const distance = (u: number): number => Math.hypot(...[0, 1, 2].map((k) => positions[3 * u + k] - positions[3 * v + k]));
      const expected = kept.find((u) => distance(u) <= 0.6) ?? v;
      if (expected === v) kept.push(v);
      expect(welded[v]).toBe(expected);
    }
    expect(kept.length).toBeLessThan(300);
  });
});

describe('compactTriangles', () => {
  it('drops unused vertices and marked faces and keeps the order of the rest [closed form]', () => {
    const positions = Float64Array.from([9, 9, 9, 0, 0, 0, 1, 0, 0, 0, 1, 0, 5, 5, 5]);
    const compact = compactTriangles({ positions, faces: Uint32Array.from([1, 2, 3, 2, 3, 4]) }, Uint8Array.from([0, 1]));
    expect([...compact.faces]).toEqual([0, 1, 2]);
    expect([...compact.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
  });
});
