/*
 * Single-stroke lettering: text as strokes that a pen draws once. Accented letters are composed from base letter and accent (Unicode canonical
 * decomposition); letters without a glyph are written with plain ones where that is customary, else as a box, and are reported.
 */
import type { Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { capitalUnits, glyphs } from './glyphs.ts';

/** Accents, centred over x = 0, standing on y = 0 (below the base line for cedilla and ogonek), in glyph units. Drawn by us. */
const accents: Readonly<Record<string, string>> = {
  '\u0300': '-60 150 40 20',
  '\u0301': '60 150 -40 20',
  '\u0302': '-100 20 0 130 100 20',
  '\u0303': '-130 40 -90 100 -40 100 40 50 90 50 130 110',
  '\u0304': '-110 70 110 70',
  '\u0306': '-100 130 -60 60 0 40 60 60 100 130',
  '\u0307': '-20 60 0 85 20 60 0 35 -20 60',
  '\u0308': '-95 60 -75 85 -55 60 -75 35 -95 60,55 60 75 85 95 60 75 35 55 60',
  '\u030a': '0 20 -50 45 -65 95 -50 145 0 170 50 145 65 95 50 45 0 20',
  '\u030b': '20 150 -60 20,120 150 40 20',
  '\u030c': '-100 130 0 20 100 130',
  '\u0327': '0 0 -20 -70 50 -90 50 -150 -20 -180 -70 -160',
  '\u0328': '40 0 -20 -80 0 -150 70 -160',
};

const belowBase = new Set(['\u0327', '\u0328']);

/** Letters that have no decomposition and no glyph, as they are customarily written with plain letters. */
const plainSpelling: Readonly<Record<string, string>> = {
  'Æ': 'AE', 'æ': 'ae', 'Œ': 'OE', 'œ': 'oe', 'Þ': 'Th', 'þ': 'th', 'ð': 'd', 'Đ': 'D', 'đ': 'd', 'Ł': 'L', 'ł': 'l', 'ı': 'i', 'ẞ': 'SS',
  '\u2018': "'", '\u2019': "'", '\u201a': ',', '\u201e': '"', '\u2026': '...', '\u2022': '·', '\u2212': '-', 'µ': 'u', 'μ': 'u', '§': 'S',
}; // prettier-ignore

const box: readonly [number, string] = [600, '160 0 160 600 560 600 560 0 160 0'];

/** Height of small letters, in glyph units. */
const smallHeight = 441;

export interface Lettering {
  /** Strokes relative to the start of the base line, x along it, mm. */
  readonly strokes: readonly (readonly Vec2[])[];
  readonly widthMm: number;
  /** Characters that were spelled with plain letters or drawn as a box, each once. */
  readonly replaced: readonly string[];
}

/**
 * Strokes of one line of text.
 * @param heightMm height of a capital letter
 */
export function letterText(text: string, heightMm: number): Lettering {
  const scale = heightMm / capitalUnits;
  const replaced = new Set<string>();
  const strokes: Vec2[][] = [];
  let pen = 0;
  for (const character of text.normalize('NFC')) {
    for (const [advance, data] of spell(character, replaced)) {
      for (const stroke of data.split(',')) {
        if (stroke === '') continue;
        const numbers = stroke.split(' ').map(Number);
        const points: Vec2[] = [];
        for (let i = 0; i < numbers.length; i += 2) points.push([(pen + numbers[i]) * scale, numbers[i + 1] * scale]);
        strokes.push(points);
      }
      pen += advance;
    }
  }
  const xs = strokes.flat().map(([x]) => x);
  const left = xs.length > 0 ? Math.min(...xs) : 0;
  const right = xs.length > 0 ? Math.max(...xs) : 0;
  return {
    strokes: strokes.map((stroke) => stroke.map(([x, y]) => [x - left, y] as const)),
    widthMm: right - left,
    replaced: [...replaced],
  };
}

function spell(character: string, replacedInto: Set<string>): readonly (readonly [number, string])[] {
  if (Object.hasOwn(glyphs, character)) return [glyphs[character]];
  const [base, ...marks] = [...character.normalize('NFD')];
  if (marks.length > 0 && Object.hasOwn(glyphs, base) && marks.every((mark) => Object.hasOwn(accents, mark))) return [compose(base, marks)];
  if (character.trim() === '') return [glyphs[' ']];
  replacedInto.add(character);
  if (!Object.hasOwn(plainSpelling, character)) return [box];
  return [...plainSpelling[character]].map((plain) => glyphs[plain]);
}

function compose(base: string, marks: readonly string[]): readonly [number, string] {
  const [advance, data] = glyphs[base];
  const strokes = data.split(',');
  // i and j lose their dot under an accent.
  const kept = (base === 'i' || base === 'j') && marks.some((mark) => !belowBase.has(mark)) ? strokes.slice(1) : strokes;
  const xs = kept.flatMap((stroke) =>
    stroke
      .split(' ')
      .map(Number)
      .filter((_, i) => i % 2 === 0),
  );
  const centre = (Math.min(...xs) + Math.max(...xs)) / 2;
  const isTall = base !== base.toLowerCase() || 'bdfhklt'.includes(base);
  let above = (isTall ? capitalUnits : smallHeight) + 60;
  for (const mark of marks) {
    const lift = belowBase.has(mark) ? 0 : above;
    if (lift > 0) above += 180;
    for (const stroke of accents[mark].split(','))
      kept.push(
        stroke
          .split(' ')
          .map((number, i) => Number(number) + (i % 2 === 0 ? centre : lift))
          .join(' '),
      );
  }
  return [advance, kept.join(',')];
}

/** Strokes turned by an angle (radians, counter-clockwise) and moved so that the base line starts at a point. */
export function placeStrokes(strokes: readonly (readonly Vec2[])[], at: Vec2, angle: number): Vec2[][] {
  const [c, s] = [cos(angle), sin(angle)];
  return strokes.map((stroke) => stroke.map(([x, y]) => [at[0] + c * x - s * y, at[1] + s * x + c * y] as const));
}
