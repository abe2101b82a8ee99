/*
 * The shapes of nesting: convex-parts.ts, no-fit.ts, forms.ts, grown-outline.ts, allowed-turns.ts, check-layout.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { allowedTurns, smallestBoxTurn } from '../../src/nest/allowed-turns.ts';
import { distanceBetween, tooClose } from '../../src/nest/check-layout.ts';
import { convexParts } from '../../src/nest/convex-parts.ts';
import { makeForms } from '../../src/nest/forms.ts';
import { coarsen, grownOutline } from '../../src/nest/grown-outline.ts';
import { depthAt, makeNoFit } from '../../src/nest/no-fit.ts';
import { perimeterOf, signedArea } from '../../src/plane/polygon.ts';

const ring = (...points: readonly (readonly [number, number])[]): Float64Array => Float64Array.from(points.flat());
const square = (side: number, x = 0, y = 0): Float64Array => ring([x, y], [x + side, y], [x + side, y + side], [x, y + side]);

/** A star-shaped polygon with bays. */
function star(random: () => number, corners = 14, size = 100): Float64Array {
  const points = Array.from({ length: corners }, (_, i): [number, number] => {
    const radius = size * (0.3 + 0.7 * random());
    const angle = (2 * Math.PI * (i + 0.6 * random())) / corners;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
  return ring(...points);
}

const turned = (polygon: Float64Array, angle: number): Float64Array => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return polygon.map((_, i) => (i % 2 === 0 ? c * polygon[i] - s * polygon[i + 1] : s * polygon[i - 1] + c * polygon[i]));
};

describe('convexParts', () => {
  it('are convex and add up to the polygon, with bays [invariant]', () => {
    const random = createRandom(3);
    const polygons = Array.from({ length: 20 }, () => star(random));
    for (const polygon of polygons) {
      const parts = convexParts(polygon);
      expect(parts.reduce((sum, part) => sum + signedArea(part), 0)).toBeCloseTo(signedArea(polygon), 6);
      for (const part of parts) {
        const count = part.length / 2;
        for (let i = 0; i < count; i++) {
          const [a, b, c] = [i, (i + 1) % count, (i + 2) % count].map((v) => [part[2 * v], part[2 * v + 1]]);
          expect((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])).toBeGreaterThanOrEqual(-1e-9);
        }
      }
    }
  });
});

/** Reversing a flat x y list swaps x and y: put them back. */
function swapPairs(points: Float64Array): Float64Array {
  return points.map((_, i) => (i % 2 === 0 ? points[i + 1] : points[i - 1]));
}

describe('makeNoFit', () => {
  it('of two squares is the square of both sides [algorithms of the field: Minkowski sum, row 33]', () => {
    const noFit = makeNoFit([square(3)], [square(2)]);
    expect([noFit.minX, noFit.minY, noFit.maxX, noFit.maxY]).toEqual([-2, -2, 3, 3]);
    expect(depthAt(noFit, 0.5, 0.5)).toBeCloseTo(2.5, 9);
    expect(depthAt(noFit, 3, 0)).toBe(0);
    expect(depthAt(noFit, 2.75, 0.5)).toBeCloseTo(0.25, 9);
  });

  it('of convex shapes has the sum of their perimeters and at most the sum of their corners [algorithms of the field: Minkowski sum, row 33]', () => {
    const random = createRandom(11);
    for (let k = 0; k < 10; k++) {
      const [a, b] = [5, 7].map((corners) =>
        ring(
          ...Array.from({ length: corners }, (_, i): [number, number] => [
            Math.cos((2 * Math.PI * (i + 0.9 * random())) / corners) * 50,
            Math.sin((2 * Math.PI * (i + 0.9 * random())) / corners) * 50,
          ]),
        ),
      );
      const [hullA, hullB] = [a, b].map(hull);
      const { edges } = makeNoFit([hullA], [hullB]);
      let length = 0;
      for (let e = 0; e < edges.length; e += 4) length += Math.hypot(edges[e + 2] - edges[e], edges[e + 3] - edges[e + 1]);
      expect(length).toBeCloseTo(perimeterOf(hullA) + perimeterOf(hullB), 2);
      expect(edges.length / 4).toBeLessThanOrEqual((hullA.length + hullB.length) / 2);
    }
  });

  it('says overlap exactly where the shapes overlap [second route]', () => {
    const random = createRandom(5);
    for (let k = 0; k < 12; k++) {
      const [a, b] = [star(random), star(random)];
      const noFit = makeNoFit(convexParts(a), convexParts(b));
      for (let sample = 0; sample < 60; sample++) {
        const [x, y] = [240 * (random() - 0.5), 240 * (random() - 0.5)];
        const moved = b.map((value, i) => value + (i % 2 === 0 ? x : y));
        const distance = distanceBetween([a], [moved]);
        const depth = depthAt(noFit, x, y);
        if (distance > 0.01) expect(depth, `${k}/${sample}`).toBe(0);
        else if (depth === 0) expect(distance).toBeLessThan(0.01);
      }
    }
  });

  it('moving by the depth along the shortest way parts the shapes [second route]', () => {
    const [a, b] = [star(createRandom(1)), star(createRandom(2))];
    const noFit = makeNoFit(convexParts(a), convexParts(b));
    const depth = depthAt(noFit, 3, 4);
    const freed = Array.from({ length: 720 }, (_, i) => (Math.PI * i) / 360).some(
      (angle) => depthAt(noFit, 3 + 1.1 * depth * Math.cos(angle), 4 + 1.1 * depth * Math.sin(angle)) === 0,
    );
    const tooEarly = Array.from({ length: 720 }, (_, i) => (Math.PI * i) / 360).some(
      (angle) => depthAt(noFit, 3 + 0.8 * depth * Math.cos(angle), 4 + 0.8 * depth * Math.sin(angle)) === 0,
    );
    expect([freed, tooEarly]).toEqual([true, false]);
  });
});

