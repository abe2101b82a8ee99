/*
 * Finding room for lettering: rectangles inside a part that touch neither its cut line nor what is already drawn.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { boxOf, containsPoint } from '../plane/polygon.ts';
import { distanceToPolyline } from '../plane/polyline.ts';

/** A rectangle, turned counter-clockwise about its centre. */
export interface Box {
  readonly centre: Vec2;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly angle: number;
}

/** The inside of a part and what text must keep clear of: lines that are drawn (2·n, mm) and boxes that are written in. Boxes grow in number. */
export interface Space {
  readonly outer: F64;
  readonly holes: readonly F64[];
  readonly lines: readonly F64[];
  readonly boxes: Box[];
}

/** True if a box, grown by a margin, lies inside the part and meets nothing drawn. */
export function isFree(space: Space, box: Box, marginMm: number): boolean {
  if (!containsPoint(space.outer, ...box.centre) || space.holes.some((hole) => containsPoint(hole, ...box.centre))) return false;
  return meetsNothing(space, box, marginMm);
}

/** True if a box, grown by a margin, meets neither cut lines nor anything drawn (inside or outside the part). */
export function meetsNothing(space: Space, box: Box, marginMm: number): boolean {
  const grown = { ...box, widthMm: box.widthMm + 2 * marginMm, heightMm: box.heightMm + 2 * marginMm };
  return (
    !polylineMeetsBox(space.outer, true, grown) &&
    !space.holes.some((hole) => polylineMeetsBox(hole, true, grown)) &&
    !space.lines.some((line) => polylineMeetsBox(line, false, grown)) &&
    !space.boxes.some((other) => boxesMeet(other, grown))
  );
}

/** True if two boxes overlap: no side of either separates them (separating axes). */
export function boxesMeet(a: Box, b: Box): boolean {
  return !separatesFrom(a, b) && !separatesFrom(b, a);
}

function separatesFrom(a: Box, b: Box): boolean {
  const [c, s] = [cos(a.angle), sin(a.angle)];
  const [dx, dy] = [b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]];
  const [co, si] = [Math.abs(cos(b.angle - a.angle)), Math.abs(sin(b.angle - a.angle))];
  const along = Math.abs(c * dx + s * dy) - a.widthMm / 2 - (b.widthMm * co + b.heightMm * si) / 2;
  const across = Math.abs(c * dy - s * dx) - a.heightMm / 2 - (b.widthMm * si + b.heightMm * co) / 2;
  return along > 0 || across > 0;
}

function polylineMeetsBox(points: F64, closed: boolean, box: Box): boolean {
  const [c, s] = [cos(box.angle), sin(box.angle)];
  const [halfWidth, halfHeight] = [box.widthMm / 2, box.heightMm / 2];
  const n = points.length;
  const local = (i: number): Vec2 => {
    const [x, y] = [points[i % n] - box.centre[0], points[(i + 1) % n] - box.centre[1]];
    return [c * x + s * y, c * y - s * x];
  };
  let before = local(0);
  if (n === 2) return Math.abs(before[0]) <= halfWidth && Math.abs(before[1]) <= halfHeight;
  for (let i = 2; i < (closed ? n + 2 : n); i += 2) {
    const here = local(i);
    if (segmentMeetsRectangle(before, here, halfWidth, halfHeight)) return true;
    before = here;
  }
  return false;
}

/** Clips a segment to |x| ≤ a, |y| ≤ b: true if something is left (Liang and Barsky's parametric clip). */
function segmentMeetsRectangle(from: Vec2, to: Vec2, a: number, b: number): boolean {
  let [low, high] = [0, 1];
  for (let k = 0; k < 2; k++) {
    const half = k === 0 ? a : b;
    const [start, step] = [from[k], to[k] - from[k]];
    if (step === 0) {
      if (Math.abs(start) > half) return false;
      continue;
    }
    const [one, two] = [(-half - start) / step, (half - start) / step];
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
    if (low > high) return false;
  }
  return true;
}

function distanceToBox({ centre, widthMm, heightMm, angle }: Box, x: number, y: number): number {
  const [c, s] = [cos(angle), sin(angle)];
  const along = Math.abs(c * (x - centre[0]) + s * (y - centre[1])) - widthMm / 2;
  const across = Math.abs(c * (y - centre[1]) - s * (x - centre[0])) - heightMm / 2;
  return along <= 0 && across <= 0 ? 0 : Math.hypot(Math.max(0, along), Math.max(0, across));
}

/** Places tried along the longer side of a part's box. */
const gridCount = 40;

/** An inner point of a part with its distance to everything drawn and written. */
export interface Place {
  readonly at: Vec2;
  readonly depthMm: number;
}

/** Inner points of a part, deepest first. Cost: places × points of the outline. */
export function deepPlaces(space: Space): Place[] {
  const { min, max } = boxOf(space.outer);
  const step = Math.max(2, Math.max(max[0] - min[0], max[1] - min[1]) / gridCount);
  const places: Place[] = [];
  for (let y = min[1] + step / 2; y < max[1]; y += step)
    for (let x = min[0] + step / 2; x < max[0]; x += step) {
      if (!containsPoint(space.outer, x, y) || space.holes.some((hole) => containsPoint(hole, x, y))) continue;
      let depthMm = distanceToPolyline(space.outer, true, x, y);
      for (const hole of space.holes) depthMm = Math.min(depthMm, distanceToPolyline(hole, true, x, y));
      for (const line of space.lines) depthMm = Math.min(depthMm, distanceToPolyline(line, false, x, y));
      places.push({ at: [x, y], depthMm });
    }
  return besideBoxes(places, space.boxes);
}

/** The same places once boxes have been written in, deepest first. Cost: places × boxes. */
export function besideBoxes(places: readonly Place[], boxes: readonly Box[]): Place[] {
  return places
    .map(({ at, depthMm }) => ({ at, depthMm: boxes.reduce((least, box) => Math.min(least, distanceToBox(box, ...at)), depthMm) }))
    .sort((p, q) => q.depthMm - p.depthMm);
}

/** The deepest place at which a box fits, or undefined. */
export function fitBox(
  space: Space,
  places: readonly Place[],
  size: Pick<Box, 'widthMm' | 'heightMm'>,
  angles: readonly number[],
  marginMm: number,
): Box | undefined {
  const least = Math.min(size.widthMm, size.heightMm) / 2 + marginMm;
  for (const { at, depthMm } of places) {
    if (depthMm < least) return undefined;
    for (const angle of angles) {
      const box = { centre: at, ...size, angle };
      if (isFree(space, box, marginMm)) return box;
    }
  }
  return undefined;
}
