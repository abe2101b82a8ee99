/*
 * section.ts and measure-girth.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { girthAtHeight, girthPlane, measureGirth } from '../../src/body/measure-girth.ts';
import { convexHull, frameOf, sectionOf } from '../../src/body/section.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { perimeterOf, signedArea } from '../../src/plane/polygon.ts';
import type { Shape } from '../support/shapes.ts';
import { cylinder, moved, ringSurface, sphere, together } from '../support/shapes.ts';

const meshOf = (shape: Shape): HalfEdgeMesh => buildMesh(shape.positions, shape.faces);
const polygonGirth = (radius: number, around: number): number => 2 * around * radius * Math.sin(Math.PI / around);

/** A ring r(θ) = 100 + depth·cos 2θ lifted to a tube. */
const waisted = (depth: number): Shape =>
  ringSurface(
    [0, 100, 200].map((y) =>
      Array.from({ length: 360 }, (_, i) => {
        const angle = (Math.PI * i) / 180;
        const r = 100 + depth * Math.cos(2 * angle);
        return [r * Math.cos(angle), y, -r * Math.sin(angle)] as const;
      }),
    ),
    false,
  );

describe('sectionOf', () => {
  it('cuts a tube in the polygon of its corners, counter-clockwise about the normal [closed form]', () => {
    const tube = meshOf(cylinder(80, 300, 48, 7, true));
    const loops = sectionOf(tube, { point: [500, 155, -20], normal: [0, 2, 0] });
    expect(loops.length).toBe(1);
    expect(loops[0].closed).toBe(true);
    expect(loops[0].length).toBeCloseTo(polygonGirth(80, 48), 9);
    expect(signedArea(loops[0].points)).toBeCloseTo((48 / 2) * 80 * 80 * Math.sin((2 * Math.PI) / 48), 6);
    const below = sectionOf(tube, { point: [0, 155, 0], normal: [0, -1, 0] });
    expect(signedArea(below[0].points)).toBeGreaterThan(0);
  });

  it('gives one clean loop where the plane runs exactly through a ring of vertices [invariant]', () => {
    const tube = meshOf(cylinder(80, 300, 48, 3, true));
    for (const y of [100, 200]) {
      const loops = sectionOf(tube, { point: [0, y, 0], normal: [0, 1, 0] });
      expect(loops.map((loop) => loop.closed)).toEqual([true]);
      expect(loops[0].length).toBeCloseTo(polygonGirth(80, 48), 9);
    }
  });

  it('follows oblique planes: the ellipse of a tube has half axes r and r/cos [closed form, polygon of 720 corners]', () => {
    const tube = meshOf(cylinder(60, 400, 720, 4, false));
    const normal = [Math.sin(0.5), Math.cos(0.5), 0] as const;
    const [loop] = sectionOf(tube, { point: [0, 200, 0], normal });
    expect(signedArea(loop.points)).toBeCloseTo((720 / 2) * 3600 * Math.sin((2 * Math.PI) / 720) * (1 / Math.cos(0.5)), 4);
    for (let i = 0; i < loop.positions.length; i += 3)
      expect(loop.positions[i] * normal[0] + (loop.positions[i + 1] - 200) * normal[1]).toBeCloseTo(0, 9);
  });

  it('leaves lines open where the surface is open [closed form]', () => {
    const half: Shape = {
      ...cylinder(80, 300, 48, 3, false),
      faces: cylinder(80, 300, 48, 3, false).faces.filter((_, h) => Math.floor(h / 6) % 48 < 24),
    };
    const loops = sectionOf(meshOf(half), { point: [0, 150, 0], normal: [0, 1, 0] });
    expect(loops.map((loop) => loop.closed)).toEqual([false]);
    expect(loops[0].length).toBeCloseTo(polygonGirth(80, 48) / 2, 9);
  });
});

describe('convexHull', () => {
  it('contains every point and turns left at every corner [invariant, random]', () => {
    const random = createRandom(2);
    const points = Float64Array.from({ length: 400 }, () => Math.round(20 * random()));
    const hull = convexHull(points);
    const n = hull.length / 2;
    const turn = (i: number, x: number, y: number): number => {
      const [ax, ay, bx, by] = [hull[2 * i], hull[2 * i + 1], hull[(2 * i + 2) % (2 * n)], hull[(2 * i + 3) % (2 * n)]];
      return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
    };
    for (let i = 0; i < n; i++) {
      expect(turn(i, hull[(2 * i + 4) % (2 * n)], hull[(2 * i + 5) % (2 * n)])).toBeGreaterThan(0);
      for (let j = 0; j < points.length; j += 2) expect(turn(i, points[j], points[j + 1])).toBeGreaterThanOrEqual(0);
    }
  });
});

describe('frameOf', () => {
  it('is right-handed and of unit length for any normal [invariant]', () => {
    for (const normal of [
      [0, 3, 0],
      [1, 1, 1],
      [-2, 0.1, 0],
    ] as const) {
      const { u, w, normal: n } = frameOf(normal);
      const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
      expect(dot(u, w)).toBeCloseTo(0, 12);
      expect(dot(u, u)).toBeCloseTo(1, 12);
      expect(u[1] * w[2] - u[2] * w[1]).toBeCloseTo(n[0], 12);
      expect(dot(n, normal)).toBeCloseTo(Math.hypot(...normal), 12);
    }
  });
});

