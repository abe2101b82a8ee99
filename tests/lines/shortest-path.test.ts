/*
 * Straight lines over polyhedra against their closed forms, and against exact distance by windows.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import { shortestPath } from '../../src/lines/shortest-path.ts';
import { spreadDistance } from '../../src/lines/distance-windows.ts';
import { cornerAngle } from '../../src/lines/straighten.ts';
import { commonFace, nodeOf, pathOf } from '../../src/lines/surface-path.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { outgoing } from '../../src/mesh/navigate.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import type { SurfacePoint } from '../../src/mesh/surface-point.ts';
import { box, torus } from '../../samples/bodies.ts';
import { coneMesh } from '../support/flat-shapes.ts';
import { atVertex, meshOf, randomPoint, sphereMesh } from '../support/marked-bodies.ts';

function landed(mesh: HalfEdgeMesh, at: Vec3): SurfacePoint {
  const hit = createSpatialIndex(mesh).nearest(at);
  if (!hit) throw new RangeError('no surface');
  return { face: hit.face, weights: hit.weights };
}

/** A box from the origin, two faces a side. */
function plainBox(x: number, y: number, z: number): HalfEdgeMesh {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) => [k & 1 ? x : 0, k & 2 ? y : 0, k & 4 ? z : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [1, 3, 7, 5],
    [3, 2, 6, 7],
    [2, 0, 4, 6],
  ];
  return buildMesh(Float64Array.from(corners), Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])));
}

describe('shortestPath on polyhedra', () => {
  it('joins opposite corners of a unit cube over √5 [closed form]', () => {
    const cube = plainBox(1, 1, 1);
    for (const [a, b] of [
      [0, 7],
      [1, 6],
      [2, 5],
      [3, 4],
    ])
      expect(shortestPath(cube, atVertex(cube, a), atVertex(cube, b)).length).toBeCloseTo(Math.sqrt(5), 12);
  });
  it('gives the spider its 40 feet to the fly in a 30 × 12 × 12 room, by the best of the strips over either wall [Dudeney]', () => {
    const room = plainBox(30, 12, 12);
    const exact = spreadDistance(room, [pathOf(room, [nodeOf(room, landed(room, [0, 6, 11]))], false)], 100);
    expect(exact.at(landed(room, [30, 6, 1]))).toBeCloseTo(40, 9);
    const path = shortestPath(room, landed(room, [0, 6, 11]), landed(room, [30, 6, 1]));
    // Locally shortest: one of the straight ways, of 40, 42 and the like; never below the shortest.
    expect(path.length).toBeGreaterThan(40 - 1e-9);
    expect(path.length).toBeLessThan(42 + 1e-9);
  });
  it('runs across a prism as across its flat development, √(width² + height²), to 1e-9 [closed form]', () => {
    const [radius, height, segments, rings] = [50, 100, 40, 7];
    const step = Math.PI / segments;
    const positions: number[] = [];
    for (let i = 0; i <= segments; i++)
      for (let k = 0; k <= rings; k++) positions.push(radius * Math.cos(step * i), (height * k) / rings, radius * Math.sin(step * i));
    const at = (i: number, k: number): number => i * (rings + 1) + k;
    const faces: number[] = [];
    for (let i = 0; i < segments; i++)
      for (let k = 0; k < rings; k++) faces.push(at(i, k), at(i, k + 1), at(i + 1, k), at(i + 1, k), at(i, k + 1), at(i + 1, k + 1));
    const mesh = buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
    for (const [from, to] of [
      [at(0, 0), at(segments, rings)],
      [at(3, 6), at(31, 1)],
      [at(10, 2), at(11, 7)],
    ]) {
      const strips = Math.abs(Math.floor(to / (rings + 1)) - Math.floor(from / (rings + 1)));
      const width = strips * 2 * radius * Math.sin(step / 2);
      const rise = (height * Math.abs((to % (rings + 1)) - (from % (rings + 1)))) / rings;
      const path = shortestPath(mesh, atVertex(mesh, from), atVertex(mesh, to));
      expect(Math.abs(path.length / Math.hypot(width, rise) - 1)).toBeLessThan(1e-9);
    }
  });
  it('comes to 107.03144 between s 100 and 80 on a cone with sin γ 0.6, 120° apart, within O(h²) of the polygon [closed form]', () => {
    // Unrolled angle 120°·0.6 = 72°: √(100² + 80² − 2·100·80·cos 72°).
    const exact = Math.sqrt(100 * 100 + 80 * 80 - 2 * 100 * 80 * Math.cos((2 * Math.PI * 0.6) / 3));
    expect(exact).toBeCloseTo(107.03144, 5);
    const errors = [60, 120].map((segments) => {
      const mesh = coneMesh(66, 12, 72, segments, 10, 2);
      const axis = [0, 1, 2].find((k) => {
        let [low, high] = [Infinity, -Infinity];
        for (let i = k; i < mesh.positions.length; i += 3)
          [low, high] = [Math.min(low, mesh.positions[i]), Math.max(high, mesh.positions[i])];
        return Math.abs(high - low - 72) < 1e-9;
      });
      if (axis === undefined) throw new RangeError('no axis');
      const around = [0, 1, 2].filter((k) => k !== axis);
      let [low, lowRadius] = [Infinity, 0];
      for (let v = 0; v < mesh.positions.length / 3; v++)
        if (mesh.positions[3 * v + axis] < low) {
          low = mesh.positions[3 * v + axis];
          lowRadius = Math.hypot(mesh.positions[3 * v + around[0]], mesh.positions[3 * v + around[1]]);
        }
      const isWideLow = lowRadius > 40;
      // Slant s has radius 0.6 s and lies 0.8 (110 − s) from the wide end.
      const at = (s: number, angle: number): Vec3 => {
        const place: [number, number, number] = [0, 0, 0];
        place[axis] = isWideLow ? low + 0.8 * (110 - s) : low + 72 - 0.8 * (110 - s);
        place[around[0]] = 0.6 * s * Math.cos(angle);
        place[around[1]] = 0.6 * s * Math.sin(angle);
        return place;
      };
      const path = shortestPath(mesh, landed(mesh, at(100, 2)), landed(mesh, at(80, 2 + (2 * Math.PI) / 3)));
      return Math.abs(path.length - exact);
    });
    expect(errors[0]).toBeLessThan(0.15);
    expect(errors[1]).toBeLessThan(errors[0] / 2.5);
  });
  it('tends to R·θ on spheres [closed form]', () => {
    for (const edge of [10, 5]) {
      const mesh = sphereMesh(100, edge, 3);
      const path = shortestPath(mesh, landed(mesh, [100, 0, 0]), landed(mesh, [-20, 90, 35]));
      const theta = Math.acos(-20 / Math.hypot(20, 90, 35));
      expect(Math.abs(path.length / (100 * theta) - 1)).toBeLessThan((edge * edge) / 20000);
    }
  });
});

