import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOf } from '../../web/parts-view/box.ts';
import { chainPoints, curvePath, lengthOf, polygonPath } from '../../web/parts-view/curves.ts';
import { createFlatLocator } from '../../web/parts-view/flat-locator.ts';
import { histogramOf } from '../../web/parts-view/histogram.ts';
import { layOut } from '../../web/parts-view/lay-out.ts';
import { fitPaper, gridStep, movePaper, zoomPaper } from '../../web/parts-view/paper-view.ts';

const sizes = fc.array(fc.record({ width: fc.integer({ min: 5, max: 500 }), height: fc.integer({ min: 5, max: 500 }) }), { maxLength: 25 });

describe('layOut', () => {
  it('lets no two parts touch and loses none, whatever their sizes [invariant]', () => {
    fc.assert(
      fc.property(sizes, (raw) => {
        const items = raw.map((size, i) => ({ id: `p${i}`, ...size }));
        const layout = layOut(items, { width: 520, height: 700 }, 20);
        const boxes = items.map(({ id, width, height }) => {
          const place = layout.places.get(id);
          expect(place).toBeDefined();
          return { x0: place?.x ?? 0, y0: place?.y ?? 0, x1: (place?.x ?? 0) + width, y1: (place?.y ?? 0) + height };
        });
        boxes.forEach((a, i) =>
          boxes.slice(i + 1).forEach((b) => {
            const apart = Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1);
            expect(apart).toBeGreaterThanOrEqual(20 - 1e-6);
          }),
        );
        for (const box of boxes) {
          expect(box.x0).toBeGreaterThanOrEqual(-1e-6);
          expect(box.x1).toBeLessThanOrEqual(layout.width + 1e-6);
          expect(box.y1).toBeLessThanOrEqual(layout.height + 1e-6);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('puts four squares two by two into a square pane and in a row into a long one [closed form]', () => {
    const items = [1, 2, 3, 4].map((i) => ({ id: `${i}`, width: 100, height: 100 }));
    expect(layOut(items, { width: 500, height: 500 }, 10)).toMatchObject({ width: 210, height: 210 });
    expect(layOut(items, { width: 900, height: 200 }, 10)).toMatchObject({ width: 430, height: 100 });
  });
});

describe('createFlatLocator', () => {
  it('finds the face and the weights of any point of a triangulated square [invariant]', () => {
    const across = 12;
    const positions = new Float64Array(2 * (across + 1) ** 2);
    for (let i = 0; i <= across; i++)
      for (let j = 0; j <= across; j++) positions.set([j + 0.3 * Math.sin(i), i + 0.2 * Math.cos(j)], 2 * (i * (across + 1) + j));
    const faces: number[] = [];
    for (let i = 0; i < across; i++)
      for (let j = 0; j < across; j++) {
        const a = i * (across + 1) + j;
        faces.push(a, a + 1, a + across + 2, a, a + across + 2, a + across + 1);
      }
    const locator = createFlatLocator(positions, Uint32Array.from(faces));
    fc.assert(
      fc.property(fc.double({ min: 1, max: across - 1, noNaN: true }), fc.double({ min: 1, max: across - 1, noNaN: true }), (x, y) => {
        const hit = locator.at(x, y);
        expect(hit).toBeDefined();
        if (!hit) return;
        let [u, v] = [0, 0];
        for (let i = 0; i < 3; i++) {
          const corner = 2 * faces[3 * hit.face + i];
          u += hit.weights[i] * positions[corner];
          v += hit.weights[i] * positions[corner + 1];
          expect(hit.weights[i]).toBeGreaterThanOrEqual(0);
        }
        expect(Math.hypot(u - x, v - y)).toBeLessThan(1e-9);
      }),
    );
    expect(locator.at(-5, 2)).toBeUndefined();
  });
});

describe('histogramOf', () => {
  it('counts all of the area once, and its bars select exactly what they count [invariant]', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: 0.01, max: 5, noNaN: true })), {
          minLength: 1,
          maxLength: 200,
        }),
        (pairs) => {
          const values = pairs.map(([value]) => value);
          const weights = pairs.map(([, weight]) => weight);
          const bars = histogramOf(values, weights, -0.2, 0.2, 8);
          const whole = weights.reduce((sum, weight) => sum + weight, 0);
          expect(bars.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
          for (const { from, to, share } of bars) {
            const inside = weights.reduce((sum, weight, i) => sum + (values[i] > from && values[i] < to ? weight : 0), 0) / whole;
            const touching = weights.reduce((sum, weight, i) => sum + (values[i] >= from && values[i] <= to ? weight : 0), 0) / whole;
            expect(share).toBeGreaterThanOrEqual(inside - 1e-9);
            expect(share).toBeLessThanOrEqual(touching + 1e-9);
          }
        },
      ),
    );
  });
});

describe('the view of the paper', () => {
  const view = { x: 12, y: -30, scale: 1.7 };

  it('holds the place under the pointer still while zooming [invariant]', () => {
    const next = zoomPaper(view, 1.4, 200, 90);
    expect(next.x + 200 / next.scale).toBeCloseTo(view.x + 200 / view.scale, 9);
    expect(next.y + 90 / next.scale).toBeCloseTo(view.y + 90 / view.scale, 9);
  });

  it('follows the hand while moving [invariant]', () => {
    const next = movePaper(view, 34, -17);
    expect((view.x - next.x) * view.scale).toBeCloseTo(34, 9);
  });

  it('shows the whole layout inside the pane [invariant]', () => {
    const layout = { places: new Map(), width: 900, height: 300 };
    const fitted = fitPaper(layout, { width: 520, height: 700 }, true);
    const left = -fitted.x * fitted.scale;
    const right = (layout.width - fitted.x) * fitted.scale;
    expect(left).toBeGreaterThan(0);
    expect(right).toBeLessThan(520);
    expect((layout.height - fitted.y) * fitted.scale).toBeLessThan(700);
  });

  it('draws squares of 10 mm at ordinary sizes, never finer than can be seen [invariant]', () => {
    expect(gridStep(1)).toBe(10);
    for (const scale of [0.05, 0.2, 0.7, 3, 20]) expect(gridStep(scale) * scale).toBeGreaterThanOrEqual(7);
  });
});

describe('paths', () => {
  it('writes curves with their own control points and closes them [SVG path data]', () => {
    const path = curvePath({
      start: [0, 0],
      segments: [
        { kind: 'line', to: [10, 0] },
        { kind: 'cubic', c1: [12, 0], c2: [12, 4.123], to: [10, 5] },
      ],
      closed: true,
    });
    expect(path).toBe('M0 0L10 0C12 0 12 4.12 10 5Z');
    expect(polygonPath([0, 0, 1, 0, 1, 1])).toBe('M0 0L1 0L1 1Z');
  });

  it('measures a chain of half-edges end to end [closed form]', () => {
    // Half-edges 0 → 1 → 2 of one triangle, 3-4-5.
    const points = chainPoints({ faces: Uint32Array.from([0, 1, 2]) }, Float64Array.from([0, 0, 3, 0, 3, 4]), Uint32Array.from([0, 1]));
    expect([...points]).toEqual([0, 0, 3, 0, 3, 4]);
    expect(lengthOf(points)).toBe(7);
  });

  it('boxes all of several lists [closed form]', () => {
    expect(boxOf([0, 5, 2, -1], [7, 7])).toEqual({ minX: 0, minY: -1, maxX: 7, maxY: 7 });
  });
});
