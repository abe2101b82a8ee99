/*
 * PDF for home printers: each sheet divided over pages, and each part on pages of its own (whole, if any turn brings it onto one page).
 * A drawing is one Form XObject that every page clips, so no coordinate is ever rescaled but by the printer's typed error.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { curveMm } from '../base/tolerance.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { Drawing } from '../draft/drawing.ts';
import { toRadians } from '../units/angle.ts';
import { correctedDrawing } from './corrections.ts';
import { boxOf, polylineOf, type Box } from './curve.ts';
import type { Exporter, ExportInput, ExportOptions, OutputFile } from './exporter.ts';
import { cutSheets, refusedMaterials } from './laser-rule.ts';
import { papers } from './papers.ts';
import { addDrawing, paintForm } from './pdf-drawing.ts';
import { createPdf, type PdfDocument, type PdfRef } from './pdf-writer.ts';
import { coverContent } from './tile-cover.ts';
import { pageFoot, tileMarks, type PageWords } from './tile-page.ts';
import { fitWhole, pageWindow, planTiles, printScale, turned, type PageSize, type Tile, type TilePlan } from './tiling.ts';

/** Room around a region, so that a line's own width is not clipped, mm. */
const paddingMm = 1;

/** As it is, a quarter turn, then every third degree. */
const turns: readonly Vec2[] = [
  [1, 0],
  [0, 1],
  ...Array.from({ length: 59 }, (_, k): Vec2 => [cos(toRadians(3 * (k + 1))), sin(toRadians(3 * (k + 1)))]),
];

export const pdfTiles: Exporter = {
  format: 'pdf-tiles',
  title: 'PDF on pages of your paper, by sheet and by part',
  write: async (input, options) => {
    const sheets = cutSheets(input, options).map((drawn): OutputFile => ({
      path: `sheets/${drawn.sheet.id}.tiles-${options.paper}.pdf`,
      format: 'pdf-tiles',
      mediaType: 'application/pdf',
      sheet: drawn.sheet.id,
      bytes: writeSheetTiles(drawn, input.jobName, options),
    }));
    const refused = refusedMaterials(input, options.tool);
    const parts = input.parts.filter(({ material, mirrorOf }) => !refused.has(material) && mirrorOf === undefined);
    if (parts.length === 0) return sheets;
    const path = `parts/parts.tiles-${options.paper}.pdf`;
    return [...sheets, { path, format: 'pdf-tiles', mediaType: 'application/pdf', bytes: writePartTiles(parts, input, options) }];
  },
};

type TileOptions = Pick<ExportOptions, 'paper' | 'printFactor' | 'date' | 'tool'>;

const outlinesOf = (drawing: Drawing): readonly F64[] =>
  drawing.paths.filter(({ layer, part }) => layer === 'CUT' && part !== undefined).map(({ curve }) => polylineOf(curve, curveMm));

const padded = (box: Box): Box => ({
  minX: box.minX - paddingMm,
  minY: box.minY - paddingMm,
  maxX: box.maxX + paddingMm,
  maxY: box.maxY + paddingMm,
});

/** The file of one sheet. */
export function writeSheetTiles(
  { sheet, drawing }: ExportInput['sheetDrawings'][number],
  jobName: string,
  options: TileOptions,
): Uint8Array {
  const paper = papers[options.paper];
  const title = `${jobName} - ${sheet.id}`;
  const pdf = createPdf({ title: `${title}, ${paper.title}`, date: options.date });
  const full: Box = { minX: 0, minY: 0, maxX: sheet.widthMm, maxY: sheet.heightMm };
  const form = addDrawing(pdf, drawing, padded(full));
  const outlines = outlinesOf(drawing);
  const region = outlines.length > 0 ? padded(boxOf(...outlines)) : full;
  const plan = planTiles(region, outlines, paper, options.printFactor);
  const pages = plan.tiles.length + 1;
  const cover = coverPage(plan.page);
  pdf.addPage({
    ...cover,
    forms: { Sheet: form },
    content: coverContent(
      cover,
      printScale(options.printFactor, cover),
      {
        title: jobName,
        lines: [
          `${sheet.id}: ${sheet.stock}, ${sheet.material}, ${sheet.widthMm} by ${sheet.heightMm} mm. ${options.date}. ${pages} pages of ${paper.title}.`,
        ],
        printFactor: options.printFactor,
      },
      { form: 'Sheet', plan, firstPage: 2, region },
    ),
  });
  for (const [index, tile] of plan.tiles.entries())
    addTile(pdf, { Sheet: form }, plan, tile, options, { title, page: index + 2, pages, paper: paper.title });
  return pdf.finish();
}

