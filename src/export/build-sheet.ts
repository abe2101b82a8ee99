/*
 * The build sheet, as PDF to print and as a page to read: parts, where they sit, matching edges, gluing order, shopping, cautions.
 */
import { bodyPictures } from './body-pictures.ts';
import { buildContent } from './build-content.ts';
import { buildSheetHtml } from './build-sheet-html.ts';
import { buildSheetPdf } from './build-sheet-pdf.ts';
import type { Exporter } from './exporter.ts';

export const buildSheet: Exporter = {
  format: 'build-sheet',
  title: 'Build sheet, as PDF and as a page',
  write: async (input, options) => {
    const content = buildContent(input, options);
    const pictures = bodyPictures(input);
    return [
      { path: 'build-sheet.pdf', format: 'build-sheet', mediaType: 'application/pdf', bytes: buildSheetPdf(content, pictures, options) },
      {
        path: 'build-sheet.html',
        format: 'build-sheet',
        mediaType: 'text/html',
        bytes: new TextEncoder().encode(buildSheetHtml(content, pictures)),
      },
    ];
  },
};
