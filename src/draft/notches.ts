/*
 * Notches: where they stand on a seam and what is drawn for them (contract: Notches). Places are shares of the seam's length, so both mates carry
 * them at equal shares of their own arc length. About 60 mm apart on straights and 30 mm on curves, two at least, and none in the middle.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import type { MeasuredChain } from '../plane/chain.ts';
import { alongChain } from '../plane/chain.ts';
import { atan2 } from '../base/elementary.ts';
import { pointAlong } from '../plane/polyline.ts';
import { toRadians } from '../units/angle.ts';
import { lineCurve } from './curve.ts';
import type { Curve } from './drawing.ts';
import { firstShare, tickGapMm } from './notch-codes.ts';
import type { DraftSettings } from './settings.ts';

const straightSpacingMm = 60;
const curveSpacingMm = 30;
/** A stretch of 60 mm that turns by more than this is a curve: radius about 115 mm. */
const curveTurn = toRadians(30);
/** Room for one notch with the most ticks and a gap that keeps it apart from the next, mm. */
const notchRoomMm = 15;
const tickLengthMm = 5;

/** A side's border as it was flattened, before any change of draft: numbers of notches must not follow a fitting. */
interface Border {
  readonly points: F64;
  readonly lengths: F64;
  readonly lengthMm: number;
}

/** How many notches a seam asks for and how many have room. */
export function countNotches(mates: readonly Border[]): { readonly count: number; readonly room: number } {
  const lengthMm = Math.min(...mates.map((mate) => mate.lengthMm));
  const wanted = Math.max(...mates.map(spacingUnits));
  const room = Math.max(2, Math.floor(lengthMm / notchRoomMm));
  return { count: Math.min(room, Math.max(2, Math.round(wanted))), room };
}

/** Length in spacings: straight stretches count by 60 mm, curved ones by 30 mm. Turns are taken between chords of about 8 mm. */
function spacingUnits({ points, lengths, lengthMm }: Border): number {
  const steps = Math.max(1, Math.round(lengthMm / straightSpacingMm));
  const step = lengthMm / steps;
  const chords = 8;
  let units = 0;
  for (let i = 0; i < steps; i++) {
    let turn = 0;
    let before: Vec2 | undefined;
    for (let j = 0; j < chords; j++) {
      const [from, to] = [j, j + 1].map((k) => pointAlong(points, lengths, (i + k / chords) * step));
      const chord: Vec2 = [to[0] - from[0], to[1] - from[1]];
      if (before !== undefined)
        turn += Math.abs(atan2(before[0] * chord[1] - before[1] * chord[0], before[0] * chord[0] + before[1] * chord[1]));
      before = chord;
    }
    units += step / ((turn * straightSpacingMm) / step > curveTurn ? curveSpacingMm : straightSpacingMm);
  }
  return units;
}

/** Shares of the seam's length at which its notches stand: evenly spread, all moved towards the start, so that no pattern is symmetric. */
export function notchShares(count: number): number[] {
  return [...Array(count).keys()].map((i) => (i + firstShare) / count);
}

export interface NotchDrawing {
  readonly at: Vec2;
  readonly curves: readonly Curve[];
}

/**
 * What is drawn for one notch: `ticks` marks across the edge, side by side along the seam.
 * @param measured seam line in border direction, the part on its left
 * @param share of the seam line's length
 * @param cutMm how far the cut line stands outside the seam line here
 * @param tracedMm how far the traced face's edge stands outside the seam line here: ticks reach past it
 * @param allowanceMm slit and V are drawn only inside an allowance; else ticks
 */
export function drawNotch(
  measured: MeasuredChain,
  share: number,
  ticks: number,
  edge: { readonly cutMm: number; readonly tracedMm: number; readonly allowanceMm: number },
  kind: DraftSettings['notch'],
): NotchDrawing {
  const centre = share * measured.lengthMm;
  const curves: Curve[] = [];
  for (let i = 0; i < ticks; i++) {
    const { at, direction } = alongChain(measured, centre + (i - (ticks - 1) / 2) * tickGapMm);
    const outside = (distance: number, along = 0): Vec2 => [
      at[0] + distance * direction[1] + along * direction[0],
      at[1] - distance * direction[0] + along * direction[1],
    ];
    if (edge.allowanceMm > 0 && kind !== 'tick') {
      const depth = Math.min(edge.allowanceMm / 2, tickLengthMm);
      const foot = outside(edge.cutMm - depth);
      if (kind === 'slit') curves.push(lineCurve(outside(edge.cutMm), foot));
      else {
        const half = Math.min(depth / 2, tickGapMm / 2);
        curves.push({
          start: outside(edge.cutMm, -half),
          segments: [
            { kind: 'line', to: foot },
            { kind: 'line', to: outside(edge.cutMm, half) },
          ],
          closed: false,
        });
      }
    } else curves.push(lineCurve(outside(edge.cutMm), outside(Math.min(edge.cutMm, edge.tracedMm) - tickLengthMm)));
  }
  return { at: alongChain(measured, centre).at, curves };
}
