/*
 * Version letters of a part: three letters from what it looks like, to a tenth of a millimetre of tolerance in the sums that it hashes, so that the same
 * part keeps its letters however often it is drafted, and a changed one gets others. FNV-1a, 32 bits.
 */
import type { F64 } from '../base/arrays.ts';

/** Letters that are not taken for digits or for each other. */
const alphabet = 'ABCDEFHKLMNPRTUVWXYZ';

/** Step to which lengths are rounded before hashing, mm. */
const stepMm = 0.05;

/**
 * @param lengths numbers in mm that describe the part, in a fixed order
 * @param words everything else that is drawn on it
 */
export function versionOf(lengths: readonly F64[], words: readonly string[]): string {
  let hash = 0x811c9dc5;
  const mix = (value: number): void => {
    for (let shift = 0; shift < 32; shift += 8) hash = Math.imul(hash ^ ((value >>> shift) & 0xff), 0x01000193);
  };
  for (const list of lengths) {
    mix(list.length);
    for (let i = 0; i < list.length; i++) mix(Math.round(list[i] / stepMm));
  }
  for (const word of words) for (let i = 0; i <= word.length; i++) mix(i < word.length ? word.charCodeAt(i) : 0);
  let rest = hash >>> 0;
  let letters = '';
  for (let i = 0; i < 3; i++) {
    letters += alphabet[rest % alphabet.length];
    rest = Math.floor(rest / alphabet.length);
  }
  return letters;
}
