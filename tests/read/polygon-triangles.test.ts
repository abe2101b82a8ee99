import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trianglesOfPolygons } from '../../src/read/polygon-triangles.ts';
import { faceCross } from '../../src/mesh/measure.ts';

/** Points of a polygon in a tilted plane. */
function lifted(flat: readonly (readonly [number, number])[]): Float64Array {
  return Float64Array.from(flat.flatMap(([x, y]) => [x, 0.6 * y + 0.1 * x, 0.8 * y]));
}

/** Sum of the triangles' area vectors and sum of their areas. */
function areasOf(positions: Float64Array, faces: Uint32Array): { vector: number; sum: number } {
  const total = [0, 0, 0];
  let sum = 0;
  for (let f = 0; f < faces.length / 3; f++) {
    const cross = faceCross({ positions, faces }, f);
    for (let k = 0; k < 3; k++) total[k] += cross[k] / 2;
    sum += Math.hypot(...cross) / 2;
  }
  return { vector: Math.hypot(...total), sum };
}

const ring = (n: number): Uint32Array => Uint32Array.from({ length: n }, (_, i) => i);

describe('trianglesOfPolygons', () => {
  it('returns the corners themselves where all polygons are triangles [identity]', () => {
    const corners = Uint32Array.from([0, 1, 2]);
    expect(trianglesOfPolygons(new Float64Array(9), corners, Uint32Array.from([3]))).toBe(corners);
  });

  it('cuts a quad along its shorter diagonal [closed form]', () => {
    const kite = lifted([
      [0, 0],
      [5, -1],
      [10, 0],
      [5, 1],
    ]);
    const faces = trianglesOfPolygons(kite, ring(4), Uint32Array.from([4]));
    const edges = new Set(Array.from(faces, (_, h) => [faces[h], faces[h % 3 === 2 ? h - 2 : h + 1]].sort().join('-')));
    expect(edges.has('1-3')).toBe(true);
    expect(edges.has('0-2')).toBe(false);
  });

  it('covers a concave polygon once, without a turned triangle [area vectors: |Σ| = Σ| |]', () => {
    const arrow = lifted([
      [0, 0],
      [4, 4],
      [0, 8],
      [12, 4],
    ]);
    const star = lifted(
      Array.from({ length: 14 }, (_, i) => {
        const radius = i % 2 === 0 ? 10 : 3;
        return [radius * Math.cos((i * Math.PI) / 7), radius * Math.sin((i * Math.PI) / 7)] as const;
      }),
    );
    for (const shape of [arrow, star]) {
      const n = shape.length / 3;
      const faces = trianglesOfPolygons(shape, ring(n), Uint32Array.from([n]));
      expect(faces.length).toBe(3 * (n - 2));
      const { vector, sum } = areasOf(shape, faces);
      expect(sum).toBeCloseTo(vector, 9);
    }
  });

  it('keeps the area vector of any star-shaped polygon [invariant, random]', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.2, max: 5, noNaN: true }), { minLength: 5, maxLength: 20 }), (radii) => {
        const n = radii.length;
        const shape = lifted(radii.map((r, i) => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n)] as const));
        const { vector, sum } = areasOf(shape, trianglesOfPolygons(shape, ring(n), Uint32Array.from([n])));
        expect(Math.abs(sum - vector)).toBeLessThan(1e-9 * sum);
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('passes over polygons of fewer than three corners [closed form]', () => {
    const corners = Uint32Array.from([0, 1, 0, 1, 2]);
    const faces = trianglesOfPolygons(Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0]), corners, Uint32Array.from([2, 3]));
    expect([...faces]).toEqual([0, 1, 2]);
  });
});
