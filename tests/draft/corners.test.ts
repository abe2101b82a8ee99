import { describe, expect, it } from 'vitest';
import { cornersOf } from '../../src/draft/corners.ts';
import { arcLengths } from '../../src/plane/polyline.ts';

const corners = (points: Float64Array, closed = false): number[] => cornersOf(points, arcLengths(points), closed);
const dense = (...corner: number[]): Float64Array => {
  const points: number[] = [];
  for (let i = 0; i + 3 < corner.length; i += 2)
    for (let k = 0; k < 40; k++)
      points.push(corner[i] + (k / 40) * (corner[i + 2] - corner[i]), corner[i + 1] + (k / 40) * (corner[i + 3] - corner[i + 1]));
  return Float64Array.from([...points, ...corner.slice(-2)]);
};

describe('cornersOf', () => {
  it('finds the corner of an L at its place [closed form]', () => {
    const [corner, ...others] = corners(dense(0, 0, 60, 0, 60, 40));
    expect(others).toEqual([]);
    expect(corner).toBeCloseTo(0.6, 6);
  });

  it('finds a turn of 25° and lets one of 15° pass as part of a curve [common practice, no source]', () => {
    const bent = (degrees: number) =>
      corners(dense(0, 0, 60, 0, 60 + 60 * Math.cos((degrees * Math.PI) / 180), 60 * Math.sin((degrees * Math.PI) / 180)));
    expect(bent(25).length).toBe(1);
    expect(bent(15)).toEqual([]);
  });

  it('sees no corner on a tight circle [closed form: the turn halves with the window]', () => {
    for (const radius of [6, 10, 100]) {
      const circle = Float64Array.from({ length: 722 }, (_, i) => {
        const angle = (Math.floor(i / 2) / 360) * 2 * Math.PI;
        return radius * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
      });
      expect(corners(circle, true), `radius ${radius}`).toEqual([]);
    }
  });

  it('finds the three corners of a closed square that starts in the middle of an edge, and the fourth [closed form]', () => {
    expect(corners(dense(25, 0, 50, 0, 50, 50, 0, 50, 0, 0, 25, 0), true).map((share) => Math.round(1000 * share))).toEqual([
      125, 375, 625, 875,
    ]);
  });
});
