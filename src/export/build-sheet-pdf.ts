/*
 * The build sheet as PDF, to hang over the bench: large words, pictures, one card a part.
 */
import type { Vec2 } from '../base/arrays.ts';
import { areaColor } from './area-colors.ts';
import type { BodyPictures } from './body-pictures.ts';
import { bevelNote, sandingNote, type BuildContent, type PartRow } from './build-content.ts';
import { mapCurve } from '../draft/curve.ts';
import type { Box } from './box.ts';
import type { ExportOptions } from './exporter.ts';
import { layerStyles } from './layers.ts';
import { createFlow, frameContent, type PageFlow } from './page-flow.ts';
import { papers } from './papers.ts';
import { partPicture } from './part-picture.ts';
import { curveContent, strokeContent } from './pdf-drawing.ts';
import { textLine, wrapText } from './pdf-text.ts';
import { createPdf, pdfNumber, type PdfDocument, type PdfRef } from './pdf-writer.ts';
import { cautionsDate, comesFirst, notProtective } from './safety.ts';

/** Cards a row and their height, mm. */
const cardsPerRow = 2;
const cardMm = 78;
const gapMm = 4;

/** The file. */
export function buildSheetPdf(content: BuildContent, pictures: BodyPictures, options: Pick<ExportOptions, 'paper'>): Uint8Array {
  const pdf = createPdf({ title: `${content.title}: build sheet`, date: content.date });
  const paper = options.paper === 'letter' || options.paper === 'legal' ? papers.letter : papers.a4;
  const flow = createFlow(
    pdf,
    { widthMm: paper.widthMm, heightMm: paper.heightMm ?? papers.a4.widthMm },
    `${content.title}, ${content.date}`,
  );
  flow.text(content.title, { sizeMm: 8, font: 'F2' });
  flow.text(`Build sheet, ${content.date}. ${content.parts.length} parts, ${content.seams.length} seams.`, { sizeMm: 4 });
  flow.space(2);
  flow.text(notProtective, { font: 'F2' });
  flow.space(3);
  wholeBody(flow, pdf, pictures);
  gluing(flow, content);
  flow.heading('Matching edges');
  flow.text(bevelNote, { sizeMm: 3.2 });
  flow.table(
    [
      { head: 'Seam', share: 8 },
      { head: 'Edges', share: 15 },
      { head: 'Parts', share: 40 },
      { head: 'Lengths, mm', share: 22 },
      { head: 'Diff.', share: 9 },
      { head: 'Bevel each edge', share: 22 },
      { head: 'Notches', share: 15 },
    ],
    content.seams.map((row) => [row.id, row.sides, row.names, row.lengths, row.difference, row.bevel, row.notches]),
  );
  if (content.sanding.length > 0) {
    flow.heading('Edges to sand');
    flow.text(sandingNote, { sizeMm: 3.2 });
    for (const line of content.sanding) flow.text(line, { indentMm: 3 });
  }
  flow.heading('Parts');
  cards(flow, pdf, content.parts, pictures);
  flow.heading('To have at hand');
  flow.table(
    [
      { head: 'What', share: 45 },
      { head: 'How much', share: 15 },
      { head: '', share: 40 },
    ],
    content.shopping.map(({ what, amount, note }) => [what, amount, note]),
  );
  if (content.warnings.length > 0) {
    flow.heading('Look at this first');
    for (const line of content.warnings) flow.text(line, { indentMm: 3 });
  }
  flow.heading('Cautions');
  flow.text(`As of ${cautionsDate}. ${comesFirst}`);
  flow.space(1);
  flow.table(
    [
      { head: '', share: 22 },
      { head: '', share: 68 },
      { head: 'Source', share: 26 },
    ],
    content.cautions.map(({ title, text, source }) => [title, text, source]),
  );
  flow.finish();
  return pdf.finish();
}

/** Two large pictures side by side with the parts' letters on them. */
function wholeBody(flow: PageFlow, pdf: PdfDocument, pictures: BodyPictures): void {
  const images = pictures.whole.map(({ picture }) => pdf.addImage(picture));
  flow.block(108, (box) => {
    const width = (box.maxX - box.minX - gapMm) / pictures.whole.length;
    const forms: Record<string, PdfRef> = {};
    const content = pictures.whole.map(({ title, picture, letters }, index) => {
      forms[`Body${index}`] = images[index];
      const height = Math.min(100, (width * picture.height) / picture.width);
      const w = (height * picture.width) / picture.height;
      const x = box.minX + index * (width + gapMm) + (width - w) / 2;
      const y = box.maxY - height;
      const marks = letters.flatMap(({ letter, at }) => {
        const centre: Vec2 = [x + at[0] * w, y + at[1] * height];
        return [disc(centre, 2.9), textLine(letter, [centre[0], centre[1] - 1.3], { sizeMm: 3.8, font: 'F2', align: 'middle' })];
      });
      return [
        imageContent(`Body${index}`, x, y, w, height),
        ...marks,
        textLine(title, [x + w / 2, y - 4.5], { sizeMm: 3.4, align: 'middle' }),
      ].join('\n');
    });
    return { content: content.join('\n'), forms };
  });
}

