/*
 * bad-faces.ts and slivers.ts.
 */
import { describe, expect, it } from 'vitest';
import { dropCollapsed, dropDuplicates } from '../../src/body/bad-faces.ts';
import { flatFaces, longestSide } from '../../src/body/slivers.ts';
import { sphere } from '../support/shapes.ts';

const positions = Float64Array.from([0, 0, 0, 3, 0, 0, 0, 4, 0, 1.5, 0, 0, 1.5, 1e-12, 0]);

describe('dropCollapsed', () => {
  it('drops faces with two corners at one vertex, whichever two [closed form]', () => {
    const faces = Uint32Array.from([0, 1, 2, 0, 0, 1, 1, 0, 0, 0, 1, 0, 2, 2, 2]);
    const { triangles, count } = dropCollapsed({ positions, faces });
    expect(count).toBe(4);
    expect([...triangles.faces]).toEqual([0, 1, 2]);
  });
});

describe('dropDuplicates', () => {
  it('tells repeats from backs, whatever corner comes first [closed form]', () => {
    const faces = Uint32Array.from([0, 1, 2, 1, 2, 0, 2, 0, 1, 2, 1, 0, 0, 2, 1, 0, 1, 3]);
    const { triangles, same, opposite } = dropDuplicates({ positions, faces });
    expect([same, opposite]).toEqual([2, 2]);
    expect(triangles.faces.length).toBe(6);
  });

  it('leaves a sphere as it is [identity]', () => {
    const ball = sphere(10, 3);
    expect(dropDuplicates(ball).triangles).toBe(ball);
  });
});

describe('flatFaces', () => {
  it('finds faces without height, not thin ones [closed form]', () => {
    const faces = Uint32Array.from([0, 1, 2, 0, 3, 1, 0, 1, 4]);
    expect(flatFaces({ positions, faces })).toEqual([1, 2]);
    const thin = Float64Array.from([0, 0, 0, 3, 0, 0, 1.5, 1e-3, 0]);
    expect(flatFaces({ positions: thin, faces: Uint32Array.from([0, 1, 2]) })).toEqual([]);
  });

  it('knows the longest side [closed form: 3, 4, 5]', () => {
    expect(longestSide({ positions, faces: Uint32Array.from([0, 1, 2]) }, 0)).toBe(5);
  });
});
