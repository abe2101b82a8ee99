import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/draft/drawing.ts';
import type { Space } from '../../src/draft/free-space.ts';
import type { LabelRequest } from '../../src/draft/labels.ts';
import { placeLabels } from '../../src/draft/labels.ts';
import { letterText } from '../../src/draft/lettering.ts';
import { containsPoint } from '../../src/plane/polygon.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';

const plate = (width: number, height: number): Space => ({
  outer: Float64Array.of(0, 0, width, 0, width, height, 0, height),
  holes: [],
  lines: [],
  boxes: [],
});
const request: LabelRequest = {
  part: 'breast.1.L',
  blocks: [
    [
      ['A  Breast, upper', 'left, cut one left, one right', 'EVA foam 6 mm, inside up'],
      ['A  Breast', 'upper', 'left', 'EVA 6 mm'],
    ],
    [['A left']],
    [['A']],
  ],
  edges: [],
};
const inkOf = ({ paths }: Pick<Drawing, 'paths'>): (readonly [number, number])[] =>
  paths.flatMap(({ curve }) => [curve.start, ...curve.segments.map(({ to }) => to)]);

describe('placeLabels', () => {
  for (const [width, height] of [
    [200, 150],
    [60, 200],
    [40, 40],
    [14, 60],
    [9, 9],
  ])
    it(`keeps all ink inside a plate of ${width} × ${height} mm, 3 to 8 mm high [contract: labels]`, () => {
      const space = plate(width, height);
      const placed = placeLabels(request, space);
      for (const [x, y] of inkOf(placed)) {
        expect(containsPoint(space.outer, x, y)).toBe(true);
        expect(distanceToPolyline(space.outer, true, x, y)).toBeGreaterThan(0.3);
      }
      for (const { heightMm } of placed.labels) {
        expect(heightMm).toBeGreaterThanOrEqual(3);
        expect(heightMm).toBeLessThanOrEqual(8);
      }
      expect(placed.labels[0].text.startsWith('A')).toBe(true);
    });

  it('writes the full block large and upright where there is room, with an arrow to +y [contract: up arrow]', () => {
    const placed = placeLabels(request, plate(300, 200));
    expect(placed.labels.map(({ text }) => text)).toEqual(request.blocks[0][0]);
    expect(placed.labels.every(({ heightMm, angle }) => heightMm === 8 && angle === 0)).toBe(true);
    const [shaft, head] = placed.paths.filter(({ layer }) => layer === 'ARROW');
    expect(shaft.curve.segments[0].to[1]).toBeGreaterThan(shaft.curve.start[1]);
    expect(shaft.curve.segments[0].to[0]).toBe(shaft.curve.start[0]);
    expect(head.curve.segments[0].to).toEqual(shaft.curve.segments[0].to);
  });

  it('leads out of a part that is too small for one letter [product: labels lead out with a line]', () => {
    const space = plate(3, 3);
    const placed = placeLabels(request, space);
    expect(placed.labels.map(({ text }) => text)).toEqual(['A']);
    expect(placed.labels[0].at[0]).toBeGreaterThan(3);
    const leader = placed.paths.at(-1);
    expect(leader?.curve.start[0]).toBeGreaterThan(3);
    expect(containsPoint(space.outer, ...(leader?.curve.segments[0].to ?? [9, 9]))).toBe(true);
  });

  it('writes beside an edge, right way up, and not over what is drawn or written [contract: text never crosses]', () => {
    const edge = (text: string, y: number, inward: number) => ({
      text,
      optional: false,
      places: [0.5, 0.3, 0.7].map((share) => ({ at: [200 * share, y] as const, inward: [0, inward] as const })),
    });
    const space: Space = { ...plate(200, 150), lines: [Float64Array.of(100, 0, 100, 9)] };
    const placed = placeLabels({ ...request, edges: [edge('A1 to B3', 0, 1), edge('A2 to C1', 150, -1)] }, space);
    const [lower, upper] = placed.labels.slice(-2);
    expect(lower.angle).toBeCloseTo(0, 9);
    expect(upper.angle).toBeCloseTo(0, 9);
    expect(lower.at[1]).toBeLessThan(20);
    expect(upper.at[1]).toBeGreaterThan(130);
    const end = lower.at[0] + letterText(lower.text, lower.heightMm).widthMm;
    expect(end < 100 || lower.at[0] > 100 || lower.at[1] > 9).toBe(true);
  });

  it('declares letters that the pen does not have, and words that find no room [contract: findings]', () => {
    const odd = placeLabels({ ...request, blocks: [[['A 鎧']], [['A']]] }, plate(200, 150));
    expect(odd.findings.map(({ code }) => code)).toEqual(['draft/letters']);
    expect(odd.labels[0].text).toBe('A 鎧');
    const tight = placeLabels(
      { ...request, edges: [{ text: 'A1 to B3, a very long line of words', optional: false, places: [{ at: [5, 0], inward: [0, 1] }] }] },
      plate(10, 40),
    );
    expect(tight.findings.map(({ code }) => code)).toEqual(['draft/no-room']);
  });
});