/** The cover has the pages' own size; on a roll it is no longer than it needs. */
function coverPage(page: PageSize): PageSize {
  return page.heightMm > 400 && page.widthMm > 400 ? { widthMm: page.widthMm, heightMm: page.heightMm, lying: page.lying } : page;
}

function addTile(
  pdf: PdfDocument,
  forms: Readonly<Record<string, PdfRef>>,
  plan: TilePlan,
  tile: Tile,
  options: TileOptions,
  words: PageWords,
): void {
  const scale = printScale(options.printFactor, plan.page);
  const shown = pageWindow(plan.page);
  const shift: Vec2 = [shown.minX - tile.window.minX * scale[0], shown.minY - tile.window.minY * scale[1]];
  const [name] = Object.keys(forms);
  const content = [
    paintForm(name, { factor: scale, shift }, shown),
    tileMarks(plan, tile, scale),
    pageFoot(plan.page, scale, words, { plan, tile }),
  ].join('\n');
  pdf.addPage({ ...plan.page, content, forms });
}

/** How one part stands on its pages. */
interface PartPages {
  readonly part: DraftedPart;
  readonly form: PdfRef;
  readonly points: F64;
  readonly plan: TilePlan | undefined;
  readonly whole: ReturnType<typeof fitWhole>;
}

/** The file of all parts. */
export function writePartTiles(
  parts: readonly DraftedPart[],
  input: Pick<ExportInput, 'jobName' | 'materials'>,
  options: TileOptions,
): Uint8Array {
  const paper = papers[options.paper];
  const pdf = createPdf({ title: `${input.jobName} - parts, ${paper.title}`, date: options.date });
  const laid = parts.map((part): PartPages => {
    const drawing = correctedDrawing(part, input.materials, options.tool);
    const points = Float64Array.from(drawing.paths.flatMap(({ curve }) => Array.from(polylineOf(curve, curveMm))));
    const region = padded(boxOf(points));
    const form = addDrawing(pdf, drawing, region);
    const whole = fitWhole(points, paper, options.printFactor, turns);
    const plan = whole === undefined ? planTiles(region, outlinesOf(drawing), paper, options.printFactor) : undefined;
    return { part, form, points, plan, whole };
  });
  const counts = laid.map(({ plan }) => plan?.tiles.length ?? 1);
  const pages = counts.reduce((sum, count) => sum + count, 1);
  const first = counts.map((_, index) => counts.slice(0, index).reduce((sum, count) => sum + count, 2));
  const cover = laid[0].plan?.page ?? laid[0].whole?.page ?? { widthMm: 210, heightMm: 297, lying: false };
  pdf.addPage({
    ...cover,
    forms: {},
    content: coverContent(cover, printScale(options.printFactor, cover), {
      title: `${input.jobName}: parts`,
      lines: [
        `${options.date}. ${pages} pages of ${paper.title}.`,
        laid.map(({ part }, index) => `${part.letter} ${part.name}: page ${first[index]}`).join(', '),
      ],
      printFactor: options.printFactor,
    }),
  });
  for (const [index, entry] of laid.entries())
    addPart(pdf, entry, options, { page: first[index], pages, paper: paper.title, jobName: input.jobName });
  return pdf.finish();
}

function addPart(
  pdf: PdfDocument,
  { part, form, points, plan, whole }: PartPages,
  options: TileOptions,
  about: Omit<PageWords, 'title'> & { readonly jobName: string },
): void {
  const title = `${part.letter} ${part.name} (${part.id}, version ${part.version}) - ${about.jobName}`;
  if (whole !== undefined) {
    const { page, turn } = whole;
    const scale = printScale(options.printFactor, page);
    const shown = pageWindow(page);
    const box = boxOf(turned(points, turn));
    const shift: Vec2 = [
      (shown.minX + shown.maxX - (box.minX + box.maxX) * scale[0]) / 2,
      (shown.minY + shown.maxY - (box.minY + box.maxY) * scale[1]) / 2,
    ];
    const content = `${paintForm('Part', { factor: scale, shift, turn }, shown)}\n${pageFoot(page, scale, { ...about, title })}`;
    pdf.addPage({ ...page, content, forms: { Part: form } });
    return;
  }
  if (plan === undefined) return;
  for (const [index, tile] of plan.tiles.entries())
    addTile(pdf, { Part: form }, plan, tile, options, { ...about, title, page: about.page + index });
}
