/*
 * Turns that a part may take on a sheet, by the stock's grain; where any turn is allowed, quarter turns from the turn in which its box is smallest.
 */
import type { F64 } from '../base/arrays.ts';
import { atan2 } from '../base/elementary.ts';
import { toDegrees } from '../units/angle.ts';
import type { Stock } from './settings.ts';

/**
 * Degrees, counter-clockwise, each in 0…360.
 * @param outline any polygon, mm
 */
export function allowedTurns(turns: Stock['turns'], outline: F64): number[] {
  switch (turns) {
    case 'none':
      return [0];
    case '180':
      return [0, 180];
    case '90':
      return [0, 90, 180, 270];
    case 'any': {
      const best = smallestBoxTurn(outline);
      return [0, 90, 180, 270].map((quarter) => (best + quarter) % 360);
    }
    default:
      return turns satisfies never;
  }
}

/** Turn in 0…90 degrees in which the polygon's box has the least area: one side of the least box lies along an edge of the hull [freeman-shapira1975]. */
export function smallestBoxTurn(outline: F64): number {
  let bestArea = Infinity;
  let best = 0;
  for (let i = 0; i < outline.length; i += 2) {
    const j = (i + 2) % outline.length;
    const length = Math.hypot(outline[j] - outline[i], outline[j + 1] - outline[i + 1]);
    if (length === 0) continue;
    const [c, s] = [(outline[j] - outline[i]) / length, (outline[j + 1] - outline[i + 1]) / length];
    let [lowU, highU, lowV, highV] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let k = 0; k < outline.length; k += 2) {
      const u = c * outline[k] + s * outline[k + 1];
      const v = c * outline[k + 1] - s * outline[k];
      lowU = Math.min(lowU, u);
      highU = Math.max(highU, u);
      lowV = Math.min(lowV, v);
      highV = Math.max(highV, v);
    }
    const area = (highU - lowU) * (highV - lowV);
    if (area >= bestArea) continue;
    bestArea = area;
    best = ((-toDegrees(atan2(s, c)) % 90) + 90) % 90;
  }
  return best;
}
