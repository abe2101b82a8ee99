import { describe, expect, it } from 'vitest';
import { cutByPlane } from '../../src/draft/section.ts';
import { goreHemisphere, gridPatch } from '../support/patches.ts';
import { buildMesh } from '../../src/mesh/build.ts';

describe('cutByPlane', () => {
  it('cuts a sheet in one straight line from border to border [closed form]', () => {
    const { patch } = gridPatch({
      id: 'p.1.C',
      columns: 7,
      rows: 5,
      space: (u, v) => [70 * u, 50 * v, 0],
      plane: (u, v) => [70 * u, 50 * v],
    });
    const sections = cutByPlane(patch.mesh, [33, 0, 0], [1, 0, 0]);
    expect(sections.length).toBe(1);
    const ys = [...sections[0]].filter((_, i) => i % 3 === 1);
    expect([Math.min(...ys), Math.max(...ys)]).toEqual([0, 50]);
    for (let i = 0; i < sections[0].length; i += 3) expect(sections[0][i]).toBeCloseTo(33, 12);
    const steps = ys.slice(1).map((y, i) => Math.sign(y - ys[i]));
    expect(new Set(steps).size).toBe(1);
  });

  it('goes through vertices in its plane without a break [closed form: heights of nought count as above]', () => {
    const { patch } = gridPatch({
      id: 'p.1.C',
      columns: 7,
      rows: 5,
      space: (u, v) => [70 * u, 50 * v, 0],
      plane: (u, v) => [70 * u, 50 * v],
    });
    const sections = cutByPlane(patch.mesh, [30, 0, 0], [1, 0, 0]);
    expect(sections.length).toBe(1);
    const ys = [...sections[0]].filter((_, i) => i % 3 === 1);
    expect(Math.max(...ys) - Math.min(...ys)).toBe(50);
  });

  it('closes around a closed body [closed form: octahedron cut at half height is a square of side √2/2·R]', () => {
    const octahedron = buildMesh(
      Float64Array.of(100, 0, 0, 0, 100, 0, -100, 0, 0, 0, -100, 0, 0, 0, 100, 0, 0, -100),
      Uint32Array.of(0, 1, 4, 1, 2, 4, 2, 3, 4, 3, 0, 4, 1, 0, 5, 2, 1, 5, 3, 2, 5, 0, 3, 5),
    );
    const [section, ...others] = cutByPlane(octahedron, [0, 0, 50], [0, 0, 1]);
    expect(others).toEqual([]);
    expect([...section].slice(0, 3)).toEqual([...section].slice(-3));
    let length = 0;
    for (let i = 3; i < section.length; i += 3) length += Math.hypot(section[i] - section[i - 3], section[i + 1] - section[i - 2]);
    expect(length).toBeCloseTo(4 * 50 * Math.SQRT2, 9);
  });

  it('finds every piece, the longest first, and none where the plane misses [invariant]', () => {
    const { patches } = goreHemisphere(4, 100, 'domed');
    expect(cutByPlane(patches[0].mesh, [0, 50, 0], [0, 1, 0]).length).toBe(1);
    expect(cutByPlane(patches[0].mesh, [0, 150, 0], [0, 1, 0])).toEqual([]);
  });
});
