import { describe, expect, it } from 'vitest';
import { boundaryVertices, farthestBoundaryPair } from '../../src/flatten/pins.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { lift, planeDisc, range } from '../support/flat-shapes.ts';

/** The rule itself: all pairs in ascending order, the first with the largest squared distance. */
function byAllPairs(mesh: HalfEdgeMesh): [number, number] {
  const border = Array.from(boundaryVertices(mesh)).sort((a, b) => a - b);
  let best: [number, number] = [-1, -1];
  let largest = -1;
  for (const v of border)
    for (const w of border) {
      if (w <= v) continue;
      const [x, y, z] = [0, 1, 2].map((k) => mesh.positions[3 * v + k] - mesh.positions[3 * w + k]);
      const squared = x * x + y * y + z * z;
      if (squared > largest) [best, largest] = [[v, w], squared];
    }
  return best;
}

describe('farthestBoundaryPair', () => {
  it('is the first pair with the largest distance, as comparing all pairs finds it [second route]', () => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const mesh = lift(planeDisc(60 * seed, seed), (x, y) => [80 * x, 50 * y, 30 * Math.sin(5 * x * seed)]);
      expect(farthestBoundaryPair(mesh)).toEqual(byAllPairs(mesh));
    }
  });

  it('takes the lowest indices where pairs tie [second route]', () => {
    // A square grid: both diagonals have exactly the same length.
    const n = 6;
    const positions = Float64Array.from(range(n * n).flatMap((i) => [i % n, Math.floor(i / n), 0]));
    const faces = range((n - 1) * (n - 1)).flatMap((i) => {
      const a = Math.floor(i / (n - 1)) * n + (i % (n - 1));
      return [a, a + 1, a + n, a + 1, a + n + 1, a + n];
    });
    const mesh = buildMesh(positions, Uint32Array.from(faces));
    expect(farthestBoundaryPair(mesh)).toEqual([0, n * n - 1]);
    expect(farthestBoundaryPair(mesh)).toEqual(byAllPairs(mesh));
  });

  it('refuses a closed surface [contract]', () => {
    const tetrahedron = buildMesh(
      Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1]),
      Uint32Array.from([0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3]),
    );
    expect(() => farthestBoundaryPair(tetrahedron)).toThrow('flatten/closed');
  });
});
