import { describe, expect, it } from 'vitest';
import { box } from '../../samples/bodies.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { angleNormals, cornerAngle } from '../../src/standoff/angle-normals.ts';

describe('angleNormals', () => {
  const cube = box({ x: 20, y: 30, z: 40 });
  const mesh = buildMesh(cube.positions, cube.faces);
  it('points along the diagonal at every corner of a box, however its squares are cut [baerentzen2005]', () => {
    const normals = angleNormals(mesh);
    for (let i = 0; i < normals.length; i++) expect(normals[i]).toBeCloseTo((mesh.positions[i] > 0 ? 1 : -1) / Math.sqrt(3), 12);
  });
  it('has corner angles that sum to π in every face [closed form]', () => {
    for (let h = 0; h < mesh.faces.length; h += 3)
      expect(cornerAngle(mesh, h) + cornerAngle(mesh, h + 1) + cornerAngle(mesh, h + 2)).toBeCloseTo(Math.PI, 12);
  });
});