/** Convex hull by the monotone chain. */
function hull(points: Float64Array): Float64Array {
  const list = Array.from({ length: points.length / 2 }, (_, i): [number, number] => [points[2 * i], points[2 * i + 1]]).sort(
    (p, q) => p[0] - q[0] || p[1] - q[1],
  );
  const half = (all: [number, number][]): [number, number][] => {
    const chain: [number, number][] = [];
    for (const p of all) {
      while (chain.length > 1) {
        const [a, b] = chain.slice(-2);
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return ring(...half(list), ...half([...list].reverse()));
}

describe('makeForms', () => {
  it('turns a shape about its own origin and remembers where that lies [closed form]', () => {
    const { forms } = makeForms([{ rings: [ring([10, 20], [40, 20], [40, 30], [10, 30])], anglesDeg: [0, 90] }]);
    expect([forms[0].width, forms[0].height, forms[0].originX, forms[0].originY]).toEqual([30, 10, -10, -20]);
    expect([forms[1].width, forms[1].height, forms[1].originX, forms[1].originY]).toEqual([10, 30, 30, -10]);
  });
});

describe('grownOutline', () => {
  it('keeps whatever lies outside it at least half the spacing away, and is not much larger [second route]', () => {
    const random = createRandom(9);
    for (let k = 0; k < 10; k++) {
      const outline = star(random, 60);
      const [grown] = grownOutline(outline, [], 6);
      let least = Infinity;
      for (let v = 0; v < grown.length; v += 2)
        least = Math.min(
          least,
          distanceBetween(
            [outline],
            [ring([grown[v], grown[v + 1]], [grown[v], grown[v + 1]], [grown[(v + 2) % grown.length], grown[(v + 3) % grown.length]])],
          ),
        );
      expect(least).toBeGreaterThanOrEqual(3);
      expect(signedArea(grown)).toBeLessThan(signedArea(outline) + perimeterOf(outline) * 4.5);
    }
  });

  it('leaves the inside of a cut-out free [closed form]', () => {
    const frame = grownOutline(square(100), [swapPairs(square(60, 20, 20).reverse())], 4);
    const forms = makeForms([
      { rings: frame, anglesDeg: [0] },
      { rings: [square(40)], anglesDeg: [0] },
    ]);
    const noFit = forms.noFit(0, 1);
    const [x, y] = [30 + forms.forms[0].originX, 30 + forms.forms[0].originY];
    expect(depthAt(noFit, x, y)).toBe(0);
    expect(depthAt(noFit, x - 15, y)).toBeGreaterThan(0);
  });
});

describe('coarsen', () => {
  it('keeps every corner that stands out further than the tolerance [closed form]', () => {
    expect([...coarsen(ring([0, 0], [5, 0.01], [10, 0], [10, 10], [0, 10]), 0.1)]).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
    expect(coarsen(ring([0, 0], [5, 0.2], [10, 0], [10, 10], [0, 10]), 0.1).length).toBe(10);
  });
});

describe('allowedTurns', () => {
  it('follows the grain, and lays a tilted box square where any turn is allowed [closed form]', () => {
    const tilted = turned(ring([0, 0], [80, 0], [80, 30], [0, 30]), (25 * Math.PI) / 180);
    expect(allowedTurns('none', tilted)).toEqual([0]);
    expect(allowedTurns('180', tilted)).toEqual([0, 180]);
    expect(allowedTurns('90', tilted)).toEqual([0, 90, 180, 270]);
    expect(smallestBoxTurn(tilted)).toBeCloseTo(65, 9);
    expect(allowedTurns('any', tilted).map((angle) => Math.round(angle))).toEqual([65, 155, 245, 335]);
  });
});

describe('tooClose', () => {
  it('measures edges, corners and containment, and lets a part lie in a cut-out [closed form]', () => {
    const frame = { id: 'frame', rings: [square(100), swapPairs(square(60, 20, 20).reverse())] };
    const small = (x: number, y: number): { id: string; rings: Float64Array[] } => ({ id: 'small', rings: [square(10, x, y)] });
    expect(tooClose([frame, small(40, 40)], 10, 1e-6)).toEqual([]);
    expect(tooClose([frame, small(25, 40)], 10, 1e-6)[0].distanceMm).toBeCloseTo(5, 9);
    expect(tooClose([frame, small(5, 40)], 10, 1e-6)[0].distanceMm).toBe(0);
    expect(tooClose([frame, small(103, 104)], 10, 1e-6)[0].distanceMm).toBeCloseTo(5, 9);
    expect(tooClose([{ id: 'plate', rings: [square(100)] }, small(40, 40)], 10, 1e-6)[0].distanceMm).toBe(0);
  });
});
