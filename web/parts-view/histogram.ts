/*
 * Shares of area by value.
 */
export interface Bar {
  readonly from: number;
  readonly to: number;
  /** Share of the whole area, 0…1. */
  readonly share: number;
}

/** `count` bars of equal width from `low` to `high`; what lies beyond is counted in the outermost bars, which then reach as far. */
export function histogramOf(values: readonly number[], weights: readonly number[], low: number, high: number, count: number): Bar[] {
  const sums = new Float64Array(count);
  let whole = 0;
  values.forEach((value, i) => {
    const at = Math.floor(((value - low) / (high - low)) * count);
    sums[Math.min(count - 1, Math.max(0, at))] += weights[i];
    whole += weights[i];
  });
  const width = (high - low) / count;
  const [least, most] = values.reduce(([a, b], value) => [Math.min(a, value), Math.max(b, value)], [low, high]);
  return Array.from(sums, (sum, i) => ({
    from: i === 0 ? least : low + i * width,
    to: i === count - 1 ? most : low + (i + 1) * width,
    share: whole > 0 ? sum / whole : 0,
  }));
}
