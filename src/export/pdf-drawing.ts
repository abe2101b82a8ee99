/*
 * A drawing as PDF content: curves stay curves, one optional-content group a layer, letters as strokes with invisible text over them.
 * The whole drawing is one Form XObject, which pages and tiles place and clip; its coordinates are never rescaled.
 */
import type { Vec2 } from '../base/arrays.ts';
import { layerNames, type Curve, type Drawing, type LayerName } from '../draft/drawing.ts';
import type { Box } from './box.ts';
import { decimal } from './decimal.ts';
import { layerStyles } from './layers.ts';
import { capitalShare, textLine } from './pdf-text.ts';
import { pdfNumber, type PdfDocument, type PdfRef } from './pdf-writer.ts';

const point = ([x, y]: Vec2): string => `${pdfNumber(x)} ${pdfNumber(y)}`;

/** Path operators of a curve, without a paint operator. */
export function curveContent(curve: Curve): string {
  const last = curve.segments.length - 1;
  const pieces = [`${point(curve.start)} m`];
  for (const [index, segment] of curve.segments.entries()) {
    const closing = curve.closed && index === last && segment.to[0] === curve.start[0] && segment.to[1] === curve.start[1];
    if (segment.kind === 'cubic') pieces.push(`${point(segment.c1)} ${point(segment.c2)} ${point(segment.to)} c`);
    else if (!closing) pieces.push(`${point(segment.to)} l`);
  }
  if (curve.closed) pieces.push('h');
  return pieces.join(' ');
}

/** Stroke settings: colour, width in mm, dashes in mm. */
export function strokeContent(rgb: readonly [number, number, number], widthMm: number, dashMm: readonly number[] = []): string {
  return `${rgb.map((part) => pdfNumber(part / 255)).join(' ')} RG ${pdfNumber(widthMm)} w [${dashMm.map(pdfNumber).join(' ')}] 0 d`;
}

/** Lines of one layer, marked with its group. */
function layerContent(drawing: Drawing, layer: LayerName): string[] {
  const { rgb, paperMm, dashMm } = layerStyles[layer];
  const paths = drawing.paths.filter((path) => path.layer === layer);
  const labels = layer === 'TEXT' ? drawing.labels : [];
  if (paths.length + labels.length === 0) return [];
  return [
    `/OC /${layer} BDC q`,
    `${strokeContent(rgb, paperMm, dashMm)} 1 J 1 j`,
    ...paths.map(({ curve }) => `${curveContent(curve)} S`),
    ...labels.map((label) => textLine(label.text, label.at, { sizeMm: label.heightMm / capitalShare, angle: label.angle, hidden: true })),
    'Q EMC',
  ];
}

/**
 * Adds a drawing as a Form XObject in millimetres.
 * @param box what the form may paint, mm; lines beyond are clipped
 */
export function addDrawing(pdf: PdfDocument, drawing: Drawing, box: Box): PdfRef {
  for (const layer of layerNames) if (drawing.paths.some((path) => path.layer === layer)) pdf.layer(layer);
  if (drawing.labels.length > 0) pdf.layer('TEXT');
  const bounds = [box.minX, box.minY, box.maxX, box.maxY].map(pdfNumber).join(' ');
  const content = layerNames.flatMap((layer) => layerContent(drawing, layer)).join('\n');
  return pdf.addStream(`/Type /XObject /Subtype /Form /BBox [${bounds}] /Resources ${pdf.resources()}`, content);
}

/** Content that paints a form with a factor along each axis and a shift, clipped to a rectangle of the page, mm. */
export function paintForm(name: string, placed: { readonly factor: Vec2; readonly shift: Vec2; readonly turn?: Vec2 }, clip: Box): string {
  const { factor, shift, turn = [1, 0] } = placed;
  const [c, s] = turn;
  // Turn first, then stretch along the page's axes: the printer's error is the page's, not the part's.
  const matrix = [factor[0] * c, factor[1] * s, -factor[0] * s, factor[1] * c, shift[0], shift[1]];
  const box = [clip.minX, clip.minY, clip.maxX - clip.minX, clip.maxY - clip.minY].map(pdfNumber).join(' ');
  return `q ${box} re W n ${matrix.map(pdfMatrix).join(' ')} cm /${name} Do Q`;
}

/** Matrix entries keep ten digits: over five metres five would cost 25 µm. */
const pdfMatrix = (value: number): string => decimal(value, 10);
