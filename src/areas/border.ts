/*
 * Where an area's border crosses an edge: the root of the paint field along the straight edge, found on the field itself, so that the
 * border does not depend on how the surface is divided into faces.
 */
import { borderSagMm } from '../base/tolerance.ts';

/**
 * The share along a straight stretch at which a value changes its sign.
 * @param valueAt the value at a share; of different sign (or 0) at 0 and 1
 * @returns share in 0…1, to about 1e-12
 * Regula falsi with the stale end's value halved, and halving where the value is not finite.
 */
export function crossingShare(valueAt: (share: number) => number): number {
  let [low, high] = [0, 1];
  let [atLow, atHigh] = [valueAt(0), valueAt(1)];
  if (atLow === 0) return 0;
  if (atHigh === 0) return 1;
  for (let i = 0; i < 60 && high - low > shareStep; i++) {
    const isFinite = Math.abs(atLow) < Infinity && Math.abs(atHigh) < Infinity;
    // Every third step halves, so that a flat end cannot hold the search up.
    const share = isFinite && i % 3 !== 2 ? low + ((high - low) * atLow) / (atLow - atHigh) : (low + high) / 2;
    if (share <= low || share >= high) return share <= low ? low : high;
    const value = valueAt(share);
    if (value === 0) return share;
    if (value < 0 === atLow < 0) [low, atLow, atHigh] = [share, value, atHigh / 2];
    else [high, atHigh, atLow] = [share, value, atLow / 2];
  }
  return (low + high) / 2;
}

/** Shares closer than 2⁻⁴⁰ are one. */
const shareStep = 1 / 1099511627776;

/** Longest edge that a border of this finest radius may cross in one straight stretch: its sagitta l²/8r stays within `borderSagMm`. */
export function longestBorderEdge(finestMm: number): number {
  return Math.sqrt(8 * Math.max(finestMm, 1) * borderSagMm);
}
