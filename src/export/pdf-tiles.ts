/*
 * PDF for home printers: each sheet divided over pages, and each part on pages of its own (whole, if any turn brings it onto one page).
 * A drawing is one Form XObject that every page clips, so no coordinate is ever rescaled but by the printer's typed error.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { curveMm } from '../base/tolerance.ts';
import type { Drawing } from '../draft/drawing.ts';
import { toRadians } from '../units/angle.ts';
import { correctedDrawing } from './corrections.ts';
import { flattenCurve } from '../draft/curve.ts';
import { boxOf, type Box } from './box.ts';
import { couponSheets } from './coupon-sheet.ts';
import type { Exporter, ExportInput, ExportOptions, OutputFile } from './exporter.ts';
import { cutSheets, refusedMaterials } from './laser-rule.ts';
import { papers } from './papers.ts';
import { addDrawing, paintForm } from './pdf-drawing.ts';
import { createPdf, type PdfDocument, type PdfRef } from './pdf-writer.ts';
import { packShelves } from './shelf.ts';
import { coverContent } from './tile-cover.ts';
import { pageFoot, tileMarks, type PageWords } from './tile-page.ts';
import { fitWhole, pageWindow, planTiles, printScale, turned, type Tile, type TilePlan } from './tiling.ts';

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
    const items = parts.map((part): LooseItem => {
      const name = `${part.letter} ${part.name}`;
      return {
        name,
        title: `${name} (${part.id}, version ${part.version})`,
        drawing: correctedDrawing(part, input.materials, options.tool),
      };
    });
    const templates = packShelves(
      parts.flatMap((part) => part.templates),
      templateRoom(options),
    ).map(({ name, drawing }): LooseItem => ({ name, title: `Curve templates ${name}`, drawing }));
    const loose = (stem: string, heading: string, list: readonly LooseItem[]): readonly OutputFile[] => {
      const path = `parts/${stem}.tiles-${options.paper}.pdf`;
      const bytes = (): Uint8Array => writeLooseTiles(list, { jobName: input.jobName, heading }, options);
      return list.length === 0 ? [] : [{ path, format: 'pdf-tiles', mediaType: 'application/pdf', bytes: bytes() }];
    };
    const coupons = couponSheets(input, options).map(({ material, drawing }): LooseItem => ({
      name: material.name,
      title: `Coupons of ${material.name}, not corrected`,
      drawing,
    }));
    return [
      ...sheets,
      ...loose('parts', 'parts', items),
      ...loose('templates', 'curve templates, to cut from card', templates),
      ...loose('coupons', 'coupons, to measure the material', coupons),
    ];
  },
};

/** What an upright page can show of the drawing; a roll is filled to the same length as its width. */
function templateRoom({ paper, printFactor }: ExportOptions): Vec2 {
  const { widthMm, heightMm = widthMm } = papers[paper];
  const page = { widthMm, heightMm, lying: false };
  const shown = pageWindow(page);
  const scale = printScale(printFactor, page);
  return [(shown.maxX - shown.minX) / scale[0], (shown.maxY - shown.minY) / scale[1]];
}

/** A part or a page of templates on pages of its own. */
export interface LooseItem {
  /** Short name for the list on the first page. */
  readonly name: string;
  /** What stands at the foot of its pages. */
  readonly title: string;
  readonly drawing: Drawing;
}

type TileOptions = Pick<ExportOptions, 'paper' | 'printFactor' | 'date' | 'tool'>;

const outlinesOf = (drawing: Drawing): readonly F64[] =>
  drawing.paths.filter(({ layer, part }) => layer === 'CUT' && part !== undefined).map(({ curve }) => flattenCurve(curve, curveMm));

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
  const cover = plan.page;
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

function addTile(
  pdf: PdfDocument,
  forms: Readonly<Record<string, PdfRef>>,
  plan: TilePlan,
  tile: Tile,
  options: Pick<TileOptions, 'printFactor'>,
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

/** How one item stands on its pages. */
interface ItemPages {
  readonly item: LooseItem;
  readonly form: PdfRef;
  readonly points: F64;
  readonly plan: TilePlan | undefined;
  readonly whole: ReturnType<typeof fitWhole>;
}

/** The file of all parts, or of all templates: whole on one page where any turn allows it. */
export function writeLooseTiles(
  items: readonly LooseItem[],
  about: { readonly jobName: string; readonly heading: string },
  options: Omit<TileOptions, 'tool'>,
): Uint8Array {
  const paper = papers[options.paper];
  const pdf = createPdf({ title: `${about.jobName} - ${about.heading}, ${paper.title}`, date: options.date });
  const laid = items.map((item): ItemPages => {
    const points = Float64Array.from(item.drawing.paths.flatMap(({ curve }) => Array.from(flattenCurve(curve, curveMm))));
    const region = padded(boxOf(points));
    const form = addDrawing(pdf, item.drawing, region);
    const whole = fitWhole(points, paper, options.printFactor, turns);
    const plan = whole === undefined ? planTiles(region, outlinesOf(item.drawing), paper, options.printFactor) : undefined;
    return { item, form, points, plan, whole };
  });
  const counts = laid.map(({ plan }) => plan?.tiles.length ?? 1);
  const pages = counts.reduce((sum, count) => sum + count, 1);
  const first = counts.map((_, index) => counts.slice(0, index).reduce((sum, count) => sum + count, 2));
  const cover = laid[0].plan?.page ?? laid[0].whole?.page ?? { widthMm: papers.a4.widthMm, heightMm: 297, lying: false };
  const list = laid.map(({ item }, index) => `${item.name}: page ${first[index]}`).join(', ');
  pdf.addPage({
    ...cover,
    forms: {},
    content: coverContent(cover, printScale(options.printFactor, cover), {
      title: `${about.jobName}: ${about.heading}`,
      lines: [`${options.date}. ${pages} pages of ${paper.title}.`, list],
      printFactor: options.printFactor,
    }),
  });
  for (const [index, entry] of laid.entries()) {
    const title = `${entry.item.title} - ${about.jobName}`;
    addItem(pdf, entry, options, { title, page: first[index], pages, paper: paper.title });
  }
  return pdf.finish();
}

function addItem(
  pdf: PdfDocument,
  { form, points, plan, whole }: ItemPages,
  options: Pick<TileOptions, 'printFactor'>,
  words: PageWords,
): void {
  if (whole !== undefined) {
    const { page, turn } = whole;
    const scale = printScale(options.printFactor, page);
    const shown = pageWindow(page);
    const box = boxOf(turned(points, turn));
    const shift: Vec2 = [
      (shown.minX + shown.maxX - (box.minX + box.maxX) * scale[0]) / 2,
      (shown.minY + shown.maxY - (box.minY + box.maxY) * scale[1]) / 2,
    ];
    const content = `${paintForm('Part', { factor: scale, shift, turn }, shown)}\n${pageFoot(page, scale, words)}`;
    pdf.addPage({ ...page, content, forms: { Part: form } });
    return;
  }
  if (plan === undefined) return;
  for (const [index, tile] of plan.tiles.entries())
    addTile(pdf, { Part: form }, plan, tile, options, { ...words, page: words.page + index });
}
