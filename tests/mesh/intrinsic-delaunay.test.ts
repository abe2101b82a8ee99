import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { halfCotangents } from '../../src/mesh/cotangent.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { intrinsicDelaunay, intrinsicHalfCotangents } from '../../src/mesh/intrinsic-delaunay.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { lift, planeDisc, range } from '../support/flat-shapes.ts';

/** A grid with all diagonals one way, sheared: needs many flips. */
function sheared(shear: number): HalfEdgeMesh {
  const n = 8;
  const random = createRandom(4);
  const positions = Float64Array.from(
    range(n * n).flatMap((i) => [(i % n) + shear * Math.floor(i / n) + 0.2 * random(), Math.floor(i / n), 0.3 * random()]),
  );
  const faces = range((n - 1) * (n - 1)).flatMap((i) => {
    const a = Math.floor(i / (n - 1)) * n + (i % (n - 1));
    return [a, a + 1, a + n + 1, a, a + n + 1, a + n];
  });
  return buildMesh(positions, Uint32Array.from(faces));
}

describe('intrinsicDelaunay', () => {
  it.each([0, 1.7, 5])('sheared by %s: no inner edge weight is negative, borders and area stay [bobenko-springborn2007]', (shear) => {
    const mesh = sheared(shear);
    const intrinsic = intrinsicDelaunay(mesh);
    const half = intrinsicHalfCotangents(intrinsic);
    let area = 0;
    for (let h = 0; h < half.length; h++) {
      const g = intrinsic.twin[h];
      if (g !== -1) {
        expect(half[h] + half[g]).toBeGreaterThan(-1e-11);
        expect(intrinsic.twin[g]).toBe(h);
        expect(intrinsic.length[g]).toBe(intrinsic.length[h]);
        expect(intrinsic.faces[h]).toBe(intrinsic.faces[g % 3 === 2 ? g - 2 : g + 1]);
      }
      if (h % 3 === 0) {
        const [a, b, c] = [intrinsic.length[h], intrinsic.length[h + 1], intrinsic.length[h + 2]];
        const s = (a + b + c) / 2;
        area += Math.sqrt(s * (s - a) * (s - b) * (s - c));
      }
    }
    // Flips are made inside the polyhedral surface: its area and its borders are the same.
    expect(Math.abs(area / surfaceArea(mesh) - 1)).toBeLessThan(1e-9);
    const border = (m: Pick<HalfEdgeMesh, 'faces' | 'twin'>): string[] =>
      range(m.faces.length)
        .filter((h) => m.twin[h] === -1)
        .map((h) => `${m.faces[h]} ${m.faces[h % 3 === 2 ? h - 2 : h + 1]}`)
        .sort();
    expect(border(intrinsic)).toEqual(border(mesh));
    if (shear > 1) expect(intrinsic.flips).toBeGreaterThan(20);
  });

  it('of a plane mesh is its Delaunay triangulation: flips bring a spoiled one back [closed form]', () => {
    const disc = planeDisc(120, 2);
    const good = lift(disc, (x, y) => [x, y, 0]);
    expect(intrinsicDelaunay(good).flips).toBe(0);
    const half = halfCotangents(good);
    const again = intrinsicHalfCotangents(intrinsicDelaunay(good));
    expect(Math.max(...half.map((value, h) => Math.abs(value - again[h])))).toBeLessThan(1e-9);
  });
});
