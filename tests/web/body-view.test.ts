import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { cross, dot, mirrored, pictureAxes } from '../../web/body-view/axes.ts';
import { layBeside } from '../../web/body-view/lay-beside.ts';
import { eyeOf, fit, lens, lookFrom, shift, turn, zoom } from '../../web/body-view/orbit.ts';
import { hitPatch, shownPlace } from '../../web/body-view/patch-shell.ts';
import { forgetReach, reachInto } from '../../web/body-view/reach.ts';
import { joined, segmentsOf } from '../../web/body-view/segments.ts';
import { hollowLight, smoothNormals } from '../../web/body-view/shading.ts';
import { signedStrain } from '../../web/body-view/strain-values.ts';

/** A grid of squares of one millimetre, folded by `height`. */
function sheet(across: number, height: (x: number, y: number) => number): ReturnType<typeof buildMesh> {
  const positions: number[] = [];
  const faces: number[] = [];
  for (let y = 0; y <= across; y++) for (let x = 0; x <= across; x++) positions.push(x, y, height(x, y));
  for (let y = 0; y < across; y++)
    for (let x = 0; x < across; x++) {
      const a = y * (across + 1) + x;
      faces.push(a, a + 1, a + across + 2, a, a + across + 2, a + across + 1);
    }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

describe('pictureAxes', () => {
  it('is a right-handed turn that puts the wearer’s left on the right of the picture, for every up and front [left = up × front]', () => {
    const axes = ['x', 'y', 'z', '-x', '-y', '-z'] as const;
    for (const up of axes)
      for (const front of axes) {
        const [left, u, f] = pictureAxes(up, front);
        expect(dot(cross(left, u), f)).toBe(1);
      }
    expect(pictureAxes('y', 'z')[0]).toEqual([1, 0, 0]);
  });
});

describe('mirrored', () => {
  it('taken twice is the point itself, and its middle lies on the plane [invariant]', () => {
    const plane = { point: [1, 2, 3] as Vec3, normal: [1, 2, -2] as Vec3 };
    const image = mirrored([5, -4, 7], plane) ?? [0, 0, 0];
    const back = mirrored(image, plane) ?? [0, 0, 0];
    [5, -4, 7].forEach((value, k) => expect(back[k]).toBeCloseTo(value, 12));
    expect(dot([(5 + image[0]) / 2 - 1, (-4 + image[1]) / 2 - 2, (7 + image[2]) / 2 - 3], plane.normal)).toBeCloseTo(0, 12);
  });
});

describe('the eye', () => {
  const start = { yaw: 0.3, pitch: 0.2, distance: 1000, target: [1, 2, 3] as Vec3 };

  it('stays at its distance while it turns, and never goes over the top [invariant]', () => {
    fc.assert(
      fc.property(fc.float({ min: -4000, max: 4000, noNaN: true }), fc.float({ min: -4000, max: 4000, noNaN: true }), (dx, dy) => {
        const next = turn(start, dx, dy);
        const eye = eyeOf(next);
        expect(Math.hypot(eye[0] - 1, eye[1] - 2, eye[2] - 3)).toBeCloseTo(1000, 6);
        expect(Math.abs(next.pitch)).toBeLessThan(Math.PI / 2);
      }),
    );
  });

  it('looks at the front from the front, and at the wearer’s left from +x [closed form]', () => {
    const level = { ...start, target: [0, 0, 0] as Vec3 };
    expect(eyeOf(lookFrom(level, 'front'))[2]).toBeGreaterThan(990);
    expect(eyeOf(lookFrom(level, 'left'))[0]).toBeGreaterThan(990);
  });

  it('moves so that what is under the hand stays under it [closed form]', () => {
    const next = shift(start, 50, 0, 800);
    const moved = Math.hypot(...next.target.map((value, k) => value - start.target[k]));
    expect(moved).toBeCloseTo((50 * 2 * 1000 * Math.tan(lens / 2)) / 800, 9);
  });

  it('sees the whole box after fitting, from every side [invariant]', () => {
    for (const yaw of [0, 0.7, 2]) {
      const fitted = fit({ ...start, yaw, pitch: 0 }, [-200, 0, -130], [200, 700, 130], 0.7);
      expect(fitted.distance * Math.tan(lens / 2)).toBeGreaterThan(350);
      expect(zoom(fitted, 0.5).distance).toBeCloseTo(fitted.distance / 2, 9);
    }
  });
});

describe('layBeside', () => {
  it('lays a flat part back exactly where it came from, but for the way outward [closed form]', () => {
    const mesh = sheet(4, () => 0);
    const c = Math.cos(0.7);
    const s = Math.sin(0.7);
    const flat = Float64Array.from({ length: 50 }, (_, i) => {
      const [x, y] = [mesh.positions[3 * Math.floor(i / 2)], mesh.positions[3 * Math.floor(i / 2) + 1]];
      return i % 2 === 0 ? c * x - s * y + 100 : s * x + c * y - 7;
    });
    const { places, normal } = layBeside(mesh, flat);
    expect(normal[2]).toBeCloseTo(1, 9);
    for (let v = 0; v < 25; v++) {
      expect(places[3 * v]).toBeCloseTo(mesh.positions[3 * v], 9);
      expect(places[3 * v + 1]).toBeCloseTo(mesh.positions[3 * v + 1], 9);
      expect(places[3 * v + 2]).toBeGreaterThan(20);
    }
  });

  it('is rigid: it keeps every distance of the plane [invariant]', () => {
    const mesh = sheet(6, (x, y) => 0.2 * x * x - 0.1 * y * y);
    const flat = Float64Array.from({ length: 98 }, (_, i) => mesh.positions[3 * Math.floor(i / 2) + (i % 2)] * 1.1);
    const { places } = layBeside(mesh, flat);
    for (let v = 1; v < 49; v++) {
      const inPlane = Math.hypot(flat[2 * v] - flat[0], flat[2 * v + 1] - flat[1]);
      const inSpace = Math.hypot(places[3 * v] - places[0], places[3 * v + 1] - places[1], places[3 * v + 2] - places[2]);
      expect(inSpace).toBeCloseTo(inPlane, 9);
    }
  });
});

describe('a part as shown', () => {
  const mesh = sheet(3, () => 5);
  const skin = Float64Array.from(mesh.positions, (value, i) => (i % 3 === 2 ? 0 : value));
  const flat = Float64Array.from(mesh.positions, (value, i) => (i % 3 === 2 ? 40 : value));
  const places = { skin, standing: mesh.positions, flat };

  it('lies on the skin, stands off it, or lies flat, as asked [closed form]', () => {
    expect(shownPlace(places, 5, 0, 1)[2]).toBe(0);
    expect(shownPlace(places, 5, 1, 1)[2]).toBe(5);
    expect(shownPlace(places, 5, 0.3, 0)[2]).toBe(40);
    expect(shownPlace(places, 5, 1, 0.5)[2]).toBe(22.5);
  });

  it('is hit where the ray meets it, with weights that give the place back [second route]', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 2.95, noNaN: true }), fc.double({ min: 0.05, max: 2.95, noNaN: true }), (x, y) => {
        const hit = hitPatch(mesh, places, 1, 1, [x, y, 100], [0, 0, -1]);
        expect(hit?.distance).toBeCloseTo(95, 9);
        if (!hit) return;
        const at = [0, 1].map((k) =>
          hit.weights.reduce((sum, weight, i) => sum + weight * mesh.positions[3 * mesh.faces[3 * hit.face + i] + k], 0),
        );
        expect(Math.hypot(at[0] - x, at[1] - y)).toBeLessThan(1e-9);
      }),
    );
    expect(hitPatch(mesh, places, 1, 1, [9, 9, 100], [0, 0, -1])).toBeUndefined();
  });
});

