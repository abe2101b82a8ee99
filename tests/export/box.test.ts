import { describe, expect, it } from 'vitest';
import { boxesMeet, boxOf } from '../../src/export/box.ts';

describe('boxOf, boxesMeet', () => {
  const triangle = Float64Array.of(0, 0, 4, 0, 4, 3);
  it('boxes hold all points, and touching boxes meet [closed form]', () => {
    expect(boxOf(triangle, Float64Array.of(-1, 5))).toEqual({ minX: -1, minY: 0, maxX: 4, maxY: 5 });
    expect(boxesMeet(boxOf(triangle), { minX: 4, minY: 3, maxX: 9, maxY: 9 })).toBe(true);
    expect(boxesMeet(boxOf(triangle), { minX: 4.1, minY: 0, maxX: 9, maxY: 9 })).toBe(false);
  });
});
