import { describe, expect, it } from 'vitest';
import { carriedLines, fittingCurves, grooveWidth, planePlace } from '../../src/draft/carried-marks.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import type { LineMark } from '../../src/lines/line.ts';
import type { Patch } from '../../src/patches/patch.ts';
import { distanceToPolyline } from '../../src/plane/polyline.ts';
import { gridPatch } from '../support/patches.ts';

const { patch, flat } = gridPatch({
  id: 'p.1.C',
  columns: 10,
  rows: 10,
  space: (u, v) => [100 * u, 100 * v, 0],
  plane: (u, v) => [100 * u, 100 * v],
});

/** A mark along the line y = 45, through the middles of faces' edges. */
function marked(kind: 'drawn' | 'reference'): Patch {
  const faces: number[] = [];
  const weights: number[] = [];
  for (let k = 0; k <= 60; k++) {
    const [x, y] = [15 + k, 45];
    for (let f = 0; f < patch.mesh.faces.length / 3; f++) {
      const [a, b, c] = [0, 1, 2].map((i) => patch.mesh.faces[3 * f + i]);
      const p = flat.positions;
      const area = (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * c] - p[2 * a]) * (p[2 * b + 1] - p[2 * a + 1]);
      const u = ((x - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * c] - p[2 * a]) * (y - p[2 * a + 1])) / area;
      const v = ((p[2 * b] - p[2 * a]) * (y - p[2 * a + 1]) - (x - p[2 * a]) * (p[2 * b + 1] - p[2 * a + 1])) / area;
      if (u < -1e-9 || v < -1e-9 || u + v > 1 + 1e-9) continue;
      faces.push(f);
      weights.push(1 - u - v, u, v);
      break;
    }
  }
  return {
    ...patch,
    marks: [{ line: 'ridge:mirror', kind, closed: false, points: { face: Uint32Array.from(faces), weights: Float64Array.from(weights) } }],
  };
}

const ridge: LineMark = {
  id: 'ridge',
  kind: 'drawn',
  path: 'smooth',
  closed: false,
  mirror: true,
  points: [],
  crease: { depthMm: 3, angleDeg: 90 },
};

describe('carriedLines', () => {
  it('lays a line where its points lie, as one straight piece [closed form]', () => {
    const [path, ...others] = carriedLines(marked('drawn'), flat.positions, []);
    expect(others).toEqual([]);
    expect(path.layer).toBe('DRAWN');
    expect(path.curve.segments.length).toBe(1);
    expect(path.curve.start[0]).toBeCloseTo(15, 9);
    expect(path.curve.segments[0].to[0]).toBeCloseTo(75, 9);
    expect(path.curve.segments[0].to[1]).toBeCloseTo(45, 9);
    expect(carriedLines(marked('reference'), flat.positions, [])[0].layer).toBe('REFERENCE');
  });

  it('draws a crease as a groove whose edges stand its width apart, mirrored lines too [contract: V-groove]', () => {
    const [middle, ...edges] = carriedLines(marked('drawn'), flat.positions, [ridge]);
    expect(middle.layer).toBe('DRAWN');
    expect(edges.map(({ layer }) => layer)).toEqual(['SCORE', 'SCORE']);
    const ys = edges.map(({ curve }) => curve.start[1]).sort((a, b) => a - b);
    expect(ys[1] - ys[0]).toBeCloseTo(6, 9);
  });
});

describe('grooveWidth', () => {
  it('is 2·depth·tan(angle/2): 6 mm for 3 mm deep at 90° [closed form]', () => {
    expect(grooveWidth({ depthMm: 3, angleDeg: 90 })).toBeCloseTo(6, 12);
    expect(grooveWidth({ depthMm: 3, angleDeg: 60 })).toBeCloseTo(2 * 3 * Math.tan(Math.PI / 6), 12);
  });
});

describe('planePlace', () => {
  it('is the corner itself at a corner and the mean in the middle [closed form]', () => {
    const corners = [0, 1, 2].map((i) => patch.mesh.faces[i]);
    expect(planePlace(patch, flat.positions, 0, [1, 0, 0])).toEqual([flat.positions[2 * corners[0]], flat.positions[2 * corners[0] + 1]]);
    const mean = corners.reduce((sum, v) => sum + flat.positions[2 * v] / 3, 0);
    expect(planePlace(patch, flat.positions, 0, [1 / 3, 1 / 3, 1 / 3])[0]).toBeCloseTo(mean, 12);
  });
});

describe('fittingCurves', () => {
  it('marks each kind in its own way, around a cross at the place [contract: fittings]', () => {
    const drawn = (['strap', 'snap', 'magnet', 'buckle'] as const).map((kind) => fittingCurves(kind, [30, 40]));
    expect(new Set(drawn.map((curves) => JSON.stringify(curves))).size).toBe(4);
    for (const curves of drawn) {
      const cross = curves.slice(0, 2).map((curve) => flattenCurve(curve, 0.1));
      for (const line of cross) expect(distanceToPolyline(line, false, 30, 40)).toBeLessThan(1e-9);
    }
  });

  it('draws round rings [closed form: four cubics are within 0.03 % of a circle]', () => {
    const ring = fittingCurves('snap', [30, 40])[2];
    const points = flattenCurve(ring, 0.001);
    for (let i = 0; i < points.length; i += 2) expect(Math.abs(Math.hypot(points[i] - 30, points[i + 1] - 40) - 4)).toBeLessThan(0.002);
  });
});
