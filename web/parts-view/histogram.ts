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
  const width = (high - low) / count;
  const edge = (i: number): number => low + i * width;
  /** By comparison with the edges as they are shown: a bar then picks exactly the faces that it counts. */
  const barOf = (value: number): number => {
    let at = Math.min(count - 1, Math.max(0, Math.floor((value - low) / width)));
    if (at > 0 && value < edge(at)) at--;
    if (at < count - 1 && value > edge(at + 1)) at++;
    return at;
  };
  let whole = 0;
  values.forEach((value, i) => {
    sums[barOf(value)] += weights[i];
    whole += weights[i];
  });
  const [least, most] = values.reduce(([a, b], value) => [Math.min(a, value), Math.max(b, value)], [low, high]);
  return Array.from(sums, (sum, i) => ({
    from: i === 0 ? least : edge(i),
    to: i === count - 1 ? most : edge(i + 1),
    share: whole > 0 ? sum / whole : 0,
  }));
}
