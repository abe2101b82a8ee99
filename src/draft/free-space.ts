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
  if (!meetsNothing(space, box, marginMm)) return false;
  return containsPoint(space.outer, ...box.centre) && !space.holes.some((hole) => containsPoint(hole, ...box.centre));
}

/** True if a box, grown by a margin, meets neither cut lines nor anything drawn or written (inside or outside the part). */
export function meetsNothing(space: Space, box: Box, marginMm: number): boolean {
  const frame = frameOf(box, marginMm);
  if (polylineMeets(space.outer, true, frame)) return false;
  for (const hole of space.holes) if (polylineMeets(hole, true, frame)) return false;
  for (const line of space.lines) if (polylineMeets(line, false, frame)) return false;
  const grown = { ...box, widthMm: box.widthMm + 2 * marginMm, heightMm: box.heightMm + 2 * marginMm };
  return !space.boxes.some((other) => boxesMeet(other, grown));
}

/** A box in numbers that the loop over segments needs: centre, direction, half sizes. */
interface Frame {
  readonly x: number;
  readonly y: number;
  readonly c: number;
  readonly s: number;
  readonly halfWidth: number;
  readonly halfHeight: number;
}

function frameOf({ centre, widthMm, heightMm, angle }: Box, marginMm: number): Frame {
  return {
    x: centre[0],
    y: centre[1],
    c: cos(angle),
    s: sin(angle),
    halfWidth: widthMm / 2 + marginMm,
    halfHeight: heightMm / 2 + marginMm,
  };
}

/** True if two boxes overlap: no side of either separates them (separating axes). */
export function boxesMeet(a: Box, b: Box): boolean {
  const [dx, dy] = [b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]];
  const reach = (Math.hypot(a.widthMm, a.heightMm) + Math.hypot(b.widthMm, b.heightMm)) / 2;
  if (dx * dx + dy * dy > reach * reach) return false;
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

function polylineMeets(points: F64, closed: boolean, { x, y, c, s, halfWidth, halfHeight }: Frame): boolean {
  const n = points.length;
  let beforeX = c * (points[0] - x) + s * (points[1] - y);
  let beforeY = c * (points[1] - y) - s * (points[0] - x);
  if (n === 2) return Math.abs(beforeX) <= halfWidth && Math.abs(beforeY) <= halfHeight;
  for (let i = 2; i < (closed ? n + 2 : n); i += 2) {
    const k = i < n ? i : 0;
    const hereX = c * (points[k] - x) + s * (points[k + 1] - y);
    const hereY = c * (points[k + 1] - y) - s * (points[k] - x);
    if (segmentMeets(beforeX, beforeY, hereX, hereY, halfWidth, halfHeight)) return true;
    beforeX = hereX;
    beforeY = hereY;
  }
  return false;
}

/** Clips a segment to |x| ≤ a, |y| ≤ b: true if something is left (parametric clip, one axis after the other). */
function segmentMeets(x0: number, y0: number, x1: number, y1: number, a: number, b: number): boolean {
  if ((x0 > a && x1 > a) || (x0 < -a && x1 < -a) || (y0 > b && y1 > b) || (y0 < -b && y1 < -b)) return false;
  let low = 0;
  let high = 1;
  if (x0 !== x1) {
    const [one, two] = [(-a - x0) / (x1 - x0), (a - x0) / (x1 - x0)];
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  }
  if (y0 !== y1) {
    const [one, two] = [(-b - y0) / (y1 - y0), (b - y0) / (y1 - y0)];
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  }
  return low <= high;
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
  const step = Math.max(0.5, Math.max(max[0] - min[0], max[1] - min[1]) / gridCount);
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