describe('measureGirth', () => {
  it('gives skin and tape alike on a convex section [closed form: circle of radius 80 within its sagitta]', () => {
    const girth = measureGirth(meshOf(cylinder(80, 300, 180, 3, true)), girthPlane([80, 150, 0], 'y'));
    expect(girth.skinMm).toBeCloseTo(girth.tapeMm, 9);
    expect(Math.abs(girth.tapeMm - 2 * Math.PI * 80)).toBeLessThan(0.05);
  });

  it('follows the skin into hollows and bridges them with the tape [second route: arc length and support function by quadrature]', () => {
    const depth = 40;
    const girth = measureGirth(meshOf(waisted(depth)), girthPlane([140, 100, 0], 'y'));
    const steps = 100_000;
    let skin = 0;
    let width = 0;
    const reach = (psi: number): number => {
      let most = -Infinity;
      for (let i = 0; i < 720; i++) {
        const t = (Math.PI * i) / 360;
        most = Math.max(most, (100 + depth * Math.cos(2 * t)) * Math.cos(t - psi));
      }
      return most;
    };
    for (let i = 0; i < steps; i++) {
      const t = (2 * Math.PI * i) / steps;
      skin += (Math.hypot(100 + depth * Math.cos(2 * t), 2 * depth * Math.sin(2 * t)) * 2 * Math.PI) / steps;
    }
    // Cauchy: the perimeter of a convex hull is the integral of its support function.
    for (let i = 0; i < 720; i++) width += (reach((2 * Math.PI * i) / 720) * 2 * Math.PI) / 720;
    expect(girth.skinMm).toBeCloseTo(skin, 1);
    expect(Math.abs(girth.tapeMm - width)).toBeLessThan(0.1);
    expect(girth.skinMm - girth.tapeMm).toBeGreaterThan(3);
  });

  it('measures the part on which the point lies, not the largest [closed form]', () => {
    const trunk = cylinder(120, 300, 90, 3, true);
    const arm = moved(cylinder(40, 300, 90, 3, true), (x, y, z) => [x + 200, y, z]);
    const mesh = meshOf(together(trunk, arm));
    const girth = measureGirth(mesh, girthPlane([240, 150, 0], 'y'));
    expect(girth.tapeMm).toBeCloseTo(polygonGirth(40, 90), 6);
    expect(girth.otherLoops).toBe(1);
    expect(girthAtHeight(mesh, 'y', 150).tapeMm).toBeCloseTo(polygonGirth(120, 90), 6);
  });

  it('bridges a hole in the skin and says how wide it is [closed form: chord]', () => {
    const tube = cylinder(80, 300, 90, 3, true);
    const holed: Shape = { ...tube, faces: tube.faces.filter((_, h) => Math.floor(h / 3) >= 540 || Math.floor(h / 6) % 90 >= 6) };
    const girth = measureGirth(meshOf(holed), girthPlane([-80, 150, 0], 'y'));
    const chord = 2 * 80 * Math.sin((6 * Math.PI) / 90);
    expect(girth.gapMm).toBeCloseTo(chord, 6);
    expect(girth.skinMm).toBeCloseTo(polygonGirth(80, 90) * (84 / 90) + chord, 6);
  });

  it('refuses a girth that takes grown-together arms along, and says what to do [repro]', () => {
    // Trunk and two arms whose outlines cross: one section with four creases.
    const trunk = (t: number): number => Math.hypot(150 * Math.cos(t), 105 * Math.sin(t));
    const outline: [number, number][] = [];
    for (let i = 0; i < 720; i++) {
      const t = (Math.PI * i) / 360;
      const [c, s] = [Math.cos(t), Math.sin(t)];
      let r = 1 / Math.hypot(c / 150, s / 105);
      // Ray from the middle to the far side of a circle of radius 50 at (±185, 0).
      const along = 185 * Math.abs(c);
      const off = 185 * Math.abs(s);
      if (off < 50) r = Math.max(r, along + Math.sqrt(2500 - off * off));
      outline.push([r * c, -r * s]);
    }
    expect(trunk(0)).toBe(150);
    const fused = meshOf(
      ringSurface(
        [0, 100, 200].map((y) => outline.map(([x, z]) => [x, y, z] as const)),
        false,
      ),
    );
    expect(() => measureGirth(fused, girthPlane([0, 100, 105], 'y'), 'bust')).toThrowError(/body\/girth-cuts-arm/);
    expect(() => measureGirth(meshOf(waisted(12)), girthPlane([112, 100, 0], 'y'))).not.toThrow();
  });

  it('refuses a plane that misses the body [repro]', () => {
    const ball = meshOf(sphere(100, 2));
    expect(() => girthAtHeight(ball, 'y', 300)).toThrowError(/body\/no-girth/);
    expect(() => measureGirth(ball, girthPlane([0, 500, 0], 'y'))).toThrowError(/body\/no-girth/);
  });
});

describe('girthAtHeight', () => {
  it('counts heights from the lowest vertex along any axis [closed form: circle at height h of a sphere]', () => {
    const ball = moved(sphere(100, 5), (x, y, z) => [x + 7, y - 31, z + 400]);
    for (const up of ['x', 'y', 'z', '-x', '-y', '-z'] as const) {
      const girth = girthAtHeight(meshOf(ball), up, 60);
      expect(Math.abs(girth.tapeMm - 2 * Math.PI * Math.sqrt(10_000 - 1600))).toBeLessThan(0.5);
    }
  });

  it('is unchanged by a rigid motion along up and scales with the body [invariant]', () => {
    const shape = moved(waisted(20), (x, y, z) => [x, y + 0.1 * x, z]);
    const plain = girthAtHeight(meshOf(shape), 'y', 100);
    const large = girthAtHeight(meshOf(moved(shape, (x, y, z) => [1000 * x, 1000 * y, 1000 * z])), 'y', 100_000);
    expect(large.skinMm).toBeCloseTo(1000 * plain.skinMm, 4);
    expect(perimeterOf(convexHull(Float64Array.from([0, 0, 2, 0, 2, 2, 0, 2, 1, 1])))).toBe(8);
  });
});
