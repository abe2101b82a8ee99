/*
 * Text on a PDF page, in millimetres: standard fonts, their widths, wrapping. What WinAnsiEncoding lacks is drawn with the plainest
 * look-alike and carries the true letters as /ActualText, so that finding and copying still give the name as it was written.
 * Widths are those of the standard fonts' metrics, thousandths of the size [adobe-core14].
 */
import type { Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { literalString, pdfNumber, unicodeString } from './pdf-writer.ts';
import { isWinAnsi, plainText } from './win-ansi.ts';

export type PdfFont = 'F1' | 'F2';

/** Advance widths of the printable ASCII characters from space on. */
const advances: Readonly<Record<PdfFont, readonly number[]>> = {
  // prettier-ignore
  F1: [278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278,
    584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556,
    500, 722, 500, 500, 500, 334, 260, 334, 584],
  // prettier-ignore
  F2: [278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333,
    584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611,
    556, 778, 556, 556, 500, 389, 280, 389, 584],
};

/** Signs beyond ASCII whose width is not that of a letter without its accent. */
// prettier-ignore
const signAdvances: Readonly<Record<string, number>> = {
  '–': 556, '—': 1000, '·': 278, '×': 584, '±': 584, '°': 400, '²': 333, '³': 333, '½': 834, '¼': 834, '¾': 834, '…': 1000, '•': 350, 'Æ': 1000,
  'æ': 889, 'Œ': 1000, 'œ': 944, 'ß': 611, 'ø': 611, 'Ø': 778, '€': 556, '‘': 222, '’': 222, '“': 333, '”': 333, '„': 333, '«': 556, '»': 556,
};

/** Height of a capital over the font's size. */
export const capitalShare = 0.718;

/** Width of a line, mm. */
export function textWidth(text: string, sizeMm: number, font: PdfFont = 'F1'): number {
  let sum = 0;
  for (const sign of plainText(text, isWinAnsi).text) {
    const base = signAdvances[sign] === undefined ? sign.normalize('NFD')[0] : sign;
    sum += signAdvances[sign] ?? advances[font][(base.codePointAt(0) ?? 63) - 32] ?? 556;
  }
  return (sum * sizeMm) / 1000;
}

export interface TextStyle {
  readonly sizeMm: number;
  readonly font?: PdfFont;
  readonly align?: 'left' | 'middle' | 'right';
  /** Counter-clockwise, radians. */
  readonly angle?: number;
  /** 0…255. */
  readonly rgb?: readonly [number, number, number];
  /** There to be found, not seen: the letters are drawn as strokes. */
  readonly hidden?: boolean;
}

/** Content that writes one line, its base line starting (or centred, or ending) at a point, mm. */
export function textLine(text: string, at: Vec2, style: TextStyle): string {
  const { sizeMm, font = 'F1', align = 'left', angle = 0, rgb = [30, 30, 30], hidden = false } = style;
  const [c, s] = [cos(angle), sin(angle)];
  const back = align === 'left' ? 0 : textWidth(text, sizeMm, font) * (align === 'middle' ? 0.5 : 1);
  const matrix = [c, s, -s, c, at[0] - back * c, at[1] - back * s].map(pdfNumber).join(' ');
  const shown = plainText(text, isWinAnsi);
  const color = rgb.map((part) => pdfNumber(part / 255)).join(' ');
  const line = `BT ${color} rg ${hidden ? '3' : '0'} Tr /${font} ${pdfNumber(sizeMm)} Tf ${matrix} Tm ${literalString(shown.text)} Tj ET`;
  return shown.changed ? `/Span << /ActualText ${unicodeString(text)} >> BDC ${line} EMC` : line;
}

/** A text in lines no wider than its room; a word that is wider stands alone. */
export function wrapText(text: string, roomMm: number, sizeMm: number, font: PdfFont = 'F1'): readonly string[] {
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (const word of paragraph.split(' ')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (line !== '' && textWidth(longer, sizeMm, font) > roomMm) {
        lines.push(line);
        line = word;
      } else line = longer;
    }
    lines.push(line);
  }
  return lines;
}
