/*
 * Area-weighted distributions of a quantity over faces: least, median, 95 %, 99 %, largest.
 * A quantile q is the smallest value v such that faces with a value of at most v hold at least the share q of the area.
 * Found by halving the range by histogram until few values are left, then sorting those: linear, where sorting all faces by an index
 * comparison took 20 times as long at a million faces.
 */
import type { F64 } from '../base/arrays.ts';
import type { Distribution } from './flat-part.ts';

const binCount = 1024;
const fewEnough = 64;

/**
 * @param values one a face, finite
 * @param weights one a face, not negative, sum positive
 */
export function distribution(values: F64, weights: F64): Distribution {
  let min = Infinity;
  let max = -Infinity;
  let total = 0;
  for (let f = 0; f < values.length; f++) {
    if (values[f] < min) min = values[f];
    if (values[f] > max) max = values[f];
    total += weights[f];
  }
  const at = (share: number): number => weightedQuantile(values, weights, share * total, min, max);
  return { min, median: at(0.5), p95: at(0.95), p99: at(0.99), max };
}

function weightedQuantile(values: F64, weights: F64, target: number, min: number, max: number): number {
  let inside: ArrayLike<number> = allIndices(values.length);
  let [low, high, below] = [min, max, 0];
  while (inside.length > fewEnough && high > low) {
    const scale = binCount / (high - low);
    if (!Number.isFinite(scale)) break;
    const binOf = (value: number): number => Math.min(binCount - 1, Math.floor((value - low) * scale));
    const binWeight = new Float64Array(binCount);
    for (let i = 0; i < inside.length; i++) binWeight[binOf(values[inside[i]])] += weights[inside[i]];
    let bin = 0;
    while (bin < binCount - 1 && below + binWeight[bin] < target) below += binWeight[bin++];
    const kept: number[] = [];
    let [keptLow, keptHigh] = [Infinity, -Infinity];
    for (let i = 0; i < inside.length; i++) {
      const value = values[inside[i]];
      if (binOf(value) !== bin) continue;
      kept.push(inside[i]);
      if (value < keptLow) keptLow = value;
      if (value > keptHigh) keptHigh = value;
    }
    if (kept.length === 0) return high;
    inside = kept;
    low = keptLow;
    high = keptHigh;
  }
  return quantileBySorting(values, weights, inside, target - below);
}

function quantileBySorting(values: F64, weights: F64, inside: ArrayLike<number>, target: number): number {
  const order = Array.from(inside).sort((f, g) => values[f] - values[g] || f - g);
  let sum = 0;
  for (const f of order) {
    sum += weights[f];
    if (sum >= target) return values[f];
  }
  return values[order[order.length - 1]];
}

function allIndices(count: number): Uint32Array {
  const indices = new Uint32Array(count);
  for (let i = 0; i < count; i++) indices[i] = i;
  return indices;
}