const imageContent = (name: string, x: number, y: number, w: number, h: number): string =>
  `q ${pdfNumber(w)} 0 0 ${pdfNumber(h)} ${pdfNumber(x)} ${pdfNumber(y)} cm /${name} Do Q`;

/** A white disc under a letter: a dot of a round-ended line of no length. */
const disc = ([x, y]: Vec2, radius: number): string =>
  `q 1 1 1 RG ${pdfNumber(2 * radius)} w 1 J ${pdfNumber(x)} ${pdfNumber(y)} m ${pdfNumber(x)} ${pdfNumber(y)} l S Q`;

function gluing(flow: PageFlow, content: BuildContent): void {
  flow.heading('Gluing order');
  for (const [index, step] of content.steps.entries()) {
    flow.text(`${index + 1}  ${step.title}  (${step.letters})`, { sizeMm: 4, font: 'F2' });
    flow.text(step.reason, { indentMm: 6 });
    if (step.sideNames.length > 0) flow.text(step.sideNames.join(',  '), { indentMm: 6, sizeMm: 4 });
    flow.space(2);
  }
}

function cards(flow: PageFlow, pdf: PdfDocument, rows: readonly PartRow[], pictures: BodyPictures): void {
  for (let k = 0; k < rows.length; k += cardsPerRow)
    flow.block(cardMm + gapMm, (box) => {
      const width = (box.maxX - box.minX - gapMm * (cardsPerRow - 1)) / cardsPerRow;
      const forms: Record<string, PdfRef> = {};
      const drawn = rows.slice(k, k + cardsPerRow).map((row, n) => {
        const minX = box.minX + n * (width + gapMm);
        const picture = pictures.ofPart.get(row.part.id);
        const name = `Place${k + n}`;
        if (picture !== undefined) forms[name] = pdf.addImage(picture);
        return card(
          row,
          { minX, maxX: minX + width, minY: box.minY + gapMm, maxY: box.maxY },
          pictures,
          picture === undefined ? undefined : name,
        );
      });
      return { content: drawn.join('\n'), forms };
    });
}

const placeMm = { width: 24, height: 30.4 } as const;
const padMm = 3;

function card({ part, title, facts }: PartRow, box: Box, pictures: BodyPictures, place: string | undefined): string {
  const out = [frameContent(box), textLine(title, [box.minX + padMm, box.maxY - 6.5], { sizeMm: 4, font: 'F2' })];
  const lines = facts.flatMap((fact) => wrapText(fact, box.maxX - box.minX - 2 * padMm, 2.9)).slice(0, 9);
  for (const [n, line] of lines.entries())
    out.push(textLine(line, [box.minX + padMm, box.minY + padMm + (lines.length - 1 - n) * 3.8], { sizeMm: 2.9 }));
  const room: Box = {
    minX: box.minX + padMm,
    maxX: box.maxX - 2 * padMm - placeMm.width,
    minY: box.minY + 2 * padMm + lines.length * 3.8,
    maxY: box.maxY - 9,
  };
  if (place !== undefined)
    out.push(imageContent(place, box.maxX - padMm - placeMm.width, room.maxY - placeMm.height, placeMm.width, placeMm.height));
  out.push(partContent(part, room, pictures));
  return out.join('\n');
}

function partContent(part: PartRow['part'], room: Box, pictures: BodyPictures): string {
  const bare = partPicture(part, Infinity);
  const scale = Math.min(
    (room.maxX - room.minX) / (bare.box.maxX - bare.box.minX),
    (room.maxY - room.minY) / (bare.box.maxY - bare.box.minY),
    0.5,
  );
  const { box, paths, edges } = partPicture(part, 2 / scale);
  const shift: Vec2 = [
    (room.minX + room.maxX - (box.minX + box.maxX) * scale) / 2,
    (room.minY + room.maxY - (box.minY + box.maxY) * scale) / 2,
  ];
  const move = ([x, y]: Vec2): Vec2 => [shift[0] + x * scale, shift[1] + y * scale];
  const fill = (pictures.colorOfPart.get(part.id) ?? areaColor(0)).map((value) => pdfNumber(1 - 0.2 * (1 - value / 255))).join(' ');
  const lines = paths.map(({ layer, curve }) => {
    const paint = layer === 'CUT' ? `${fill} rg` : '1 1 1 rg';
    const operator = layer === 'CUT' || layer === 'CUT_INSIDE' ? 'B' : 'S';
    return `q ${paint} ${strokeContent(layerStyles[layer].rgb, layer === 'CUT' ? 0.3 : 0.2)} ${curveContent(mapCurve(curve, move))} ${operator} Q`;
  });
  const names = edges.map(({ name, at }) => {
    const [x, y] = move(at);
    return textLine(name, [x, y - 1], { sizeMm: 2.8, align: 'middle' });
  });
  return [...lines, ...names].join('\n');
}
