/*
 * One large page a sheet, true size. A page may be 14 400 units long at most (5080 mm): a longer sheet goes on over further pages that
 * overlap, each naming where it lies.
 */
import { finding, type Finding } from '../base/failure.ts';
import type { Sheet } from '../nest/sheet.ts';
import type { Exporter, ExportInput, ExportOptions, OutputFile } from './exporter.ts';
import { cutSheets } from './laser-rule.ts';
import { longestPageMm, overlapMm } from './papers.ts';
import { addDrawing, paintForm } from './pdf-drawing.ts';
import { createPdf } from './pdf-writer.ts';

export const pdf: Exporter = {
  format: 'pdf',
  title: 'PDF, one large page a sheet',
  write: async (input, options) =>
    cutSheets(input, options).map((drawn): OutputFile => {
      const fields = pagesOf(drawn.sheet, options.printFactor);
      return {
        path: `sheets/${drawn.sheet.id}.pdf`,
        format: 'pdf',
        mediaType: 'application/pdf',
        sheet: drawn.sheet.id,
        bytes: writePdf(drawn, fields, input.jobName, options),
        ...(fields.length > 1 ? { findings: [splitFinding(drawn.sheet, fields.length)] } : {}),
      };
    }),
};

/** A stretch of the sheet that one page shows, mm of the drawing. */
interface PageField {
  readonly x: number;
  readonly y: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The sheet in as few pages as the limit allows, sharing 10 mm. */
export function pagesOf(sheet: Pick<Sheet, 'widthMm' | 'heightMm'>, printFactor: readonly [number, number]): readonly PageField[] {
  const spans = (length: number, factor: number): readonly (readonly [number, number])[] => {
    const longest = longestPageMm * factor;
    const count = Math.max(1, Math.ceil((length - overlapMm) / (longest - overlapMm)));
    const step = (length - overlapMm) / count;
    return Array.from({ length: count }, (_, k) => [k * step, step + overlapMm] as const);
  };
  const across = spans(sheet.widthMm, printFactor[0]);
  return spans(sheet.heightMm, printFactor[1]).flatMap(([y, heightMm]) => across.map(([x, widthMm]) => ({ x, y, widthMm, heightMm })));
}

function writePdf(
  { sheet, drawing }: ExportInput['sheetDrawings'][number],
  fields: readonly PageField[],
  jobName: string,
  options: Pick<ExportOptions, 'printFactor' | 'date'>,
): Uint8Array {
  const document = createPdf({ title: `${jobName} - ${sheet.id}`, date: options.date });
  const form = addDrawing(document, drawing, { minX: 0, minY: 0, maxX: sheet.widthMm, maxY: sheet.heightMm });
  const factor = [1 / options.printFactor[0], 1 / options.printFactor[1]] as const;
  for (const field of fields) {
    const [widthMm, heightMm] = [field.widthMm * factor[0], field.heightMm * factor[1]];
    const shift = [-field.x * factor[0], -field.y * factor[1]] as const;
    const content = paintForm('Sheet', { factor, shift }, { minX: 0, minY: 0, maxX: widthMm, maxY: heightMm });
    document.addPage({ widthMm, heightMm, content, forms: { Sheet: form } });
  }
  return document.finish();
}

function splitFinding(sheet: Sheet, count: number): Finding {
  return finding(
    'note',
    'export/pdf-split',
    `${sheet.id} is longer than the ${longestPageMm} mm that a PDF page may have, so its PDF has ${count} pages that overlap by ${overlapMm} mm, from the lower left, row by row.`,
    { stage: 'export', item: sheet.id },
    'Lay each page over the next so that the lines in the overlap meet, or lay the parts on shorter sheets.',
  );
}
