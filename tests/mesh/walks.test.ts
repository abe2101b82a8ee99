/*
 * build.ts, navigate.ts, measure.ts, components.ts, submesh.ts and spatial.ts.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { faceComponents } from '../../src/mesh/components.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { bounds, enclosedVolume, faceNormals, surfaceArea, vertexNormals } from '../../src/mesh/measure.ts';
import { boundaryLoops, eulerCharacteristic, halfEdgeLength, isBoundaryVertex, outgoing } from '../../src/mesh/navigate.ts';
import { barycentric, createSpatialIndex, placeOf } from '../../src/mesh/spatial.ts';
import { submesh } from '../../src/mesh/submesh.ts';
import type { Shape } from '../support/shapes.ts';
import { box, cylinder, grid, sphere, together } from '../support/shapes.ts';

const meshOf = (shape: Shape): HalfEdgeMesh => buildMesh(shape.positions, shape.faces);
const ball = meshOf(sphere(100, 4));

describe('buildMesh', () => {
  it('pairs every half-edge of a closed surface with one that runs back [invariant]', () => {
    for (let h = 0; h < ball.faces.length; h++) {
      const g = ball.twin[h];
      expect(ball.twin[g]).toBe(h);
      expect(ball.faces[g]).toBe(ball.faces[h % 3 === 2 ? h - 2 : h + 1]);
    }
  });

  it('refuses what is no oriented manifold, each by its name [repro]', () => {
    const positions = new Float64Array(15);
    const code = (...faces: number[]): unknown => {
      try {
        buildMesh(positions, Uint32Array.from(faces));
      } catch (cause) {
        return (cause as { code?: string }).code;
      }
      return 'built';
    };
    expect(code(0, 1, 2, 1, 0, 3)).toBe('built');
    expect(code(0, 1, 2, 0, 1, 3)).toBe('mesh/not-oriented');
    expect(code(0, 1, 2, 1, 0, 3, 1, 0, 4)).toMatch(/mesh\/not-(manifold|oriented)/);
    expect(code(0, 1, 9)).toBe('mesh/bad-index');
    expect(code(0, 1, 1)).toBe('mesh/repeated-corner');
  });
});

describe('navigate', () => {
  it('counts V − E + F: ball 2, tube 0, disc 1 [closed form]', () => {
    expect(eulerCharacteristic(ball)).toBe(2);
    expect(eulerCharacteristic(meshOf(cylinder(50, 100, 20, 4, false)))).toBe(0);
    expect(eulerCharacteristic(meshOf(grid(10, 10, 3, 3)))).toBe(1);
  });

  it('walks each open border once, the longest first [closed form: 2·(w + h)]', () => {
    const sheet = meshOf(grid(30, 20, 6, 4));
    const [loop, ...rest] = boundaryLoops(sheet);
    expect(rest).toEqual([]);
    expect(loop.reduce((sum, h) => sum + halfEdgeLength(sheet, h), 0)).toBeCloseTo(100, 12);
    const tube = meshOf(cylinder(50, 100, 20, 4, false));
    expect(boundaryLoops(tube).map((border) => border.length)).toEqual([20, 20]);
  });

  it('finds all faces around a vertex, starting at the border where there is one [second route: counting corners]', () => {
    const sheet = meshOf(grid(30, 20, 6, 4));
    for (const mesh of [sheet, ball]) {
      const corners = new Uint32Array(mesh.positions.length / 3);
      for (let h = 0; h < mesh.faces.length; h++) corners[mesh.faces[h]]++;
      corners.forEach((count, v) => {
        const around = outgoing(mesh, v);
        expect(around.length).toBe(count);
        expect(around.every((h) => mesh.faces[h] === v)).toBe(true);
        expect(isBoundaryVertex(mesh, v)).toBe(mesh.twin[around[0]] === -1);
      });
    }
  });
});

describe('measure', () => {
  it('measures a box: volume, area, normals, bounds [closed form]', () => {
    const brick = meshOf(box([1, 2, 3], [3, 5, 7]));
    expect(enclosedVolume(brick)).toBeCloseTo(24, 12);
    expect(surfaceArea(brick)).toBeCloseTo(52, 12);
    expect(bounds(brick)).toEqual({ min: [1, 2, 3], max: [3, 5, 7] });
    const normals = faceNormals(brick);
    for (let f = 0; f < 12; f++) expect(Math.max(...normals.slice(3 * f, 3 * f + 3).map(Math.abs))).toBeCloseTo(1, 12);
  });

  it('gives vertex normals along the radius of a sphere, outward [closed form]', () => {
    const normals = vertexNormals(ball);
    for (let v = 0; v < normals.length; v += 3) {
      const along = [0, 1, 2].reduce((sum, k) => sum + (normals[v + k] * ball.positions[v + k]) / 100, 0);
      expect(along).toBeGreaterThan(0.999);
    }
  });
});

describe('faceComponents and submesh', () => {
  it('numbers parts by their lowest face, and takes one out with the way back [closed form]', () => {
    const two = meshOf(together(box([0, 0, 0], [1, 1, 1]), box([5, 0, 0], [6, 1, 1])));
    const { labels, count } = faceComponents(two);
    expect([count, labels[0], labels[12]]).toEqual([2, 0, 1]);
    const part = submesh(two, (f) => labels[f] === 1);
    expect([...part.faceOf]).toEqual(Array.from({ length: 12 }, (_, i) => 12 + i));
    expect([...part.vertexOf]).toEqual(Array.from({ length: 8 }, (_, i) => 8 + i));
    expect(enclosedVolume(part.mesh)).toBeCloseTo(1, 12);
  });
});

describe('createSpatialIndex', () => {
  const index = createSpatialIndex(ball);
  const random = createRandom(6);
  const somewhere = (): Vec3 => [300 * random() - 150, 300 * random() - 150, 300 * random() - 150];

  it('finds the nearest point that a search over samples of all faces finds [second route]', () => {
    const small = meshOf(sphere(100, 1));
    const tree = createSpatialIndex(small);
    for (let i = 0; i < 60; i++) {
      const point = somewhere();
      let least = Infinity;
      for (let f = 0; f < small.faces.length / 3; f++)
        for (let a = 0; a <= 40; a++)
          for (let b = 0; a + b <= 40; b++) {
            const at = placeOf(small, { face: f, weights: [1 - (a + b) / 40, a / 40, b / 40] });
            least = Math.min(least, Math.hypot(...at.map((x, k) => x - point[k])));
          }
      const hit = tree.nearest(point);
      expect(hit?.distance).toBeLessThanOrEqual(least + 1e-9);
      // Samples lie 1.4 mm apart.
      expect(hit?.distance).toBeGreaterThan(least - 0.8);
    }
  });

  it('gives weights that lead back to the place, and nothing beyond the reach [invariant]', () => {
    for (let i = 0; i < 100; i++) {
      const point = somewhere();
      const hit = index.nearest(point);
      if (hit === undefined) throw new Error('no hit');
      expect(Math.hypot(...placeOf(ball, hit).map((x, k) => x - hit.at[k]))).toBeLessThan(1e-9);
      expect(index.nearest(point, hit.distance / 2)).toBeUndefined();
      expect(barycentric(ball, hit.face, hit.at).reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
    }
  });

  it('meets a sphere where a ray from outside enters and from inside leaves [closed form within the facets]', () => {
    for (let i = 0; i < 40; i++) {
      const point = somewhere();
      const length = Math.hypot(...point);
      const direction: Vec3 = [point[0] / length, point[1] / length, point[2] / length];
      expect(Math.abs((index.firstHit([0, 0, 0], direction)?.distance ?? 0) - 100)).toBeLessThan(0.6);
      const outside: Vec3 = [300 * direction[0], 300 * direction[1], 300 * direction[2]];
      const back: Vec3 = [-direction[0], -direction[1], -direction[2]];
      expect(Math.abs((index.firstHit(outside, back)?.distance ?? 0) - 200)).toBeLessThan(0.6);
      expect(index.firstHit(outside, direction)).toBeUndefined();
    }
  });

  it('lists the faces within a ball, ascending [second route: corner and nearest point]', () => {
    const found = index.facesWithin([100, 0, 0], 25);
    expect([...found].sort((a, b) => a - b)).toEqual(found);
    for (let f = 0; f < ball.faces.length / 3; f++) {
      const corners = [0, 1, 2].map((i) =>
        Math.hypot(...[0, 1, 2].map((k) => ball.positions[3 * ball.faces[3 * f + i] + k] - (k === 0 ? 100 : 0))),
      );
      if (Math.min(...corners) <= 25) expect(found.includes(f)).toBe(true);
      else if (Math.min(...corners) > 40) expect(found.includes(f)).toBe(false);
    }
  });
});
