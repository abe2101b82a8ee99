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

/** A letter ready to write: advance, strokes x y x y …, and how far its ink reaches; all in glyph units. */
interface Letter {
  readonly advance: number;
  readonly strokes: readonly (readonly number[])[];
  readonly left: number;
  readonly right: number;
}

const parseStrokes = (data: string): number[][] => (data === '' ? [] : data.split(',').map((stroke) => stroke.split(' ').map(Number)));

function letterOf(advance: number, strokes: readonly (readonly number[])[]): Letter {
  let [left, right] = [Infinity, -Infinity];
  for (const stroke of strokes)
    for (let i = 0; i < stroke.length; i += 2) {
      left = Math.min(left, stroke[i]);
      right = Math.max(right, stroke[i]);
    }
  return { advance, strokes, left, right };
}

/** The alphabet, read once: widths are asked for thousands of times a part. */
const letters: ReadonlyMap<string, Letter> = new Map(
  Object.entries(glyphs).map(([character, [advance, data]]) => [character, letterOf(advance, parseStrokes(data))]),
);

/**
 * Strokes of one line of text.
 * @param heightMm height of a capital letter
 */
export function letterText(text: string, heightMm: number): Lettering {
  const scale = heightMm / capitalUnits;
  const replaced = new Set<string>();
  const written = spellAll(text, replaced);
  const { left, right } = reachOf(written);
  const strokes: Vec2[][] = [];
  let pen = -left;
  for (const letter of written) {
    for (const stroke of letter.strokes) {
      const points: Vec2[] = [];
      for (let i = 0; i < stroke.length; i += 2) points.push([(pen + stroke[i]) * scale, stroke[i + 1] * scale]);
      strokes.push(points);
    }
    pen += letter.advance;
  }
  return { strokes, widthMm: (right - left) * scale, replaced: [...replaced] };
}

/** Width of one line of text as `letterText` writes it, mm. */
export function textWidth(text: string, heightMm: number): number {
  const { left, right } = reachOf(spellAll(text, new Set()));
  return ((right - left) * heightMm) / capitalUnits;
}

function reachOf(written: readonly Letter[]): { readonly left: number; readonly right: number } {
  let [left, right, pen] = [Infinity, -Infinity, 0];
  for (const letter of written) {
    left = Math.min(left, pen + letter.left);
    right = Math.max(right, pen + letter.right);
    pen += letter.advance;
  }
  return right >= left ? { left, right } : { left: 0, right: 0 };
}

function spellAll(text: string, replacedInto: Set<string>): Letter[] {
  const written: Letter[] = [];
  for (const character of text.normalize('NFC')) written.push(...spell(character, replacedInto));
  return written;
}

function spell(character: string, replacedInto: Set<string>): readonly Letter[] {
  const letter = letters.get(character);
  if (letter !== undefined) return [letter];
  const [base, ...marks] = [...character.normalize('NFD')];
  const bare = letters.get(base);
  if (marks.length > 0 && bare !== undefined && marks.every((mark) => Object.hasOwn(accents, mark))) return [compose(base, bare, marks)];
  const space = letters.get(' ');
  if (character.trim() === '' && space !== undefined) return [space];
  replacedInto.add(character);
  if (!Object.hasOwn(plainSpelling, character)) return [letterOf(box[0], parseStrokes(box[1]))];
  return [...plainSpelling[character]].flatMap((plain) => letters.get(plain) ?? []);
}

function compose(base: string, bare: Letter, marks: readonly string[]): Letter {
  // i and j lose their dot under an accent.
  const dotless = (base === 'i' || base === 'j') && marks.some((mark) => !belowBase.has(mark));
  const stem = dotless ? letterOf(bare.advance, bare.strokes.slice(1)) : bare;
  const centre = (stem.left + stem.right) / 2;
  const isTall = base !== base.toLowerCase() || 'bdfhklt'.includes(base);
  const strokes = [...stem.strokes];
  let above = (isTall ? capitalUnits : smallHeight) + 60;
  for (const mark of marks) {
    const lift = belowBase.has(mark) ? 0 : above;
    if (lift > 0) above += 180;
    for (const stroke of parseStrokes(accents[mark])) strokes.push(stroke.map((number, i) => number + (i % 2 === 0 ? centre : lift)));
  }
  return letterOf(stem.advance, strokes);
}

/** Strokes turned by an angle (radians, counter-clockwise) and moved so that the base line starts at a point. */
export function placeStrokes(strokes: readonly (readonly Vec2[])[], at: Vec2, angle: number): Vec2[][] {
  const [c, s] = [cos(angle), sin(angle)];
  return strokes.map((stroke) => stroke.map(([x, y]) => [at[0] + c * x - s * y, at[1] + s * x + c * y] as const));
}
