import { describe, expect, it } from 'vitest';
import { plane, sphericalCap, torus } from '../../samples/bodies.ts';
import { sphere } from '../../samples/closed-bodies.ts';
import { quietRun } from '../../src/base/run.ts';
import type { Vec3 } from '../../src/base/arrays.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { collapseShortEdges } from '../../src/mesh/collapse-edges.ts';
import { dropUnused, flipEdges, splitLongEdges } from '../../src/mesh/edit-topology.ts';
import { evenMesh } from '../../src/mesh/even-mesh.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { enclosedVolume, faceCross, surfaceArea } from '../../src/mesh/measure.ts';
import { boundaryLoops, eulerCharacteristic, halfEdgeLength } from '../../src/mesh/navigate.ts';

const meshOf = (sample: Pick<HalfEdgeMesh, 'positions' | 'faces'>): HalfEdgeMesh => buildMesh(sample.positions, sample.faces);
const lengths = (mesh: HalfEdgeMesh): number[] =>
  Array.from({ length: mesh.faces.length }, (_, h) => halfEdgeLength(mesh, h)).sort((a, b) => a - b);
const onSphere =
  (radius: number) =>
  (at: Vec3): Vec3 => {
    const size = Math.hypot(...at) / radius;
    return [at[0] / size, at[1] / size, at[2] / size];
  };

describe('splitLongEdges', () => {
  it('halves a mesh whose edges are all too long: four faces for one, same area, same genus [invariant]', () => {
    const ring = meshOf(torus({ radius: 40, tube: 15 }, { edgeMm: 6, seed: 2 }));
    const split = splitLongEdges(ring, 0.1);
    const mesh = meshOf(split);
    expect(mesh.faces.length).toBe(4 * ring.faces.length);
    expect(surfaceArea(mesh)).toBeCloseTo(surfaceArea(ring), 6);
    expect(eulerCharacteristic(mesh)).toBe(0);
  });
  it('keeps a manifold with the same area for every pattern of long edges [invariant]', () => {
    const ring = meshOf(torus({ radius: 40, tube: 15 }, { edgeMm: 6, seed: 2 }));
    const all = lengths(ring);
    for (const share of [0.2, 0.4, 0.6, 0.8]) {
      const mesh = meshOf(splitLongEdges(ring, all[Math.floor(share * all.length)]));
      expect(eulerCharacteristic(mesh)).toBe(0);
      expect(mesh.twin.every((g) => g !== -1)).toBe(true);
      expect(surfaceArea(mesh)).toBeCloseTo(surfaceArea(ring), 6);
    }
  });
});

describe('collapseShortEdges', () => {
  it('leaves three quarters of the edges long enough, keeps genus and orientation, and the volume within 2 % [invariant]', () => {
    const ball = meshOf(sphere({ radius: 40 }, { edgeMm: 2 }));
    const mesh = meshOf(collapseShortEdges(ball, 4, 7));
    expect(eulerCharacteristic(mesh)).toBe(2);
    expect(mesh.faces.length).toBeLessThan(0.35 * ball.faces.length);
    const all = lengths(mesh);
    // What is left short is held by the longest length.
    expect(all[Math.floor(0.25 * all.length)]).toBeGreaterThan(4);
    expect(all[all.length - 1]).toBeLessThanOrEqual(7.0001);
    expect(Math.abs(enclosedVolume(mesh) / enclosedVolume(ball) - 1)).toBeLessThan(0.02);
    for (let f = 0; f < mesh.faces.length / 3; f++) {
      const normal = faceCross(mesh, f);
      const v = 3 * mesh.faces[3 * f];
      expect(normal[0] * mesh.positions[v] + normal[1] * mesh.positions[v + 1] + normal[2] * mesh.positions[v + 2]).toBeGreaterThan(0);
    }
  });
  it('does not close a tetrahedron up nor pinch a thin tube shut: the link condition [dey1999]', () => {
    const tetrahedron = meshOf({
      positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1),
      faces: Uint32Array.of(0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3),
    });
    expect(collapseShortEdges(tetrahedron, 10, 100).faces.length).toBe(12);
    const thin = meshOf(collapseShortEdges(meshOf(torus({ radius: 40, tube: 1.5 }, { edgeMm: 2 })), 4, 40));
    expect(eulerCharacteristic(thin)).toBe(0);
  });
  it('keeps the outline of an open sheet: border vertices stay on the border [invariant]', () => {
    const sheet = meshOf(plane({ width: 60, height: 40 }, { edgeMm: 2, seed: 5 }));
    const mesh = meshOf(collapseShortEdges(sheet, 3, 8));
    expect(mesh.faces.length).toBeLessThan(sheet.faces.length);
    for (let v = 0; v < mesh.positions.length; v += 3) expect(mesh.positions[v + 2]).toBe(0);
    for (const h of boundaryLoops(mesh)[0]) {
      const [x, y] = [mesh.positions[3 * mesh.faces[h]], mesh.positions[3 * mesh.faces[h] + 1]];
      // Corners may be cut by one collapse each; edges of the sheet are kept.
      expect(Math.min(x, y, 60 - x, 40 - y)).toBeLessThan(2.5);
    }
  });
});

