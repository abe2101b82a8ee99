/*
 * Paths as a blade needs them. A drag blade cuts behind its holder's axis by the blade offset: the axis runs ahead by that much along each
 * straight piece, and swings round at a corner on an arc about the corner, so that the tip stays there while it turns. Overcut goes on past
 * the start of a closed path, so that the cut meets itself. Both are off unless the maker types them: most cutters do it themselves.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { atan2, cos, sin } from '../base/elementary.ts';
import { toRadians } from '../units/angle.ts';

export interface BladeSettings {
  /** Distance of the tip behind the axis, mm; 0 leaves the path alone. */
  readonly offsetMm: number;
  /** How far a closed path goes on past its start, mm. */
  readonly overcutMm: number;
}

export const bladeDefaults: BladeSettings = { offsetMm: 0, overcutMm: 0 };

/** Turns below this need no swing: the tip follows by itself. */
const leastSwing = toRadians(10);
/** Angle between points of a swing. */
const swingStep = toRadians(10);

/** The open polyline that the tip should follow: a closed one comes back to its start, and goes on by the overcut. */
export function withOvercut(points: F64, closed: boolean, overcutMm: number): readonly Vec2[] {
  const list: Vec2[] = [];
  for (let k = 0; k < points.length; k += 2) list.push([points[k], points[k + 1]]);
  if (!closed) return list;
  const count = list.length;
  list.push(list[0]);
  let left = overcutMm;
  for (let k = 1; left > 0 && k <= count; k++) {
    const [from, to] = [list[k - 1], list[k % count]];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length === 0) continue;
    const share = Math.min(1, left / length);
    list.push([from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]);
    left -= length;
  }
  return list;
}

/** The way of the axis for a tip that follows the polyline. */
export function holderPath(tip: readonly Vec2[], offsetMm: number): readonly Vec2[] {
  if (offsetMm === 0) return tip;
  const axis: Vec2[] = [];
  let before: number | undefined;
  for (let k = 1; k < tip.length; k++) {
    const [from, to] = [tip[k - 1], tip[k]];
    if (from[0] === to[0] && from[1] === to[1]) continue;
    const heading = atan2(to[1] - from[1], to[0] - from[0]);
    const ahead = (point: Vec2, angle: number): Vec2 => [point[0] + offsetMm * cos(angle), point[1] + offsetMm * sin(angle)];
    if (before !== undefined) for (const angle of swing(before, heading)) axis.push(ahead(from, angle));
    axis.push(ahead(from, heading), ahead(to, heading));
    before = heading;
  }
  return axis;
}

/** Angles between two headings, the short way round, ends left out. */
function swing(from: number, to: number): readonly number[] {
  let turn = to - from;
  if (turn > Math.PI) turn -= 2 * Math.PI;
  if (turn < -Math.PI) turn += 2 * Math.PI;
  if (Math.abs(turn) < leastSwing) return [];
  const count = Math.ceil(Math.abs(turn) / swingStep);
  return Array.from({ length: count - 1 }, (_, k) => from + (turn * (k + 1)) / count);
}
