import { describe, expect, it } from 'vitest';
import { cutByPlane, planeOfPoints } from '../../src/body/plane-cut.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { boundaryLoops, halfEdgeLength } from '../../src/mesh/navigate.ts';
import { cylinder, grid, moved, sphere, together } from '../support/shapes.ts';

const ball = sphere(100, 5);

describe('cutByPlane', () => {
  it('leaves a border exactly in the plane and splits the area between kept and removed [closed form: zone 2πrh]', () => {
    const { triangles, removedMm2, largestMm } = cutByPlane(ball, { point: [0, 0, 30], normal: [0, 0, 2] }, 'all');
    const mesh = buildMesh(triangles.positions, triangles.faces);
    const loops = boundaryLoops(mesh);
    expect(loops.length).toBe(1);
    for (const h of loops[0]) expect(triangles.positions[3 * mesh.faces[h] + 2]).toBeCloseTo(30, 9);
    for (let i = 2; i < triangles.positions.length; i += 3) expect(triangles.positions[i]).toBeLessThan(30 + 1e-9);
    expect(Math.abs(removedMm2 / (2 * Math.PI * 100 * 70) - 1)).toBeLessThan(0.005);
    expect(Math.abs((surfaceArea(triangles) + removedMm2) / surfaceArea(ball) - 1)).toBeLessThan(0.001);
    expect(largestMm).toBeLessThan(0.5);
  });

  it('makes no slivers: no border edge is shorter than a twentieth of an edge [invariant]', () => {
    for (const z of [-71.3, 0, 12.34, 55.5]) {
      const { triangles } = cutByPlane(ball, { point: [0, 0, z], normal: [0.2, 0.1, 1] }, 'all');
      const mesh = buildMesh(triangles.positions, triangles.faces);
      let shortest = Infinity;
      for (let h = 0; h < mesh.faces.length; h++) shortest = Math.min(shortest, halfEdgeLength(mesh, h));
      expect(shortest).toBeGreaterThan(3.5 / 20);
    }
  });

  it('takes only the part whose cut is nearest where asked [closed form: one of two arms]', () => {
    const bar = moved(cylinder(40, 400, 60, 80, true), (x, y, z) => [x, y - 200, z]);
    const two = together(
      bar,
      moved(bar, (x, y, z) => [x + 150, y, z]),
    );
    const cut = cutByPlane(two, { point: [150, 100, 0], normal: [0, 1, 0] }, 'part');
    const tops = [0, 150].map((x) => {
      let top = -Infinity;
      for (let v = 0; v < cut.triangles.positions.length; v += 3)
        if (Math.abs(cut.triangles.positions[v] - x) < 45) top = Math.max(top, cut.triangles.positions[v + 1]);
      return top;
    });
    expect(tops[0]).toBeCloseTo(200, 9);
    expect(tops[1]).toBeCloseTo(100, 9);
    // The untouched part kept its faces.
    expect(cut.triangles.faces.length).toBeGreaterThan(bar.faces.length * 1.6);
  });

  it('leaves a mesh on one side alone, and removes one on the other [identity]', () => {
    const sheet = grid(10, 10, 4, 4);
    expect(cutByPlane(sheet, { point: [0, 0, 5], normal: [0, 0, 1] }, 'all').triangles.faces.length).toBe(sheet.faces.length);
    expect(cutByPlane(sheet, { point: [0, 0, -5], normal: [0, 0, 1] }, 'all').triangles.faces.length).toBe(0);
  });
});

describe('planeOfPoints', () => {
  it('is the plane of three points, by the right hand [closed form]', () => {
    const plane = planeOfPoints([0, 2, 0], [1, 2, 0], [0, 2, -1]);
    expect(plane?.point).toEqual([0, 2, 0]);
    expect(plane?.normal.map((x) => x + 0)).toEqual([0, 1, 0]);
    expect(planeOfPoints([0, 0, 0], [1, 1, 1], [2, 2, 2])).toBeUndefined();
  });
});
