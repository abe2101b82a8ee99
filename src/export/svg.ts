/*
 * SVG in true millimetres: width and height in mm and a viewBox of the same numbers, so one user unit is one millimetre whatever the
 * program takes for a pixel. One group a layer, no transforms, y turned once here. Letters are strokes, each label in a group with its
 * text as title.
 */
import type { Vec2 } from '../base/arrays.ts';
import { layerNames, type Curve, type Drawing, type DrawingPath, type LayerName } from '../draft/drawing.ts';
import type { Sheet } from '../nest/sheet.ts';
import { couponSheets, fileStem } from './coupon-sheet.ts';
import { decimal } from './decimal.ts';
import type { Exporter, ExportInput, OutputFile } from './exporter.ts';
import { cutSheets } from './laser-rule.ts';
import { hexColor, layerStyles } from './layers.ts';
import { groupLetters, type LabelLetters } from './letters.ts';

/** Width of every line, mm: a hairline that is still seen on screen. */
const hairlineMm = 0.1;
/** 0.1 µm. */
const places = 4;

export const svg: Exporter = {
  format: 'svg',
  title: 'SVG drawing of each sheet, in millimetres',
  write: async (input, options) => {
    const encoder = new TextEncoder();
    const sheets = cutSheets(input, options).map(({ sheet, drawing }): OutputFile => ({
      path: `sheets/${sheet.id}.svg`,
      format: 'svg',
      mediaType: 'image/svg+xml',
      sheet: sheet.id,
      bytes: encoder.encode(writeSvg({ sheet, drawing }, `${input.jobName} - ${sheet.id}`, describe(input, sheet))),
    }));
    const coupons = couponSheets(input, options).map(({ material, drawing, ...sheet }): OutputFile => ({
      path: `parts/coupon-${fileStem(material.id)}.svg`,
      format: 'svg',
      mediaType: 'image/svg+xml',
      bytes: encoder.encode(
        writeSvg(
          { sheet, drawing },
          `${input.jobName} - coupons of ${material.name}`,
          'Unit: millimetre, one user unit each. Not corrected.',
        ),
      ),
    }));
    return [...sheets, ...coupons];
  },
};

/** What the file says of itself: unit, stock, parts. */
function describe(input: ExportInput, sheet: Sheet): string {
  const parts = sheet.placements.map(({ part }) => part).join(', ');
  const corrections = input.findings.filter(({ code }) => code === 'export/corrected').map(({ what }) => what);
  return [
    `Unit: millimetre, one user unit each. Stock: ${sheet.stock}, ${sheet.material}, ${decimal(sheet.widthMm, 2)} by ${decimal(sheet.heightMm, 2)} mm.`,
    `Parts: ${parts}.`,
    ...corrections,
  ].join(' ');
}

/** The text of one sheet's SVG file. */
export function writeSvg(
  { sheet, drawing }: { readonly sheet: Pick<Sheet, 'widthMm' | 'heightMm'>; readonly drawing: Drawing },
  title: string,
  description: string,
): string {
  const [width, height] = [decimal(sheet.widthMm, places), decimal(sheet.heightMm, places)];
  const letters = groupLetters(drawing);
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `<title>${escapeXml(title)}</title>`,
    `<desc>${escapeXml(description)}</desc>`,
  ];
  for (const layer of layerNames) {
    const style = layerStyles[layer];
    const dashes = style.dashMm.length > 0 ? ` stroke-dasharray="${style.dashMm.join(' ')}"` : '';
    lines.push(
      `<g id="${layer}" fill="none" stroke="${hexColor(style.rgb)}" stroke-width="${hairlineMm}" stroke-linecap="round" stroke-linejoin="round"${dashes}>`,
      `<desc>${escapeXml(style.purpose)}</desc>`,
      ...letters.others.filter((path) => path.layer === layer).map((path) => pathElement(path, sheet.heightMm)),
      ...(layer === 'TEXT' ? letters.labels.flatMap((group) => labelElements(group, sheet.heightMm)) : []),
      '</g>',
    );
  }
  lines.push('</svg>', '');
  return lines.join('\n');
}

function pathElement(path: Pick<DrawingPath, 'curve' | 'part'> & { readonly layer?: LayerName }, heightMm: number): string {
  return `<path${partAttribute(path.part)} d="${pathData(path.curve, places, ([x, y]) => [x, heightMm - y])}"/>`;
}

function labelElements({ label, paths }: LabelLetters, heightMm: number): readonly string[] {
  return [
    `<g role="img"${partAttribute(label.part)}>`,
    `<title>${escapeXml(label.text)}</title>`,
    ...paths.map((path) => pathElement(path, heightMm)),
    '</g>',
  ];
}

const partAttribute = (part: string | undefined): string => (part === undefined ? '' : ` data-part="${escapeXml(part)}"`);

/** Path data of a curve under a map of its points. A closed curve ends in Z, its last straight piece left to it. */
export function pathData(curve: Curve, digits: number, map: (point: Vec2) => Vec2): string {
  const point = (from: Vec2): string =>
    map(from)
      .map((value) => decimal(value, digits))
      .join(' ');
  const last = curve.segments.length - 1;
  const pieces = [`M${point(curve.start)}`];
  for (const [index, segment] of curve.segments.entries()) {
    const closing = curve.closed && index === last && segment.to[0] === curve.start[0] && segment.to[1] === curve.start[1];
    if (segment.kind === 'cubic') pieces.push(`C${point(segment.c1)} ${point(segment.c2)} ${point(segment.to)}`);
    else if (!closing) pieces.push(`L${point(segment.to)}`);
  }
  if (curve.closed) pieces.push('Z');
  return pieces.join('');
}

const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text that may stand in XML and HTML, control characters left out. */
export function escapeXml(text: string): string {
  let safe = '';
  for (const sign of text) {
    const code = sign.codePointAt(0) ?? 0;
    if (code < 32 || (code >= 0x7f && code < 0xa0) || code === 0xfffe || code === 0xffff || (code >= 0xd800 && code < 0xe000)) safe += ' ';
    else safe += entities[sign] ?? sign;
  }
  return safe;
}
