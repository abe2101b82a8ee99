import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { matrixFromTriplets, prepareAssembly, sumEntries } from '../../src/linalg/triplets.ts';
import { denseOf } from '../support/random-matrix.ts';

function randomTriplets(seed: number, size: number, count: number) {
  const random = createRandom(seed);
  const pick = (): number => Math.floor(size * random());
  const row = Uint32Array.from({ length: count }, pick);
  const column = Uint32Array.from({ length: count }, pick);
  const real = Float64Array.from({ length: count }, () => random() - 0.5);
  const imaginary = Float64Array.from({ length: count }, (_, k) => (row[k] === column[k] ? 0 : random() - 0.5));
  return { row, column, real, imaginary };
}

describe('matrixFromTriplets', () => {
  it('sums duplicates and mirrors each entry as its conjugate [second route]', () => {
    const size = 9;
    const list = randomTriplets(3, size, 200);
    const { real, imaginary } = denseOf(matrixFromTriplets(size, list));
    const a = new Float64Array(size * size);
    const b = new Float64Array(size * size);
    for (let k = 0; k < 200; k++) {
      const [i, j] = [list.row[k], list.column[k]];
      a[i * size + j] += list.real[k];
      b[i * size + j] += list.imaginary[k];
      if (i === j) continue;
      a[j * size + i] += list.real[k];
      b[j * size + i] -= list.imaginary[k];
    }
    for (let k = 0; k < size * size; k++) expect(Math.abs(a[k] - real[k]) + Math.abs(b[k] - imaginary[k])).toBeLessThan(1e-13);
  });

  it('keeps every diagonal place, rows ascending, diagonal first [invariant]', () => {
    const matrix = matrixFromTriplets(6, { row: Uint32Array.of(5, 5, 0), column: Uint32Array.of(0, 2, 3), real: Float64Array.of(1, 2, 4) });
    expect([...matrix.columnStart]).toEqual([0, 3, 4, 6, 7, 8, 9]);
    expect([...matrix.row]).toEqual([0, 3, 5, 1, 2, 5, 3, 4, 5]);
    expect([...matrix.real]).toEqual([0, 4, 1, 0, 0, 2, 0, 0, 0]);
    expect(matrix.imaginary).toBeUndefined();
  });

  it('refuses a place outside the matrix [closed form]', () => {
    expect(() => prepareAssembly(3, Uint32Array.of(3), Uint32Array.of(0))).toThrow(RangeError);
  });
});

describe('sumEntries', () => {
  it('gives the same bits for the same list and follows changed numbers [invariant]', () => {
    const list = randomTriplets(4, 20, 500);
    const assembly = prepareAssembly(20, list.row, list.column);
    const once = sumEntries(assembly, list.real, list.imaginary);
    expect(sumEntries(assembly, list.real, list.imaginary)).toEqual(once);
    const doubled = sumEntries(
      assembly,
      list.real.map((x) => 2 * x),
    );
    for (let q = 0; q < once.real.length; q++) expect(doubled.real[q]).toBe(2 * once.real[q]);
  });
});
