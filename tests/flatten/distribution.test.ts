import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { distribution } from '../../src/flatten/distribution.ts';

/** Sort, add up, stop. */
function bySorting(values: readonly number[], weights: readonly number[], share: number): number {
  const order = values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
  const total = weights.reduce((sum, w) => sum + w, 0);
  let sum = 0;
  for (const i of order) {
    sum += weights[i];
    if (sum >= share * total * (1 - 1e-12)) return values[i];
  }
  return NaN;
}

describe('distribution', () => {
  it('is what sorting gives, also with outliers, ties and zero weights [second route]', () => {
    for (const seed of [1, 2, 3, 4]) {
      const random = createRandom(seed);
      const values = Array.from({ length: 3000 }, (_, i) =>
        seed === 2 && i % 100 === 0 ? 1e9 * random() : seed === 3 ? Math.floor(random() * 5) : random(),
      );
      const weights = values.map((_, i) => (i % 7 === 0 ? 0 : random()));
      const found = distribution(Float64Array.from(values), Float64Array.from(weights));
      expect(found).toEqual({
        min: Math.min(...values),
        median: bySorting(values, weights, 0.5),
        p95: bySorting(values, weights, 0.95),
        p99: bySorting(values, weights, 0.99),
        max: Math.max(...values),
      });
    }
  });

  it('of one value is that value five times [closed form]', () => {
    expect(distribution(Float64Array.from([2.5]), Float64Array.from([3]))).toEqual({ min: 2.5, median: 2.5, p95: 2.5, p99: 2.5, max: 2.5 });
  });
});
