/*
 * Plane and smooth lines, snapping, straight walks and mirror images against circles and planes.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import { linePath } from '../../src/lines/line-path.ts';
import { leftOf } from '../../src/body/axes.ts';
import { mirrored, mirrorPlane, ontoPlane, sideOf } from '../../src/lines/mirror.ts';
import { nearestOnPath, snapCandidates } from '../../src/lines/snap.ts';
import { endOf, gradientAt, walkStraight } from '../../src/lines/straight-walk.ts';
import { createMinHeap } from '../../src/lines/min-heap.ts';
import { createRandom } from '../../src/base/random.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { createSpatialIndex, placeOf } from '../../src/mesh/spatial.ts';
import type { SurfacePath, SurfacePoint } from '../../src/mesh/surface-point.ts';
import { plane } from '../../samples/bodies.ts';
import { meshOf, sphereMesh } from '../support/marked-bodies.ts';

const sphere = sphereMesh(100, 6, 8);
const index = createSpatialIndex(sphere);
const sheet = meshOf(plane({ width: 200, height: 200 }, { edgeMm: 12, seed: 3 }));
const sheetIndex = createSpatialIndex(sheet);

function landed(spatial: typeof index, at: Vec3): SurfacePoint {
  const hit = spatial.nearest(at);
  if (!hit) throw new RangeError('no surface');
  return { face: hit.face, weights: hit.weights };
}
const draw = (path: 'shortest' | 'plane' | 'smooth', closed: boolean, points: readonly Vec3[], mesh: HalfEdgeMesh = sphere): SurfacePath =>
  linePath(
    mesh,
    { id: 'l', path, closed },
    points.map((at) => landed(mesh === sphere ? index : sheetIndex, at)),
    mesh === sphere ? index : sheetIndex,
  );
const places = (path: SurfacePath): Vec3[] =>
  path.nodes.map((_, i) => [path.positions[3 * i], path.positions[3 * i + 1], path.positions[3 * i + 2]]);

describe('plane lines', () => {
  it('cut a sphere in the parallel through three points at one height: length 2πr·share to O(h²) [closed form]', () => {
    const at = (angle: number): Vec3 => [80 * Math.cos(angle), 60, 80 * Math.sin(angle)];
    const path = draw('plane', false, [at(0), at(1), at(2)]);
    for (const [, y] of places(path)) expect(Math.abs(y - 60)).toBeLessThan(0.2);
    expect(Math.abs(path.length / 160 - 1)).toBeLessThan(0.002);
  });
  it('stand upright on the surface between two points: on a sphere the great circle [closed form]', () => {
    const path = draw('plane', false, [
      [100, 0, 0],
      [20, 90, 35],
    ]);
    const theta = Math.acos(20 / Math.hypot(20, 90, 35));
    expect(Math.abs(path.length / (100 * theta) - 1)).toBeLessThan(0.002);
  });
  it('close to a full girth of 2πR through three points of a great circle [closed form]', () => {
    const path = draw('plane', true, [
      [100, 0, 0],
      [-50, 0, 80],
      [-50, 0, -80],
    ]);
    expect(path.closed).toBe(true);
    expect(Math.abs(path.length / (200 * Math.PI) - 1)).toBeLessThan(0.002);
  });
  it('say when the cut does not run between the points [invariant]', () => {
    // Around a corner of the sheet and back: the section leaves the sheet.
    expect(() =>
      linePath(
        sheet,
        { id: 'l', path: 'plane', closed: true },
        [landed(sheetIndex, [50, 50, 0]), landed(sheetIndex, [90, 60, 0])],
        sheetIndex,
      ),
    ).toThrow('lines/plane-misses');
  });
  it('refuse a single point [invariant]', () => {
    expect(() => draw('plane', false, [[100, 0, 0]])).toThrow('lines/too-few-points');
  });
});

describe('smooth lines', () => {
  it('through eight points of a circle on a flat sheet stay as near to it as the first four-point step, and pass the points [dyn2009, closed form]', () => {
    const points = Array.from({ length: 8 }, (_, i): Vec3 => [
      100 + 60 * Math.cos((i * Math.PI) / 4 + 0.1),
      100 + 60 * Math.sin((i * Math.PI) / 4 + 0.1),
      0,
    ]);
    const path = draw('smooth', true, points, sheet);
    // The middle of the first step lies at (9/8)·cos 22.5° − (1/8)·cos 67.5° of the radius, 0.85 % inside; later steps move less.
    const share = 1 - (9 * Math.cos(Math.PI / 8) - Math.cos((3 * Math.PI) / 8)) / 8;
    for (const [x, y] of places(path)) expect(Math.abs(Math.hypot(x - 100, y - 100) - 60)).toBeLessThan(60 * share + 0.02);
    expect(Math.abs(path.length / (120 * Math.PI) - 1)).toBeLessThan(share);
    for (const at of points) expect(nearestOnPath(sheet, path, at)?.distanceMm ?? 1).toBeLessThan(1e-6);
  });
  it('turn by less than 12° anywhere at their sampling, where the polygon of the clicked points turns by 45° [invariant]', () => {
    const points = Array.from({ length: 5 }, (_, i): Vec3 => [
      100 + 60 * Math.cos((i * Math.PI) / 4),
      100 + 60 * Math.sin((i * Math.PI) / 4),
      0,
    ]);
    const along = places(draw('smooth', false, points, sheet));
    const directions: number[] = [];
    // Directions over stretches of 3 mm or more.
    let last = along[0];
    for (const at of along) {
      if (Math.hypot(at[0] - last[0], at[1] - last[1]) < 3) continue;
      directions.push(Math.atan2(at[1] - last[1], at[0] - last[0]));
      last = at;
    }
    const turns = directions.slice(1).map((d, i) => Math.abs(((d - directions[i] + 3 * Math.PI) % (2 * Math.PI)) - Math.PI));
    expect(Math.max(...turns)).toBeLessThan((12 * Math.PI) / 180);
  });
  it('between two points are the shortest path [invariant]', () => {
    const ends: Vec3[] = [
      [20, 30, 0],
      [170, 120, 0],
    ];
    expect(draw('smooth', false, ends, sheet).length).toBeCloseTo(Math.hypot(150, 90), 6);
  });
});

describe('snapping', () => {
  it('offers ends first, then the nearest place of the path [closed form]', () => {
    const path = draw(
      'shortest',
      false,
      [
        [20, 50, 0],
        [150, 50, 0],
      ],
      sheet,
    );
    const [end, inner] = snapCandidates(sheet, path, [22, 52, 0], 4);
    expect(end.isEnd).toBe(true);
    expect(end.distanceMm).toBeCloseTo(Math.hypot(2, 2), 9);
    expect(inner.at[0]).toBeCloseTo(22, 9);
    expect(inner.distanceMm).toBeCloseTo(2, 9);
    expect(placeOf(sheet, inner.point)[1]).toBeCloseTo(50, 9);
    expect(snapCandidates(sheet, path, [22, 60, 0], 4)).toEqual([]);
  });
});

describe('walkStraight', () => {
  it('is a straight line on a sheet and ends at its rim [closed form]', () => {
    const walk = walkStraight(sheet, landed(sheetIndex, [30, 40, 0]), [3, 4, 0], 100);
    const [x, y] = placeOf(sheet, endOf(sheet, walk));
    expect(x).toBeCloseTo(90, 6);
    expect(y).toBeCloseTo(120, 6);
    expect(walkStraight(sheet, landed(sheetIndex, [30, 40, 0]), [-1, 0, 0], 100).length).toBeCloseTo(30, 6);
  });
  it('follows a great circle on a sphere within O(h) [closed form]', () => {
    const walk = walkStraight(sphere, landed(index, [100, 0, 0]), [0, 1, 0], (100 * Math.PI) / 2);
    const end = placeOf(sphere, endOf(sphere, walk));
    expect(Math.hypot(end[0], end[1] - 100, end[2])).toBeLessThan(3);
  });
  it('finds the gradient of a linear function [closed form]', () => {
    const at = landed(sheetIndex, [77, 31, 0]);
    const [gx, gy] = gradientAt(sheet, (point) => 2 * placeOf(sheet, point)[0] - 3 * placeOf(sheet, point)[1], at);
    expect(gx).toBeCloseTo(2, 9);
    expect(gy).toBeCloseTo(-3, 9);
  });
});

describe('the plane of symmetry', () => {
  it('has its normal to the wearer’s left, up × front [contract]', () => {
    expect(leftOf('y', 'z')).toEqual([1, 0, 0]);
    expect(leftOf('z', '-y')).toEqual([1, 0, 0]);
    const flipped = mirrorPlane({ up: 'y', front: 'z', mirror: { point: [3, 0, 0], normal: [-1, 0, 0] } });
    expect(sideOf(flipped, [10, 5, 5])).toBeCloseTo(7, 12);
    expect(mirrored(flipped, [10, 5, 5])).toEqual([-4, 5, 5]);
    expect(sideOf(flipped, ontoPlane(flipped, [10, 5, 5]))).toBeCloseTo(0, 12);
  });
});

describe('createMinHeap', () => {
  it('hands out in rising order, equal keys by item [second route: sort]', () => {
    const random = createRandom(3);
    const heap = createMinHeap();
    const pairs = Array.from({ length: 500 }, (_, item) => ({ key: Math.floor(random() * 60), item }));
    for (const { key, item } of pairs) heap.push(key, item);
    const out: number[] = [];
    while (heap.size() > 0) out.push(heap.pop());
    expect(out).toEqual(pairs.sort((a, b) => a.key - b.key || a.item - b.item).map(({ item }) => item));
    expect(heap.pop()).toBe(-1);
  });
});
