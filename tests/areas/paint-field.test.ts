/*
 * Painted borders on spheres, where distance over the surface is the radius times an angle; read along meridians and on cut patches.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { quietRun } from '../../src/base/run.ts';
import { crossingShare, longestBorderEdge } from '../../src/areas/border.ts';
import type { PaintField, SurfaceStroke } from '../../src/areas/paint-field.ts';
import { paintField } from '../../src/areas/paint-field.ts';
import { shortestThrough } from '../../src/lines/line-path.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { boundaryLoops, halfEdgeLength } from '../../src/mesh/navigate.ts';
import type { SpatialIndex } from '../../src/mesh/spatial.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import { cutPatches } from '../../src/patches/cut-patches.ts';
import { areaMark, bodyOf, noMarks, skinOf, sphereMesh } from '../support/marked-bodies.ts';

const radius = 100;
/** A centre off every vertex and edge of the meshes. */
const centre = unit([0.37, 0.61, 0.82]);
const across = unit([centre[1], -centre[0], 0]);
const along: Vec3 = [
  centre[1] * across[2] - centre[2] * across[1],
  centre[2] * across[0] - centre[0] * across[2],
  centre[0] * across[1] - centre[1] * across[0],
];

function unit(v: Vec3): Vec3 {
  const size = Math.hypot(...v);
  return [v[0] / size, v[1] / size, v[2] / size];
}

/** The place of the sphere at a distance from the centre, mm, in a direction around it. */
function polar(distance: number, direction: number): Vec3 {
  const [c, s] = [Math.cos(distance / radius), Math.sin(distance / radius)];
  const part = (k: number): number => radius * (c * centre[k] + s * (Math.cos(direction) * across[k] + Math.sin(direction) * along[k]));
  return [part(0), part(1), part(2)];
}

const fromCentre = (at: Vec3): number =>
  radius *
  Math.acos(
    Math.min(
      1,
      unit(at).reduce((sum, c, k) => sum + c * centre[k], 0),
    ),
  );

interface Ball {
  readonly mesh: HalfEdgeMesh;
  readonly index: SpatialIndex;
}

function ballOf(edgeMm: number, seed?: number): Ball {
  const mesh = sphereMesh(radius, edgeMm, seed);
  return { mesh, index: createSpatialIndex(mesh) };
}

function stroke({ mesh, index }: Ball, mode: 'paint' | 'erase', radiusMm: number, points: readonly Vec3[]): SurfaceStroke {
  const landed = points.flatMap((at) => index.nearest(at) ?? []);
  expect(landed).toHaveLength(points.length);
  return { mode, radiusMm, path: shortestThrough(mesh, landed, false) };
}

/** Where the field changes its sign on the meridian in a direction, between two distances from the centre, mm. */
function borderOn(ball: Ball, field: PaintField, direction: number, near: number, far: number): number {
  const valueAt = (share: number): number => {
    const hit = ball.index.nearest(polar(near + share * (far - near), direction));
    return hit ? field.at(hit) : Infinity;
  };
  expect(Math.sign(valueAt(0))).toBe(-Math.sign(valueAt(1)));
  return near + crossingShare(valueAt) * (far - near);
}

const directions = Array.from({ length: 36 }, (_, i) => (2 * Math.PI * i) / 36 + 0.01);

const worstBorder = (ball: Ball, field: PaintField, wanted: number, near: number, far: number): number =>
  Math.max(...directions.map((direction) => Math.abs(borderOn(ball, field, direction, near, far) - wanted)));

