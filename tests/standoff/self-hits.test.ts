import { describe, expect, it } from 'vitest';
import { torus } from '../../samples/bodies.ts';
import { sphere, together } from '../../samples/closed-bodies.ts';
import { selfHits } from '../../src/standoff/self-hits.ts';
import { crossingPairs } from '../support/crossing-faces.ts';

describe('selfHits', () => {
  const ball = sphere({ radius: 30 }, { edgeMm: 4 });
  it('finds none on a sphere, a torus and two spheres apart [invariant]', () => {
    for (const mesh of [
      ball,
      torus({ radius: 40, tube: 12 }, { edgeMm: 3, seed: 1 }),
      together([
        { body: ball, shift: [0, 0, 0] },
        { body: ball, shift: [60.5, 0, 0] },
      ]),
    ])
      expect(selfHits(mesh, 100)).toEqual([]);
  });
  it('finds crossings where three-mesh-bvh finds them, also in exact mirror symmetry [second route]', () => {
    for (const shift of [[50, 0, 0] as const, [41.3, 17.7, 5.1] as const]) {
      const pair = together([
        { body: ball, shift: [0, 0, 0] },
        { body: ball, shift },
      ]);
      const hits = selfHits(pair, 1e6);
      const judged = crossingPairs(pair);
      // Each face of a crossing takes part in one to four pairs.
      expect(hits.length).toBeGreaterThanOrEqual(judged / 2);
      expect(hits.length).toBeLessThanOrEqual(2 * judged);
      expect(hits.length).toBeGreaterThan(40);
    }
  });
});
