/*
 * What is said about a part beside its shape.
 */
import type { Verdict } from '../../src/flatten/flat-part.ts';
import type { BodySide } from '../../src/patches/patch.ts';
import { drafted } from '../state.ts';

export const sideWords: Readonly<Record<BodySide, string>> = { L: 'left', R: 'right', C: 'middle' };

export const verdictWords: Readonly<Record<Verdict, string>> = {
  cold: 'bends cold',
  hot: 'needs heat',
  'needs-seam': 'needs a seam',
};

/** "cut one left, one right" where a part has its mirror image. */
export function countWords(side: BodySide, pair: string | undefined): string {
  if (pair !== undefined) return 'cut one left, one right';
  return side === 'C' ? 'cut one' : `cut one, ${sideWords[side]}`;
}

/** The letter that the drafted part carries, once there is one, and its name. */
export const partName = ({ id, name }: { readonly id: string; readonly name: string }): string => {
  const letter = drafted.value?.parts.find((part) => part.id === id)?.letter;
  return letter === undefined ? name || id : `${letter} · ${name || id}`;
};
