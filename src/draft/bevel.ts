/*
 * What the fold does to the edge of a sheet. Each edge is cut at half the fold from square. The mitre plane goes through the neutral plane's edge, so
 * seen from there the outer face reaches (1 − k)·t·tan(fold/2) outward and the inner face −k·t·tan(fold/2): together t·tan(fold/2). The cut line is the
 * face that reaches further (contract: Cut line). k is the neutral factor, t the thickness.
 */
import { tan } from '../base/elementary.ts';
import { toRadians } from '../units/angle.ts';
import type { FoldProfile } from './fold.ts';
import { foldAtFraction } from './fold.ts';

/** How far faces and cut line stand outside the seam line, mm. */
export interface Reach {
  readonly outer: number;
  readonly inner: number;
  readonly cut: number;
}

/** What turns a fold into reaches. */
export interface BevelRule {
  readonly thicknessMm: number;
  readonly neutralFactor: number;
  /** False: every edge is cut square on the seam line. */
  readonly on: boolean;
}

/** A bevel is shown where a square cut would leave a gap above this, mm (contract: Fold). */
export const shownGapMm = 1;

/** Steepest edge that a blade guide holds; steeper ones are sanded or cut twice. Common practice. */
export const bladeLimit = toRadians(45);

/** Edges are never reckoned steeper than this: the reach of a fold near 180° has no bound. */
const steepest = toRadians(60);

/** Gap that a square cut would leave open, 2·t·tan(|fold|/2), mm. */
export function gapOf(fold: number, thicknessMm: number): number {
  return 2 * thicknessMm * tan(Math.min(steepest, Math.abs(fold) / 2));
}

/**
 * Reaches of both faces and the cut line at one place of a seam.
 * Below the shown gap the edge is cut square on the seam line; between half that gap and all of it the reaches fade in, so that the cut line
 * stays smooth where a bevel begins.
 */
export function reachOf(fold: number, rule: BevelRule): Reach {
  if (!rule.on) return { outer: 0, inner: 0, cut: 0 };
  const half = Math.max(-steepest, Math.min(steepest, fold / 2));
  const fade = Math.min(1, Math.max(0, (2 * gapOf(fold, rule.thicknessMm)) / shownGapMm - 1));
  const spread = fade * rule.thicknessMm * tan(half);
  const outer = (1 - rule.neutralFactor) * spread;
  const inner = -rule.neutralFactor * spread;
  return { outer, inner, cut: Math.max(outer, inner) };
}

/** A stretch of a seam whose bevel is shown, by shares of the seam's length. */
export interface BevelStretch {
  readonly from: number;
  readonly to: number;
  /** Least and largest bevel of an edge, degrees, signed like the fold. */
  readonly leastDeg: number;
  readonly mostDeg: number;
}

/** Largest difference of bevel that one letter stands for, degrees. */
const stretchSpreadDeg = 10;

/**
 * Stretches whose gap is above 1 mm, cut where the sign turns or where the angle has changed by more than one letter can stand for.
 */
export function bevelStretches(profile: FoldProfile, thicknessMm: number): BevelStretch[] {
  const samples = 200;
  const stretches: BevelStretch[] = [];
  let open: BevelStretch | undefined;
  for (let i = 0; i <= samples; i++) {
    const at = i / samples;
    const fold = foldAtFraction(profile, at);
    const degrees = (fold * 90) / Math.PI;
    const shown = gapOf(fold, thicknessMm) > shownGapMm;
    if (open !== undefined) {
      const least = Math.min(open.leastDeg, degrees);
      const most = Math.max(open.mostDeg, degrees);
      const sameSign = Math.sign(degrees) === Math.sign(open.leastDeg);
      if (shown && sameSign && most - least <= stretchSpreadDeg) {
        open = { ...open, to: at, leastDeg: least, mostDeg: most };
        continue;
      }
      stretches.push(shown && sameSign ? { ...open, to: at } : open);
      open = undefined;
    }
    if (shown) open = { from: at, to: at, leastDeg: degrees, mostDeg: degrees };
  }
  if (open !== undefined) stretches.push(open);
  return stretches.filter(({ from, to }) => to > from);
}

/** The words beside a bevelled stretch: the angle and the face that loses foam. A ridge loses foam inside, a valley outside. */
export function bevelWords(stretch: BevelStretch): string {
  const [a, b] = [Math.abs(stretch.leastDeg), Math.abs(stretch.mostDeg)].map((degrees) => Math.round(degrees)).sort((x, y) => x - y);
  return `${a === b ? `${a}°` : `${a}-${b}°`} off ${stretch.mostDeg > 0 ? 'inner' : 'outer'}`;
}
