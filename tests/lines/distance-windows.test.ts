/*
 * Distance over the surface from strokes, on a plane, where it is the distance to the polyline.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { createSpatialIndex, placeOf } from '../../src/mesh/spatial.ts';
import { distanceToSegment } from '../../src/plane/polyline.ts';
import { spreadDistance } from '../../src/lines/distance-windows.ts';
import { shortestThrough } from '../../src/lines/line-path.ts';

/** An uneven triangulation of a square of 200 mm. */
function unevenSheet(): HalfEdgeMesh {
  const across = 20;
  const positions: number[] = [];
  for (let y = 0; y <= across; y++)
    for (let x = 0; x <= across; x++) {
      const isInner = x > 0 && y > 0 && x < across && y < across;
      positions.push(10 * x + (isInner ? 3 * Math.sin(7 * x + 3 * y) : 0), 10 * y + (isInner ? 3 * Math.cos(5 * x - 2 * y) : 0), 0);
    }
  const faces: number[] = [];
  for (let y = 0; y < across; y++)
    for (let x = 0; x < across; x++) {
      const a = y * (across + 1) + x;
      faces.push(a, a + 1, a + across + 2, a, a + across + 2, a + across + 1);
    }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

const mesh = unevenSheet();
const index = createSpatialIndex(mesh);

function pathThrough(points: readonly Vec3[]): ReturnType<typeof shortestThrough> {
  const landed = points.map((at) => {
    const hit = index.nearest(at);
    if (!hit) throw new RangeError('off the sheet');
    return { face: hit.face, weights: hit.weights };
  });
  return shortestThrough(mesh, landed, false);
}

const toPolyline = (points: readonly Vec3[], x: number, y: number): number =>
  points.length === 1
    ? Math.hypot(points[0][0] - x, points[0][1] - y)
    : Math.min(...points.slice(1).map((p, i) => distanceToSegment(x, y, points[i][0], points[i][1], p[0], p[1])));

/** How far the field of a point is from the distance in the plane, over all faces within 30 mm. */
function worstAround(at: Vec3): number {
  const field = spreadDistance(mesh, [pathThrough([at])], 35);
  let worst = 0;
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const point = { face: f, weights: [0.2, 0.3, 0.5] as const };
    const [x, y] = placeOf(mesh, point);
    const wanted = Math.hypot(x - at[0], y - at[1]);
    if (wanted < 30) worst = Math.max(worst, Math.abs(field.at(point) - wanted));
  }
  return worst;
}

describe('spreadDistance', () => {
  it.each([0, 1e-13, 1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-4])(
    'is right for points that lie a share of %f of a face away from an edge [closed form]',
    (share) => {
      for (const face of [412, 300, 255]) {
        for (const corner of [0, 1, 2]) {
          const weights: [number, number, number] = [0.4, 0.4, 0.4];
          weights[corner] = share;
          weights[(corner + 1) % 3] = 0.6 - share;
          expect(worstAround(placeOf(mesh, { face, weights }))).toBeLessThan(1e-6);
        }
      }
    },
  );

  it('is right for a point that rounding puts a hair inside a face instead of on its edge [repro, closed form]', () => {
    expect(worstAround([69.97395678773192, 106.345956510327, 0])).toBeLessThan(1e-6);
  });

  it('is the distance to the polyline on a plane, outside its corners too [closed form]', () => {
    const within = fc.double({ min: 40, max: 160, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(within, within), { minLength: 1, maxLength: 6 }), (raw) => {
        const points = raw
          .map(([x, y]): Vec3 => [x, y, 0])
          .filter((p, i, all) => i === 0 || Math.hypot(p[0] - all[i - 1][0], p[1] - all[i - 1][1]) > 1);
        const field = spreadDistance(mesh, [pathThrough(points)], 35);
        for (let f = 0; f < mesh.faces.length / 3; f += 3) {
          const point = { face: f, weights: [0.2, 0.3, 0.5] as const };
          const [x, y] = placeOf(mesh, point);
          const wanted = toPolyline(points, x, y);
          if (wanted < 30) expect(field.at(point), `${x} ${y} from ${JSON.stringify(points)}`).toBeCloseTo(wanted, 5);
        }
        for (let v = 0; v < field.vertexDistance.length; v++) {
          const wanted = toPolyline(points, mesh.positions[3 * v], mesh.positions[3 * v + 1]);
          if (wanted < 30) expect(field.vertexDistance[v]).toBeCloseTo(wanted, 5);
        }
      }),
      { numRuns: 40 },
    );
  });
});