describe('reachInto', () => {
  it('is the radius less the distance, for every vertex within reach [closed form]', () => {
    const mesh = sheet(20, () => 0);
    const reach = forgetReach(new Float32Array(21 * 21));
    reachInto(reach, mesh, { at: [10, 10, 0], face: 2 * (10 * 20 + 10) }, 5);
    for (let v = 0; v < reach.length; v++) {
      const d = Math.hypot(mesh.positions[3 * v] - 10, mesh.positions[3 * v + 1] - 10);
      if (d < 5) expect(reach[v]).toBeCloseTo(5 - d, 5);
      else expect(reach[v]).toBeLessThanOrEqual(1e-5);
    }
  });

  it('does not jump to a sheet that is near in space and far over the surface [invariant]', () => {
    // Two sheets half a millimetre apart, one mesh, no edge between them.
    const one = sheet(6, () => 0);
    const positions = [...one.positions, ...Array.from(one.positions, (value, i) => (i % 3 === 2 ? 0.5 : value))];
    const faces = [...one.faces, ...Array.from(one.faces, (v) => v + 49)];
    const mesh = buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
    const reach = forgetReach(new Float32Array(98));
    reachInto(reach, mesh, { at: [3, 3, 0], face: 30 }, 2);
    expect(Math.max(...reach.slice(49))).toBeLessThan(0);
    expect(Math.max(...reach.slice(0, 49))).toBeGreaterThan(1);
  });
});

describe('light of the clay', () => {
  it('is brighter on a ridge than in a furrow [invariant]', () => {
    const ridge = sheet(10, (x) => -Math.abs(x - 5));
    const furrow = sheet(10, (x) => Math.abs(x - 5));
    const middle = 5 * 11 + 5;
    const lightOf = (mesh: typeof ridge): number => hollowLight(mesh, smoothNormals(mesh))[middle];
    expect(lightOf(ridge)).toBeGreaterThan(lightOf(furrow) + 0.1);
  });
});

describe('signedStrain', () => {
  it('is 1/σ₂ − 1 where the foam must stretch and −(1 − 1/σ₁) where it is squeezed [contract: strain]', () => {
    const strain = signedStrain({ sigma1: Float64Array.from([1, 1.25, 1]), sigma2: Float64Array.from([0.8, 1, 1]) });
    expect(strain[0]).toBeCloseTo(0.25, 12);
    expect(strain[1]).toBeCloseTo(-0.2, 12);
    expect(strain[2]).toBe(0);
  });

  it('is a finite number for faces that collapsed or flipped [invariant]', () => {
    for (const value of signedStrain({ sigma1: Float64Array.from([1, 1]), sigma2: Float64Array.from([0, -0.4]) }))
      expect(Number.isFinite(value)).toBe(true);
  });
});

describe('segments', () => {
  it('has one pair an edge, and one more for a ring [closed form]', () => {
    const points = [0, 0, 0, 1, 0, 0, 1, 1, 0];
    expect([...segmentsOf(points)]).toEqual([0, 0, 0, 1, 0, 0, 1, 0, 0, 1, 1, 0]);
    expect(segmentsOf(points, true).length).toBe(18);
    expect([...joined([segmentsOf(points), Float32Array.from([9])])].length).toBe(13);
  });
});
