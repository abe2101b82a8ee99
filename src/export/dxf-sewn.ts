/*
 * The sewn-product exchange file of [astm-d6673]: all parts in one DXF, one block a piece, features by layer number, 7-bit ASCII. The layer numbers
 * and keywords are from memory of the standard, checked against a public summary of it, not against its text. It cannot say which edges meet:
 * the seam pairs stand as annotation text. Straight pieces end in turn points, curves pass through curve points.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { Failure, finding, type Finding } from '../base/failure.ts';
import { atan2, cos } from '../base/elementary.ts';
import { sewnMm } from '../base/tolerance.ts';
import type { DraftedPart, DraftedSeam } from '../draft/drafted-part.ts';
import type { Drawing, DrawingPath, LayerName } from '../draft/drawing.ts';
import { toDegrees, toRadians } from '../units/angle.ts';
import { correctedDrawing } from './corrections.ts';
import { flattenCurve } from '../draft/curve.ts';
import { boxOf } from './box.ts';
import { dxfBytes, partData, tags, applicationName } from './dxf-tags.ts';
import type { Exporter, ExportInput, ExportOptions } from './exporter.ts';
import { refusedMaterials } from './laser-rule.ts';
import { isAscii, plainText } from './win-ansi.ts';

/** Layers of the standard that a part uses. */
const sewnLayers = {
  boundary: '1',
  turn: '2',
  curve: '3',
  notch: '4',
  grain: '7',
  drawn: '8',
  cutOut: '11',
  sewLine: '14',
  note: '15',
} as const;

const drawnLayers: ReadonlySet<LayerName> = new Set(['SCORE', 'DRAWN', 'REFERENCE', 'BEVEL_OUTER', 'BEVEL_INNER']);
/** A corner of the outline that turns by more than this is a turn point. */
const cornerCosine = cos(toRadians(15));
/** Space between pieces on the drawing, mm. */
const gapMm = 20;
const textHeightMm = 5;

export const dxfSewn: Exporter = {
  format: 'dxf-sewn',
  title: 'DXF for sewn products (ASTM D6673), all parts',
  write: async (input, options) => {
    const refused = refusedMaterials(input, options.tool);
    const parts = input.parts.filter(({ material }) => !refused.has(material));
    if (parts.length === 0 && input.parts.length > 0) {
      const [reason] = refused.values();
      throw new Failure('export/laser-refused', reason, { stage: 'export' }, 'Cut by hand or with a knife, or choose another material.');
    }
    const findings = replacedFindings([input.jobName, ...parts.flatMap(({ name, area }) => [name, area])]);
    return [
      {
        path: 'sewn.dxf',
        format: 'dxf-sewn',
        mediaType: 'image/vnd.dxf',
        bytes: dxfBytes(writeSewn({ ...input, parts }, options)),
        ...(findings.length > 0 ? { findings } : {}),
      },
    ];
  },
};

const ascii = (words: string): string => plainText(words, isAscii).text;

function replacedFindings(texts: readonly string[]): Finding[] {
  const replaced = texts.map((words) => ({ words, plain: plainText(words, isAscii) })).filter(({ plain }) => plain.changed);
  if (replaced.length === 0) return [];
  return [
    finding(
      'note',
      'export/letters-replaced',
      `The sewn-product file holds plain ASCII only: ${[...new Set(replaced.map(({ words, plain }) => `"${words}" became "${plain.text}"`))].join(', ')}.`,
      { stage: 'export', item: 'sewn.dxf' },
      'Other formats keep the name as you wrote it.',
    ),
  ];
}

