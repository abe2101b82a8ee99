/*
 * What all DXF files share: pairs of group code and value, one a line each; text in the drawing's code page, ANSI_1252, and
 * as \U+XXXX where the page lacks a character, as the format's own programs write it [autodesk-dxf].
 */
import { layerNames, type DrawingPath, type LayerName } from '../draft/drawing.ts';
import { decimal } from './decimal.ts';
import { layerStyles } from './layers.ts';
import { isWinAnsi, winAnsiByte } from './win-ansi.ts';

export type TagValue = string | number;

/** Application under which entities carry the id of their part. */
export const applicationName = 'PLASTRON';
/** Digits after the point, mm: one nanometre. */
const places = 6;
/** Groups whose values are reals; all other numbers are whole. */
const isReal = (code: number): boolean =>
  (code >= 10 && code < 60) || (code >= 110 && code < 150) || (code >= 210 && code < 240) || (code >= 1010 && code < 1060);

/** Lines of DXF from pairs: code, value, code, value … */
export function tags(...pairs: readonly TagValue[]): string[] {
  const lines: string[] = [];
  for (let k = 0; k < pairs.length; k += 2) {
    const code = Number(pairs[k]);
    const value = pairs[k + 1];
    lines.push(String(code).padStart(3), typeof value === 'string' ? value : isReal(code) ? realText(value) : String(value));
  }
  return lines;
}

/** A real with its point, so that no reader takes it for a whole number. */
function realText(value: number): string {
  const text = decimal(value, places);
  return text.includes('.') ? text : `${text}.0`;
}

/** Text as DXF may hold it: characters of the code page, others as \U+XXXX (one escape a UTF-16 unit), line breaks as spaces. */
export function dxfText(text: string): string {
  let safe = '';
  for (let k = 0; k < text.length; k++) {
    const code = text.charCodeAt(k);
    if (code < 32 || code === 127) safe += ' ';
    else if (isWinAnsi(code)) safe += text[k];
    else safe += `\\U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
  }
  return safe;
}

/** The part's id as extended data, or nothing for marks of the sheet. */
export function partData(part: string | undefined): string[] {
  return part === undefined ? [] : tags(1001, applicationName, 1000, dxfText(part).slice(0, 255));
}

/** The file's bytes in the code page; lines ended by CR LF, as the format's own programs write them. */
export function dxfBytes(lines: readonly string[]): Uint8Array {
  const text = `${lines.join('\r\n')}\r\n`;
  const bytes = new Uint8Array(text.length);
  for (let k = 0; k < text.length; k++) bytes[k] = winAnsiByte(text.charCodeAt(k)) ?? text.charCodeAt(k);
  return bytes;
}

/** Layers in the contract's order with their paths. */
export function pathsByLayer(
  paths: readonly DrawingPath[],
): readonly { readonly layer: LayerName; readonly paths: readonly DrawingPath[] }[] {
  return layerNames.map((layer) => ({ layer, paths: paths.filter((path) => path.layer === layer) }));
}

/** Name of the line type of a layer. */
export function lineTypeOf(layer: LayerName): string {
  const { dashMm } = layerStyles[layer];
  if (dashMm.length === 0) return 'CONTINUOUS';
  return dashMm.length > 2 ? 'CHAIN' : layer === 'BEVEL_INNER' ? 'DOTTED' : layer === 'SCORE' ? 'DASHED' : 'DASHED2';
}

/** The line types in use: name, what it looks like, dash pattern (gaps negative). */
export const lineTypes: readonly { readonly name: string; readonly look: string; readonly pattern: readonly number[] }[] = [
  { name: 'CONTINUOUS', look: 'Solid line', pattern: [] },
  { name: 'DASHED', look: '__ __ __', pattern: patternOf('SCORE') },
  { name: 'DASHED2', look: '_ _ _ _', pattern: patternOf('BEVEL_OUTER') },
  { name: 'DOTTED', look: '. . . .', pattern: patternOf('BEVEL_INNER') },
  { name: 'CHAIN', look: '__ . __ . ', pattern: patternOf('REFERENCE') },
];

function patternOf(layer: LayerName): readonly number[] {
  return layerStyles[layer].dashMm.map((length, index) => (index % 2 === 0 ? length : -length));
}
