/*
 * Order of lists.
 */

/** Entries i and i + 1 exchanged. */
export function swapped<T>(items: readonly T[], i: number): T[] {
  return items.map((item, j) => (j === i ? items[i + 1] : j === i + 1 ? items[i] : item));
}