/** The lines of the file. */
export function writeSewn(
  input: Pick<ExportInput, 'jobName' | 'parts' | 'seams' | 'materials'>,
  options: Pick<ExportOptions, 'tool' | 'date'>,
): string[] {
  const names = blockNames(input.parts);
  const drawings = input.parts.map((part) => correctedDrawing(part, input.materials, options.tool));
  const inserts = placeInRow(drawings);
  return [
    ...tags(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1009', 0, 'ENDSEC'),
    ...layerTable(),
    ...tags(0, 'SECTION', 2, 'BLOCKS'),
    ...input.parts.flatMap((part, index) => block(names[index], part, drawings[index], input.seams)),
    ...tags(0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES'),
    ...names.flatMap((name, index) =>
      tags(0, 'INSERT', 8, sewnLayers.boundary, 2, name, 10, inserts[index][0], 20, inserts[index][1], 30, 0),
    ),
    ...styleText(input, options.date),
    ...tags(0, 'ENDSEC', 0, 'EOF'),
  ];
}

function layerTable(): string[] {
  const layers = ['0', ...Object.values(sewnLayers)];
  return [
    ...tags(0, 'SECTION', 2, 'TABLES', 0, 'TABLE', 2, 'LTYPE', 70, 1),
    ...tags(0, 'LTYPE', 2, 'CONTINUOUS', 70, 0, 3, 'Solid line', 72, 65, 73, 0, 40, 0, 0, 'ENDTAB'),
    ...tags(0, 'TABLE', 2, 'LAYER', 70, layers.length),
    ...layers.flatMap((layer) => tags(0, 'LAYER', 2, layer, 70, 0, 62, 7, 6, 'CONTINUOUS')),
    ...tags(
      0,
      'ENDTAB',
      0,
      'TABLE',
      2,
      'STYLE',
      70,
      1,
      0,
      'STYLE',
      2,
      'STANDARD',
      70,
      0,
      40,
      0,
      41,
      1,
      50,
      0,
      71,
      0,
      42,
      2.5,
      3,
      'txt',
      4,
      '',
    ),
    ...tags(0, 'ENDTAB', 0, 'TABLE', 2, 'APPID', 70, 2, 0, 'APPID', 2, 'ACAD', 70, 0, 0, 'APPID', 2, applicationName, 70, 0),
    ...tags(0, 'ENDTAB', 0, 'ENDSEC'),
  ];
}

/** Block names: the part's id in capitals, digits and underlines, at most 31 letters, each once. */
function blockNames(parts: readonly DraftedPart[]): readonly string[] {
  const used = new Set<string>();
  return parts.map(({ id }) => {
    const base = ascii(id)
      .toUpperCase()
      .replace(/[^A-Z0-9]+/g, '_')
      .slice(0, 27);
    let name = base;
    for (let k = 2; used.has(name); k++) name = `${base}_${k}`;
    used.add(name);
    return name;
  });
}

/** Where each piece stands: in a row, by its own width. */
function placeInRow(drawings: readonly Drawing[]): readonly Vec2[] {
  let x = 0;
  return drawings.map(({ paths }) => {
    const box = boxOf(...paths.filter(({ layer }) => layer === 'CUT').map(({ curve }) => flattenCurve(curve, sewnMm)));
    const at: Vec2 = Number.isFinite(box.minX) ? [x - box.minX, -box.minY] : [x, 0];
    x += Number.isFinite(box.minX) ? box.maxX - box.minX + gapMm : gapMm;
    return at;
  });
}

function block(name: string, part: DraftedPart, drawing: Drawing, seams: readonly DraftedSeam[]): string[] {
  const cuts = drawing.paths.filter(({ layer }) => layer === 'CUT');
  const outline = cuts.length > 0 ? flattenCurve(cuts[0].curve, sewnMm) : part.outline;
  return [
    ...tags(0, 'BLOCK', 8, '0', 2, name, 70, 2, 10, 0, 20, 0, 30, 0, 3, name),
    ...drawing.paths.flatMap((path) => feature(path)),
    ...cornersOf(outline).flatMap(({ at, turns }) => point(turns ? sewnLayers.turn : sewnLayers.curve, at)),
    ...part.notches.flatMap(({ at }) => notch(outline, at)),
    ...grainLine(drawing, part.id),
    ...part.sides
      .filter(({ allowanceMm }) => allowanceMm > 0)
      .flatMap(({ seamLine }) => polyline(sewnLayers.sewLine, seamLine, false, part.id)),
    ...pieceText(part, outline, seams),
    ...tags(0, 'ENDBLK', 8, '0'),
  ];
}

function feature(path: DrawingPath): string[] {
  const points = flattenCurve(path.curve, sewnMm);
  const layer =
    path.layer === 'CUT'
      ? sewnLayers.boundary
      : path.layer === 'CUT_INSIDE'
        ? sewnLayers.cutOut
        : drawnLayers.has(path.layer)
          ? sewnLayers.drawn
          : undefined;
  return layer === undefined ? [] : polyline(layer, points, path.curve.closed, path.part);
}

function polyline(layer: string, points: F64, closed: boolean, part: string | undefined): string[] {
  const lines = [...tags(0, 'POLYLINE', 8, layer, 66, 1, 10, 0, 20, 0, 30, 0, 70, closed ? 1 : 0), ...partData(part)];
  for (let k = 0; k < points.length; k += 2) lines.push(...tags(0, 'VERTEX', 8, layer, 10, points[k], 20, points[k + 1], 30, 0));
  return [...lines, ...tags(0, 'SEQEND', 8, layer)];
}

const point = (layer: string, [x, y]: Vec2): string[] => tags(0, 'POINT', 8, layer, 10, x, 20, y, 30, 0);

/** Every point of the outline, and whether the outline turns there by more than 15°. */
function cornersOf(outline: F64): readonly { readonly at: Vec2; readonly turns: boolean }[] {
  const count = outline.length / 2;
  return Array.from({ length: count }, (_, k) => {
    const [before, after] = [(k + count - 1) % count, (k + 1) % count];
    const [ux, uy] = [outline[2 * k] - outline[2 * before], outline[2 * k + 1] - outline[2 * before + 1]];
    const [vx, vy] = [outline[2 * after] - outline[2 * k], outline[2 * after + 1] - outline[2 * k + 1]];
    const turns = ux * vx + uy * vy < cornerCosine * Math.hypot(ux, uy) * Math.hypot(vx, vy);
    return { at: [outline[2 * k], outline[2 * k + 1]], turns };
  });
}

/** A slit notch on the outline, at the place nearest to the seam line's: group 50 its direction into the piece, 39 its depth. */
function notch(outline: F64, wanted: Vec2): string[] {
  let [best, x, y, angle] = [Infinity, wanted[0], wanted[1], 0];
  for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
    const [ax, ay, dx, dy] = [outline[j], outline[j + 1], outline[k] - outline[j], outline[k + 1] - outline[j + 1]];
    const span = dx * dx + dy * dy;
    const t = span === 0 ? 0 : Math.min(1, Math.max(0, ((wanted[0] - ax) * dx + (wanted[1] - ay) * dy) / span));
    const distance = Math.hypot(wanted[0] - ax - t * dx, wanted[1] - ay - t * dy);
    if (distance < best) [best, x, y, angle] = [distance, ax + t * dx, ay + t * dy, inward(dx, dy)];
  }
  return tags(0, 'POINT', 8, sewnLayers.notch, 10, x, 20, y, 30, 0, 39, notchDepthMm, 50, angle);
}

const notchDepthMm = 5;

/** Direction into a counter-clockwise outline beside an edge, degrees. */
const inward = (dx: number, dy: number): number => {
  const angle = toDegrees(atan2(dx, -dy));
  return angle < 0 ? angle + 360 : angle;
};

/** The up arrow as the grain line: from the tail to the head of the part's arrow. */
function grainLine(drawing: Drawing, part: string): string[] {
  const arrow = drawing.paths.find(({ layer }) => layer === 'ARROW');
  if (arrow === undefined) return [];
  const { start, segments } = arrow.curve;
  const end = segments[0]?.to ?? start;
  return [...tags(0, 'LINE', 8, sewnLayers.grain, 10, start[0], 20, start[1], 30, 0, 11, end[0], 21, end[1], 31, 0), ...partData(part)];
}

const text = (layer: string, [x, y]: Vec2, line: string): string[] =>
  tags(0, 'TEXT', 8, layer, 10, x, 20, y, 30, 0, 40, textHeightMm, 1, ascii(line));

/** The keywords of a piece, and our own notes: mates, thickness of the job's layer, which face is up. */
function pieceText(part: DraftedPart, outline: F64, seams: readonly DraftedSeam[]): string[] {
  const box = boxOf(outline);
  const mates = seams.flatMap(({ sides, lengthsMm }) =>
    sides.some((side) => part.sides.some(({ id }) => id === side)) ? [`SEAM ${sides[0]} TO ${sides[1]} ${lengthsMm[0].toFixed(1)} MM`] : [],
  );
  const keywords = [
    `PIECE NAME: ${part.letter} ${part.name}`,
    'SIZE: ONE',
    `QUANTITY: ${part.count}`,
    `MATERIAL: ${part.material}`,
    `CATEGORY: ${part.area}`,
  ];
  const notes = [`SIDE: ${part.side}`, ...(part.pair === undefined ? [] : [`MIRRORED AS: ${part.pair}`]), ...mates];
  const line = (index: number): Vec2 => [box.minX, box.minY - gapMm / 2 - index * 1.6 * textHeightMm];
  return [
    ...keywords.flatMap((words, index) => text(sewnLayers.boundary, line(index), words)),
    ...notes.flatMap((words, index) => text(sewnLayers.note, line(keywords.length + index), words)),
  ];
}

/** The keywords of the style, once a file. */
function styleText(input: Pick<ExportInput, 'jobName'>, date: string): string[] {
  const words = [
    'ASTM/D13PROPOSAL 1 VERSION: D 6673',
    `STYLE NAME: ${input.jobName}`,
    `CREATION DATE: ${date.slice(5, 7)}-${date.slice(8, 10)}-${date.slice(0, 4)}`,
    'CREATION TIME: 12-00',
    'AUTHOR: PLASTRON',
    'SAMPLE SIZE: ONE',
    'GRADE RULE TABLE: NONE',
    'UNITS: METRIC',
  ];
  return words.flatMap((line, index) => text(sewnLayers.boundary, [0, -(200 + index * 1.6 * textHeightMm)], line));
}
