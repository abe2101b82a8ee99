import { describe, expect, it } from 'vitest';
import { torus } from '../../samples/bodies.ts';
import { sphere } from '../../samples/closed-bodies.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { tapeAround } from '../../src/standoff/tape.ts';

describe('tapeAround', () => {
  it('is 2π·√(R² − z²) around a sphere at height z [closed form]', () => {
    const ball = sphere({ radius: 50 }, { edgeMm: 3 });
    const mesh = buildMesh(ball.positions, ball.faces);
    for (const z of [0, 10, 31])
      expect((tapeAround(mesh, { point: [50, 0, z], normal: [0, 0, 1] }) ?? NaN) / (2 * Math.PI * Math.sqrt(2500 - z * z))).toBeCloseTo(
        1,
        2,
      );
  });
  it('takes the section line nearest to the point: one of the two circles of a torus cut across [closed form]', () => {
    const ring = torus({ radius: 50, tube: 15 }, { edgeMm: 3 });
    const mesh = buildMesh(ring.positions, ring.faces);
    expect((tapeAround(mesh, { point: [50, 0, 15], normal: [0, 1, 0] }) ?? NaN) / (2 * Math.PI * 15)).toBeCloseTo(1, 1);
    expect(tapeAround(mesh, { point: [0, 0, 100], normal: [0, 0, 1] })).toBeUndefined();
  });
});
