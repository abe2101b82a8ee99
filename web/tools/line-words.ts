/*
 * Kinds of line in the maker's words, and their colours over the body. Dashes and names tell them apart without colour.
 */
import type { LineKind } from '../../src/lines/line.ts';

export const lineWords: Readonly<Record<LineKind, string>> = {
  seam: 'Seam',
  dart: 'Dart',
  opening: 'Opening',
  drawn: 'Drawn line',
  reference: 'Reference line',
};

export const lineNotes: Readonly<Record<LineKind, string>> = {
  seam: 'cuts; both sides are glued together again',
  dart: 'a cut that ends inside a part',
  opening: 'cuts; not glued: neck, armhole, closure',
  drawn: 'a mark on the part: ridge, recess, overlay',
  reference: 'centre line, collar line: a thin mark',
};

export const lineColours: Readonly<Record<LineKind, string>> = {
  seam: '#1d1813',
  dart: '#7a2a1a',
  opening: '#0b5a7d',
  drawn: '#6b3a10',
  reference: '#55504a',
};

export const lineDashes: Readonly<Record<LineKind, readonly [number, number] | undefined>> = {
  seam: undefined,
  dart: undefined,
  opening: [9, 4],
  drawn: undefined,
  reference: [14, 5],
};
