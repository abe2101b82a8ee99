/*
 * The up arrow: +y of a part is the body's up. (On a part that lies flat like a lid it is the body's front, and the words say so.)
 */
import type { Vec2 } from '../base/arrays.ts';
import { lineCurve } from './curve.ts';
import type { Curve } from './drawing.ts';

/** Width that the arrow takes beside a block of words, mm. */
export const arrowWidth = (heightMm: number): number => 1.8 * heightMm;

/** A shaft with an open head, pointing to +y. */
export function arrowCurves(foot: Vec2, lengthMm: number, heightMm: number): { readonly curves: readonly Curve[]; readonly tip: Vec2 } {
  const tip: Vec2 = [foot[0], foot[1] + lengthMm];
  const wing = Math.min(0.55 * heightMm, lengthMm / 3);
  return {
    tip,
    curves: [
      lineCurve(foot, tip),
      {
        start: [tip[0] - wing, tip[1] - 1.6 * wing],
        segments: [
          { kind: 'line', to: tip },
          { kind: 'line', to: [tip[0] + wing, tip[1] - 1.6 * wing] },
        ],
        closed: false,
      },
    ],
  };
}
