import { describe, expect, it } from 'vitest';
import { bestRatio } from '../../src/flatten/best-possible.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { coneMesh, lift, planeDisc, range } from '../support/flat-shapes.ts';

describe('bestRatio', () => {
  it('of a cone with too much angle is √(angle/2π), by area [closed form]', () => {
    // Ten flat sectors folded up and down: more than a full turn of surface about the tip, none elsewhere.
    const rows = 8;
    const ring = range(10).map((i) => {
      const height = i % 2 === 0 ? 0.75 : -0.75;
      const radius = Math.sqrt(1 - height * height);
      return [radius * Math.cos((i * Math.PI) / 5), radius * Math.sin((i * Math.PI) / 5), height];
    });
    const positions = [0, 0, 0, ...range(rows).flatMap((r) => ring.flatMap((point) => point.map((x) => (x * (r + 1)) / rows)))];
    const at = (r: number, i: number): number => 1 + 10 * r + (i % 10);
    const faces = range(10).flatMap((i) => [
      ...[0, at(0, i), at(0, i + 1)],
      ...range(rows - 1).flatMap((r) => [at(r, i), at(r + 1, i), at(r + 1, i + 1), at(r, i), at(r + 1, i + 1), at(r, i + 1)]),
    ]);
    const edge = Math.hypot(...ring[0].map((x, k) => x - ring[1][k]));
    const angle = 20 * Math.asin(edge / 2);
    expect(angle).toBeGreaterThan(2 * Math.PI + 1);
    expect(bestRatio(buildMesh(Float64Array.from(positions), Uint32Array.from(faces)))).toBeCloseTo(Math.sqrt(angle / (2 * Math.PI)), 9);
  });

  it('is 1 where the surface is developable, slit cones and bent sheets too [closed form]', () => {
    expect(bestRatio(coneMesh(60, 0, 80, 40, 4))).toBeCloseTo(1, 9);
    expect(bestRatio(lift(planeDisc(200), (x, y) => [x, y, 0]))).toBeCloseTo(1, 9);
  });
});
