import { describe, expect, it } from 'vitest';
import { clipPolyline } from '../../src/export/clip.ts';

const box = { minX: 0, minY: 0, maxX: 10, maxY: 10 };

describe('clipPolyline', () => {
  it('gives an untouched polyline back as it is', () => {
    const inside = [
      [1, 1],
      [9, 9],
    ] as const;
    expect(clipPolyline(inside, box)).toEqual([inside]);
  });
  it('cuts at the edges, piece by piece [closed form]', () => {
    expect(
      clipPolyline(
        [
          [-5, 5],
          [5, 5],
          [5, 15],
          [8, 15],
          [8, 5],
        ],
        box,
      ),
    ).toEqual([
      [
        [0, 5],
        [5, 5],
        [5, 10],
      ],
      [
        [8, 10],
        [8, 5],
      ],
    ]);
  });
  it('leaves out what passes by, even past a corner [closed form]', () => {
    expect(
      clipPolyline(
        [
          [-1, 8],
          [1, 13],
        ],
        box,
      ),
    ).toEqual([]);
    expect(
      clipPolyline(
        [
          [20, 0],
          [20, 10],
        ],
        box,
      ),
    ).toEqual([]);
  });
});