/** The last figure: how much longer than the shortest a locally shortest way may be here. A box of twelve faces offers few strips to choose from. */
const bodies: readonly (readonly [string, HalfEdgeMesh, number])[] = [
  ['box', meshOf(box({ x: 100, y: 60, z: 40 })), 1.5],
  ['sphere', sphereMesh(50, 14, 3), 1.12],
  ['torus', meshOf(torus({ radius: 60, tube: 25 }, { edgeMm: 16 })), 1.12],
];

describe('shortestPath on any body', () => {
  for (const [name, mesh, most] of bodies) {
    it(`${name}: is never shorter than the exact distance nor longer than ${most} of it [mitchell1987]`, () => {
      const random = createRandom(11);
      for (let k = 0; k < 5; k++) {
        const source = randomPoint(mesh, random);
        const field = spreadDistance(mesh, [pathOf(mesh, [nodeOf(mesh, source)], false)], 1e6);
        for (let i = 0; i < 12; i++) {
          const target = randomPoint(mesh, random);
          const path = shortestPath(mesh, source, target);
          const exact = field.at(target);
          expect(path.length).toBeGreaterThan(exact * (1 - 1e-9) - 1e-9);
          expect(path.length).toBeLessThan(exact * most + 1e-6);
        }
      }
    });
    it(`${name}: leaves π or more on both sides of every vertex that it bends at [invariant]`, () => {
      const random = createRandom(5);
      for (let i = 0; i < 40; i++) {
        const path = shortestPath(mesh, randomPoint(mesh, random), randomPoint(mesh, random));
        expect(path.converged).toBe(true);
        for (let k = 1; k < path.nodes.length - 1; k++) {
          const node = path.nodes[k];
          expect(commonFace(mesh, path.nodes[k - 1], node)).not.toBe(-1);
          if (node.on !== 'vertex') continue;
          const total = outgoing(mesh, node.vertex).reduce((sum, h) => sum + cornerAngle(mesh, h), 0);
          expect(total).toBeGreaterThan(2 * Math.PI - 1e-6);
        }
      }
    });
    it(`${name}: is as long backwards, or is another locally shortest way [invariant]`, () => {
      const random = createRandom(9);
      let same = 0;
      for (let i = 0; i < 30; i++) {
        const [a, b] = [randomPoint(mesh, random), randomPoint(mesh, random)];
        if (Math.abs(shortestPath(mesh, a, b).length - shortestPath(mesh, b, a).length) < 1e-9 * 100) same++;
      }
      expect(same).toBeGreaterThan(24);
    });
  }
});

describe('shortestPath where there is no way', () => {
  it('says so [invariant]', () => {
    const two = buildMesh(Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 5, 0, 0, 6, 0, 0, 5, 1, 0]), Uint32Array.from([0, 1, 2, 3, 4, 5]));
    expect(() => shortestPath(two, { face: 0, weights: [1, 0, 0] }, { face: 1, weights: [1, 0, 0] })).toThrow('lines/not-connected');
  });
});
