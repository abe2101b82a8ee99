/*
 * Typed arrays that grow by half while a reader fills them; the reader keeps the count.
 */

/** `array` or a copy of it with room for `needed` elements. */
export function grownF64(array: Float64Array, needed: number): Float64Array {
  if (needed <= array.length) return array;
  const grown = new Float64Array(Math.max(needed, Math.ceil(array.length * 1.5)));
  grown.set(array);
  return grown;
}

/** `array` or a copy of it with room for `needed` elements. */
export function grownU32(array: Uint32Array, needed: number): Uint32Array {
  if (needed <= array.length) return array;
  const grown = new Uint32Array(Math.max(needed, Math.ceil(array.length * 1.5)));
  grown.set(array);
  return grown;
}
