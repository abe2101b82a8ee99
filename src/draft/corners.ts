/*
 * Corners inside a side: places where its direction jumps. A real corner looks the same from near and from far; a tight curve halves its turn when the
 * window is halved.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { atan2 } from '../base/elementary.ts';
import { toRadians } from '../units/angle.ts';
import { pointAlong } from '../plane/polyline.ts';

/** Window on either side over which a direction is taken, mm. */
const windowMm = 4;
/** Least turn that counts as a corner. */
const leastTurn = toRadians(20);
/** Share of the turn that half the window must still show. */
const sharpShare = 0.75;

/**
 * Shares of the length of a polyline at which it has a corner, ascending, ends excluded.
 * @param points 2·n; @param lengths arc length at each point
 */
export function cornersOf(points: F64, lengths: F64, closed: boolean): number[] {
  const total = lengths[lengths.length - 1];
  const window = Math.min(windowMm, total / 8);
  if (!(window > 0)) return [];
  const found: { at: number; turn: number }[] = [];
  for (let i = 1; i + 1 < lengths.length; i++) {
    const at = lengths[i];
    if (!closed && (at < window || total - at < window)) continue;
    const turn = Math.abs(turnAt(points, lengths, at, window, closed));
    if (turn < leastTurn || Math.abs(turnAt(points, lengths, at, window / 2, closed)) < sharpShare * turn) continue;
    const last = found.at(-1);
    if (last !== undefined && at - last.at < window) {
      if (turn > last.turn) found[found.length - 1] = { at, turn };
    } else found.push({ at, turn });
  }
  return found.map(({ at }) => at / total);
}

function turnAt(points: F64, lengths: F64, at: number, window: number, closed: boolean): number {
  const total = lengths[lengths.length - 1];
  const wrap = (s: number): Vec2 => pointAlong(points, lengths, closed ? ((s % total) + total) % total : s);
  const [before, here, after] = [wrap(at - window), wrap(at), wrap(at + window)];
  const [ux, uy] = [here[0] - before[0], here[1] - before[1]];
  const [vx, vy] = [after[0] - here[0], after[1] - here[1]];
  return atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}
