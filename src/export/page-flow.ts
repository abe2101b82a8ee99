/*
 * Words and tables that flow down PDF pages, mm. A cursor runs from the top; what does not fit goes to the next page, a row of a table never apart.
 */
import { boxContent } from './tile-page.ts';
import type { Box } from './box.ts';
import type { PdfDocument, PdfRef } from './pdf-writer.ts';
import { pdfNumber } from './pdf-writer.ts';
import { strokeContent } from './pdf-drawing.ts';
import { textLine, wrapText, type PdfFont } from './pdf-text.ts';

export interface FlowPage {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A column of a table: its heading and its share of the width. */
export interface FlowColumn {
  readonly head: string;
  readonly share: number;
}

export interface PageFlow {
  readonly text: (words: string, style?: { readonly sizeMm?: number; readonly font?: PdfFont; readonly indentMm?: number }) => void;
  readonly heading: (words: string) => void;
  readonly table: (columns: readonly FlowColumn[], rows: readonly (readonly string[])[]) => void;
  /** Room of a height; draws into it with content for the box it got. */
  readonly block: (
    heightMm: number,
    draw: (box: Box) => { readonly content: string; readonly forms?: Readonly<Record<string, PdfRef>> },
  ) => void;
  readonly space: (mm: number) => void;
  readonly finish: () => void;
}

const marginMm = 14;
const lineGap = 1.35;
const ruleRgb = [190, 175, 155] as const;

/** Begins to fill pages of a document; `foot` stands at the foot of each with its number. */
export function createFlow(pdf: PdfDocument, page: FlowPage, foot: string): PageFlow {
  const pages: { content: string[]; forms: Record<string, PdfRef> }[] = [];
  const bottom = marginMm + 8;
  const room = page.widthMm - 2 * marginMm;
  let y = 0;
  const fresh = (): void => {
    pages.push({ content: [], forms: {} });
    y = page.heightMm - marginMm;
  };
  const need = (heightMm: number): void => {
    if (y - heightMm < bottom) fresh();
  };
  const put = (content: string): void => void pages[pages.length - 1].content.push(content);
  fresh();
  const text: PageFlow['text'] = (words, { sizeMm = 3.6, font = 'F1', indentMm = 0 } = {}) => {
    for (const line of wrapText(words, room - indentMm, sizeMm, font)) {
      need(sizeMm * lineGap);
      put(textLine(line, [marginMm + indentMm, y - sizeMm], { sizeMm, font }));
      y -= sizeMm * lineGap;
    }
  };
  const heading = (words: string): void => {
    need(24);
    y -= 5;
    put(textLine(words, [marginMm, y - 5], { sizeMm: 5, font: 'F2' }));
    y -= 7;
    put(
      `q ${strokeContent([138, 90, 30], 0.5)} ${pdfNumber(marginMm)} ${pdfNumber(y)} m ${pdfNumber(marginMm + room)} ${pdfNumber(y)} l S Q`,
    );
    y -= 2;
  };
  const table: PageFlow['table'] = (columns, rows) => {
    const total = columns.reduce((sum, { share }) => sum + share, 0);
    const widths = columns.map(({ share }) => (share / total) * room);
    const row = (cells: readonly string[], font: PdfFont): void => {
      const lines = cells.map((cell, k) => wrapText(cell, widths[k] - 2, 3.2, font));
      const height = Math.max(...lines.map(({ length }) => length)) * 3.2 * lineGap + 1.6;
      need(height);
      let x = marginMm;
      for (const [k, list] of lines.entries()) {
        for (const [n, line] of list.entries()) put(textLine(line, [x, y - 3.2 - n * 3.2 * lineGap], { sizeMm: 3.2, font }));
        x += widths[k];
      }
      y -= height;
      put(
        `q ${strokeContent(ruleRgb, 0.15)} ${pdfNumber(marginMm)} ${pdfNumber(y + 0.6)} m ${pdfNumber(marginMm + room)} ${pdfNumber(y + 0.6)} l S Q`,
      );
    };
    if (columns.some(({ head }) => head !== ''))
      row(
        columns.map(({ head }) => head),
        'F2',
      );
    for (const cells of rows) row(cells, 'F1');
  };
  const block: PageFlow['block'] = (heightMm, draw) => {
    need(heightMm);
    const drawn = draw({ minX: marginMm, maxX: marginMm + room, minY: y - heightMm, maxY: y });
    put(drawn.content);
    Object.assign(pages[pages.length - 1].forms, drawn.forms ?? {});
    y -= heightMm;
  };
  const finish = (): void => {
    for (const [index, { content, forms }] of pages.entries()) {
      const words = `${foot}, page ${index + 1} of ${pages.length}`;
      const line = textLine(words, [page.widthMm - marginMm, marginMm - 2], { sizeMm: 2.8, align: 'right', rgb: [110, 100, 90] });
      pdf.addPage({ ...page, content: [...content, line].join('\n'), forms });
    }
  };
  return { text, heading, table, block, space: (mm) => void (y -= mm), finish };
}

/** A thin frame. */
export const frameContent = (box: Box): string => `q ${strokeContent(ruleRgb, 0.2)} ${boxContent(box, 'S')} Q`;