describe('flipEdges', () => {
  it('makes every edge of a flat sheet Delaunay: opposite angles sum to at most π [definition]', () => {
    const sheet = meshOf(plane({ width: 60, height: 60 }, { edgeMm: 3, seed: 9 }));
    const mesh = flipEdges(sheet, 'delaunay', 50);
    expect(surfaceArea(mesh)).toBeCloseTo(surfaceArea(sheet), 9);
    const angle = (h: number): number => {
      const at = (g: number): readonly number[] => [0, 1, 2].map((k) => mesh.positions[3 * mesh.faces[g] + k]);
      const [o, a, b] = [at(h), at(h % 3 === 2 ? h - 2 : h + 1), at(h % 3 === 0 ? h + 2 : h - 1)];
      const [u, w] = [a.map((x, k) => x - o[k]), b.map((x, k) => x - o[k])];
      return Math.acos(u.reduce((s, x, k) => s + x * w[k], 0) / Math.hypot(...u) / Math.hypot(...w));
    };
    const opposite = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);
    for (let h = 0; h < mesh.faces.length; h++)
      if (mesh.twin[h] > h) expect(angle(opposite(h)) + angle(opposite(mesh.twin[h]))).toBeLessThan(Math.PI + 1e-6);
  });
  it('brings valences nearer to six [invariant]', () => {
    const ball = meshOf(sphericalCap({ radius: 50, angle: 1.2 }, { edgeMm: 4, seed: 4 }));
    const spread = (mesh: HalfEdgeMesh): number => {
      const valence = new Int32Array(mesh.positions.length / 3);
      for (let h = 0; h < mesh.faces.length; h++) valence[mesh.faces[h]]++;
      return valence.reduce((sum, count) => sum + (count - 6) ** 2, 0);
    };
    const mesh = flipEdges(ball, 'valence', 10);
    expect(spread(mesh)).toBeLessThan(spread(ball));
    expect(eulerCharacteristic(mesh)).toBe(1);
  });
});

describe('dropUnused', () => {
  it('renumbers what is used, in order [closed form]', () => {
    const { positions, faces } = dropUnused(Float64Array.of(9, 9, 9, 1, 0, 0, 8, 8, 8, 0, 1, 0, 0, 0, 1), Uint32Array.of(4, 1, 3));
    expect(Array.from(positions)).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    expect(Array.from(faces)).toEqual([2, 0, 1]);
  });
});

describe('evenMesh', () => {
  it.each([2.5, 5, 8])('gives a sphere edges of about %d mm, exactly on the sphere, no thin face [botsch-kobbelt2004]', async (edgeMm) => {
    const ball = meshOf(sphere({ radius: 40 }, { edgeMm: 5 }));
    const mesh = await evenMesh(ball, { edgeMm, passes: 5, border: 'fixed', project: onSphere(40) }, quietRun);
    const all = lengths(mesh);
    expect(all[Math.floor(0.03 * all.length)]).toBeGreaterThan(0.6 * edgeMm);
    expect(all[Math.floor(0.97 * all.length)]).toBeLessThan(1.5 * edgeMm);
    expect(eulerCharacteristic(mesh)).toBe(2);
    for (let v = 0; v < mesh.positions.length; v += 3)
      expect(Math.hypot(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2])).toBeCloseTo(40, 9);
    for (let f = 0; f < mesh.faces.length / 3; f++) expect(Math.hypot(...faceCross(mesh, f)) / (edgeMm * edgeMm)).toBeGreaterThan(0.1);
  });
  it('keeps the border of a flat sheet where it was [invariant]', async () => {
    const sheet = meshOf(plane({ width: 60, height: 40 }, { edgeMm: 4 }));
    const mesh = await evenMesh(sheet, { edgeMm: 4, passes: 3, border: 'fixed' }, quietRun);
    expect(surfaceArea(mesh)).toBeCloseTo(2400, 6);
  });
});
