/*
 * Numbers as files want them: plain decimals, never an exponent, never "-0", no trailing zeros. `toFixed` is exactly specified, so the
 * text is the same in every engine.
 */

/**
 * A number as text.
 * @param places digits kept after the point
 */
export function decimal(value: number, places: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`A file cannot hold the number ${value}.`);
  const text = value.toFixed(places);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}