describe('paintField', () => {
  for (const edgeMm of [2, 5, 10])
    it(`borders a disc of 70 mm on a sphere by a circle, within what the faces lie below it, on edges of ${edgeMm} mm [closed form]`, () => {
      const ball = ballOf(edgeMm, edgeMm);
      const field = paintField(ball.mesh, [stroke(ball, 'paint', 70, [polar(0, 0)])], 0);
      // A face with edges up to l lies up to about l²/6R below the sphere; ways over it are shorter in that proportion.
      const lengths = Array.from(ball.mesh.faces, (_, h) => halfEdgeLength(ball.mesh, h));
      const bound = (70 * lengths.reduce((longest, length) => Math.max(longest, length), 0) ** 2) / (6 * radius * radius);
      expect(worstBorder(ball, field, 70, 60, 80)).toBeLessThan(Math.min(0.3, bound));
    });

  const ball = ballOf(5, 3);

  it('takes away what a later stroke erases, and gives it back to a still later one [closed form]', () => {
    const paint = stroke(ball, 'paint', 60, [polar(0, 0)]);
    const erase = stroke(ball, 'erase', 25, [polar(0, 0)]);
    const field = paintField(ball.mesh, [paint, erase], 0);
    expect(worstBorder(ball, field, 60, 45, 75)).toBeLessThan(0.1);
    expect(worstBorder(ball, field, 25, 15, 40)).toBeLessThan(0.1);
    expect(worstBorder(ball, paintField(ball.mesh, [erase, paint], 0), 60, 15, 75)).toBeLessThan(0.1);
    const again = paintField(ball.mesh, [paint, erase, stroke(ball, 'paint', 12, [polar(0, 0)])], 0);
    expect(worstBorder(ball, again, 12, 5, 20)).toBeLessThan(0.1);
  });

  it('moves every border outward by growMm, inward when it is negative [closed form]', () => {
    const strokes = [stroke(ball, 'paint', 60, [polar(0, 0)]), stroke(ball, 'erase', 25, [polar(0, 0)])];
    for (const growMm of [8, -6]) {
      const field = paintField(ball.mesh, strokes, growMm);
      expect(worstBorder(ball, field, 60 + growMm, 45, 80)).toBeLessThan(0.1);
      expect(worstBorder(ball, field, 25 - growMm, 10, 40)).toBeLessThan(0.1);
    }
  });

  it('keeps one radius from a stroke along a great circle: there the height over its plane is R·sin(r/R) [closed form]', () => {
    const field = paintField(ball.mesh, [stroke(ball, 'paint', 30, [polar(60, Math.PI), polar(0, 0), polar(60, 0)])], 0);
    for (const start of [-40, -17, 3, 38]) {
      // A meridian of the great circle through `across`: from its point at `start` straight away from it, along `along`.
      const foot = polar(start, 0);
      const off = (distance: number): Vec3 => {
        const [c, s] = [Math.cos(distance / radius), Math.sin(distance / radius)];
        return [c * foot[0] + s * radius * along[0], c * foot[1] + s * radius * along[1], c * foot[2] + s * radius * along[2]];
      };
      for (const hand of [1, -1]) {
        const valueAt = (share: number): number => {
          const hit = ball.index.nearest(off(hand * (20 + 20 * share)));
          return hit ? field.at(hit) : Infinity;
        };
        expect(Math.abs(20 + 20 * crossingShare(valueAt) - 30)).toBeLessThan(0.1);
      }
    }
  });

  it('gives at vertices what it gives at surface points there, and reaches every face that the border passes [second route]', () => {
    const field = paintField(ball.mesh, [stroke(ball, 'paint', 40, [polar(0, 0)])], 0);
    let passed = 0;
    for (let f = 0; f < ball.mesh.faces.length / 3; f++) {
      const values = [0, 1, 2].map((i) => field.atVertex(ball.mesh.faces[3 * f + i]));
      if (!(Math.min(...values) < 0 && Math.max(...values) > 0)) continue;
      passed++;
      expect(field.reaches(f)).toBe(true);
      const first = field.at({ face: f, weights: [1, 0, 0] });
      if (values[0] < 0) expect(Math.abs(first - values[0])).toBeLessThan(1e-9);
    }
    // The border's 2πR·sin(0.4) = 245 mm cannot be crossed by fewer faces than its length over their longest edge of about 12 mm.
    expect(passed).toBeGreaterThan(20);
  });
});

describe('the border that is cut', () => {
  for (const edgeMm of [2, 5, 10])
    it(`stays within 0.3 mm of the circle of 70 mm, corners and edge middles, on edges of ${edgeMm} mm [closed form]`, async () => {
      const mesh = sphereMesh(radius, edgeMm, 7);
      const area = areaMark({ strokes: [{ mode: 'paint', points: [polar(0, 0)], radiusMm: 70 }] });
      const { patches, findings } = await cutPatches(bodyOf(mesh), [skinOf(mesh)], { ...noMarks, areas: [area] }, quietRun);
      expect(findings).toEqual([]);
      expect(patches).toHaveLength(1);
      const { positions, faces } = patches[0].mesh;
      const loops = boundaryLoops(patches[0].mesh);
      expect(loops).toHaveLength(1);
      const corners = Array.from(loops[0], (h): Vec3 => [0, 1, 2].map((k) => positions[3 * faces[h] + k]) as [number, number, number]);
      const middles = corners.map((a, i): Vec3 => {
        const b = corners[(i + 1) % corners.length];
        return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
      });
      expect(Math.max(...[...corners, ...middles].map((at) => Math.abs(fromCentre(at) - 70)))).toBeLessThan(0.3);
    });
});

describe('crossingShare', () => {
  it('finds the root of a monotone function, and of one that is infinite at an end [closed form]', () => {
    expect(crossingShare((t) => t * t * t - 0.2)).toBeCloseTo(Math.cbrt(0.2), 11);
    expect(crossingShare((t) => (t > 0.9 ? Infinity : t - 0.31))).toBeCloseTo(0.31, 11);
    expect(crossingShare((t) => t)).toBe(0);
    expect(crossingShare((t) => t - 1)).toBe(1);
  });
});

describe('longestBorderEdge', () => {
  it('is the chord whose sagitta r − √(r² − l²/4) comes to 0.1 mm, nearly [closed form]', () => {
    for (const r of [10, 30, 100]) {
      const half = longestBorderEdge(r) / 2;
      expect(Math.abs(r - Math.sqrt(r * r - half * half) - 0.1)).toBeLessThan(0.001);
    }
  });
});
