/*
 * The shape that the search moves for a part: its outline grown by half the spacing and coarsened outwards, so that grown shapes that do not overlap keep
 * their parts the whole spacing apart; cut-outs shrink alike.
 */
import type { F64 } from '../base/arrays.ts';
import { combinePolygons, offsetPolygons } from '../plane/offset.ts';
import { boxOf, signedArea } from '../plane/polygon.ts';
import { distanceToSegment } from '../plane/polyline.ts';

/** How much further than half the spacing an outline may be grown to have fewer corners, mm. */
const coarseMm = 0.6;

/**
 * @param outline counter-clockwise, mm
 * @param holes clockwise, mm
 * @returns the outline, counter-clockwise, then the holes that are left, clockwise
 */
export function grownOutline(outline: F64, holes: readonly F64[], spacingMm: number): F64[] {
  const grown = offsetPolygons([outline, ...holes], spacingMm / 2 + coarseMm, { join: 'round', arcToleranceMm: coarseMm / 2 });
  const rings = grown.map((ring) => coarsen(ring, coarseMm / 2)).filter((ring) => ring.length >= 6);
  const outer = rings.filter((ring) => signedArea(ring) > 0).sort((a, b) => signedArea(b) - signedArea(a))[0];
  const inner = rings.filter((ring) => signedArea(ring) < 0);
  return [outer ?? Float64Array.from(outline), ...inner];
}

/** The ring with corners left out that lie within a tolerance of the chord (Douglas–Peucker) [douglas-peucker1973]. */
export function coarsen(ring: F64, tolerance: number): Float64Array {
  const count = ring.length / 2;
  if (count < 4) return Float64Array.from(ring);
  let far = 0;
  for (let v = 1; v < count; v++) if (squareBetween(ring, 0, v) > squareBetween(ring, 0, far)) far = v;
  const isKept = new Uint8Array(count);
  isKept[0] = 1;
  isKept[far] = 1;
  const open: [number, number][] = [
    [0, far],
    [far, count],
  ];
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span;
    const [a, b] = [2 * from, 2 * (to % count)];
    let worst = tolerance;
    let at = -1;
    for (let v = from + 1; v < to; v++) {
      const distance = distanceToSegment(ring[2 * v], ring[2 * v + 1], ring[a], ring[a + 1], ring[b], ring[b + 1]);
      if (distance > worst) [worst, at] = [distance, v];
    }
    if (at === -1) continue;
    isKept[at] = 1;
    open.push([from, at], [at, to]);
  }
  const kept: number[] = [];
  for (let v = 0; v < count; v++) if (isKept[v] === 1) kept.push(ring[2 * v], ring[2 * v + 1]);
  return Float64Array.from(kept);
}

const squareBetween = (ring: F64, a: number, b: number): number => {
  const x = ring[2 * a] - ring[2 * b];
  const y = ring[2 * a + 1] - ring[2 * b + 1];
  return x * x + y * y;
};

/**
 * Polygons with holes as simple polygons: cut by upright lines through the middle of each hole.
 * @param rings outlines counter-clockwise, holes clockwise
 * @returns simple counter-clockwise polygons with the same union
 */
export function withoutHoles(rings: readonly F64[]): F64[] {
  const hole = rings.find((ring) => signedArea(ring) < 0);
  if (!hole) return [...rings];
  const inner = boxOf(hole);
  const cut = (inner.min[0] + inner.max[0]) / 2;
  const boxes = rings.map(boxOf);
  const [left, right, bottom, top] = [
    Math.min(...boxes.map((box) => box.min[0])),
    Math.max(...boxes.map((box) => box.max[0])),
    Math.min(...boxes.map((box) => box.min[1])),
    Math.max(...boxes.map((box) => box.max[1])),
  ];
  const half = (from: number, to: number): F64 => Float64Array.from([from, bottom, to, bottom, to, top, from, top]);
  return [half(left, cut), half(cut, right)].flatMap((side) => withoutHoles(combinePolygons('intersection', rings, [side])));
}
