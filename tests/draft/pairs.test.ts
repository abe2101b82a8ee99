import { describe, expect, it } from 'vitest';
import { mirrorDistance, mirrorPolygon } from '../../src/draft/pairs.ts';
import { signedArea } from '../../src/plane/polygon.ts';

const hook = Float64Array.of(0, 0, 60, 0, 60, 20, 25, 20, 25, 90, 0, 90);

describe('mirrorPolygon', () => {
  it('keeps the sense of the outline and undoes itself [invariant]', () => {
    expect(signedArea(mirrorPolygon(hook))).toBeCloseTo(signedArea(hook), 9);
    expect([...mirrorPolygon(mirrorPolygon(hook))].map((x) => x + 0)).toEqual([...hook]);
  });
});

describe('mirrorDistance', () => {
  it('is nought for a part and its mirror image wherever it lies, and large for a copy [invariant]', () => {
    const mirrored = mirrorPolygon(hook).map((value, i) => value + (i % 2 === 0 ? 200 : 30));
    expect(mirrorDistance(hook, mirrored)).toBeLessThan(1e-9);
    expect(mirrorDistance(hook, hook)).toBeGreaterThan(10);
  });

  it('measures by how much the two differ [closed form]', () => {
    const longer = Float64Array.from(hook);
    for (const i of [9, 11]) longer[i] += 3;
    expect(mirrorDistance(hook, mirrorPolygon(longer))).toBeGreaterThan(1.4);
    expect(mirrorDistance(hook, mirrorPolygon(longer))).toBeLessThan(3.1);
  });
});
