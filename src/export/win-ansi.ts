/*
 * Text in Windows code page 1252, the one-byte set that DXF up to release 2004 and the standard fonts of PDF (as WinAnsiEncoding) share:
 * ISO 8859-1 with 27 more signs in 0x80…0x9F [iso32000 annex D.2].
 */

/** Unicode of the bytes 0x80…0x9F; 0 where the page has none. */
const high = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0, 0x017d, 0, 0, 0x2018, 0x2019,
  0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0, 0x017e, 0x0178,
] as const;

/** The byte of a Unicode character, or undefined when the page lacks it. Control characters count as lacking. */
export function winAnsiByte(code: number): number | undefined {
  if ((code >= 0x20 && code < 0x7f) || (code >= 0xa0 && code <= 0xff)) return code;
  const place = code < 0x100 ? -1 : high.indexOf(code as (typeof high)[number]);
  return place < 0 ? undefined : 0x80 + place;
}

/** Letters without their accents, and the plainest look-alikes of common signs; the rest becomes a question mark. */
const plain: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  ø: 'o',
  Ø: 'O',
  œ: 'oe',
  Œ: 'OE',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ð: 'd',
  Ð: 'D',
  þ: 'th',
  Þ: 'Th',
  ı: 'i',
  '−': '-',
  '–': '-',
  '—': '-',
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  '„': '"',
  '…': '...',
  '·': '-',
  '×': 'x',
  '°': ' deg',
  '±': '+-',
  '²': '2',
  '³': '3',
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '→': '->',
  '•': '-',
  '≤': '<=',
  '≥': '>=',
  '\u00a0': ' ',
};

/** A text with each character that `fits` refuses replaced by its plainest look-alike, and whether any was. */
export function plainText(text: string, fits: (code: number) => boolean): { readonly text: string; readonly changed: boolean } {
  let out = '';
  let changed = false;
  for (const sign of text) {
    if (fits(sign.codePointAt(0) ?? 0)) out += sign;
    else {
      const base = plain[sign] ?? sign.normalize('NFD').replace(/[\u0300-\u036f]/g, '');
      out += [...base].every((part) => fits(part.codePointAt(0) ?? 0)) && base !== '' ? base : '?';
      changed = true;
    }
  }
  return { text: out, changed };
}

/** True for 7-bit printable characters. */
export const isAscii = (code: number): boolean => code >= 0x20 && code < 0x7f;
/** True for characters of code page 1252. */
export const isWinAnsi = (code: number): boolean => winAnsiByte(code) !== undefined;
