/*
 * DXF 2000 (AC1015): millimetres by $INSUNITS, straight outlines as LWPOLYLINE, curved ones as one clamped cubic SPLINE each, so that a
 * curve leaves as the curve it is. A file of this release must be whole: handles, owners, block records, layouts and the dictionaries
 * that programs look for all stand here [autodesk-dxf].
 * A chain of Béziers is a B-spline whose inner knots count three times; a straight piece is a Bézier with its control points on thirds.
 */
import type { Vec2 } from '../base/arrays.ts';
import { layerNames, type Curve, type DrawingLabel, type DrawingPath } from '../draft/drawing.ts';
import type { Sheet } from '../nest/sheet.ts';
import { toDegrees } from '../units/angle.ts';
import { applicationName, dxfBytes, dxfText, lineTypeOf, lineTypes, partData, pathsByLayer, tags } from './dxf-tags.ts';
import type { Exporter, ExportInput, OutputFile } from './exporter.ts';
import { cutSheets } from './laser-rule.ts';
import { layerStyles } from './layers.ts';

export const dxf2000: Exporter = {
  format: 'dxf-2000',
  title: 'DXF 2000 of each sheet, with true curves',
  write: async (input, options) =>
    cutSheets(input, options).map((drawn): OutputFile => ({
      path: `sheets/${drawn.sheet.id}.2000.dxf`,
      format: 'dxf-2000',
      mediaType: 'image/vnd.dxf',
      sheet: drawn.sheet.id,
      bytes: dxfBytes(write2000(drawn)),
    })),
};

/** Handles of the objects that other objects point to; entities count on from `firstFree`. */
const handle = {
  blockRecordTable: '1',
  layerTable: '2',
  styleTable: '3',
  lineTypeTable: '5',
  viewTable: '6',
  ucsTable: '7',
  viewportTable: '8',
  applicationTable: '9',
  dimensionStyleTable: 'A',
  root: 'C',
  groups: 'D',
  layouts: '1A',
  plotStyles: 'E',
  plotStyle: 'F',
  multilineStyles: '17',
  multilineStyle: '18',
  modelRecord: '1F',
  modelBlock: '20',
  modelEnd: '21',
  modelLayout: '22',
  paperRecord: '1B',
  paperBlock: '1C',
  paperEnd: '1D',
  paperLayout: '1E',
} as const;
const firstFree = 0x40;

/** Hands out handles in order. */
interface Handles {
  readonly next: () => string;
  readonly seed: () => string;
}

function countHandles(): Handles {
  let count = firstFree;
  return { next: () => (count++).toString(16).toUpperCase(), seed: () => count.toString(16).toUpperCase() };
}

/** The lines of one sheet's file. */
export function write2000({ sheet, drawing }: ExportInput['sheetDrawings'][number]): string[] {
  const handles = countHandles();
  const body = [
    ...tables(sheet, handles),
    ...blocks(),
    ...tags(0, 'SECTION', 2, 'ENTITIES'),
    ...pathsByLayer(drawing.paths).flatMap(({ paths }) => paths.flatMap((path) => pathEntity(path, handles))),
    ...drawing.labels.flatMap((label) => textEntity(label, handles)),
    ...tags(0, 'ENDSEC'),
    ...objects(sheet),
    ...tags(0, 'EOF'),
  ];
  return [...header(sheet, handles.seed()), ...tags(0, 'SECTION', 2, 'CLASSES', 0, 'ENDSEC'), ...body];
}

function header(sheet: Sheet, seed: string): string[] {
  return [
    ...tags(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1015', 9, '$DWGCODEPAGE', 3, 'ANSI_1252', 9, '$HANDSEED', 5, seed),
    ...tags(9, '$INSBASE', 10, 0, 20, 0, 30, 0, 9, '$EXTMIN', 10, 0, 20, 0, 30, 0),
    ...tags(9, '$EXTMAX', 10, sheet.widthMm, 20, sheet.heightMm, 30, 0),
    ...tags(9, '$LIMMIN', 10, 0, 20, 0, 9, '$LIMMAX', 10, sheet.widthMm, 20, sheet.heightMm),
    ...tags(9, '$INSUNITS', 70, 4, 9, '$MEASUREMENT', 70, 1, 9, '$LUNITS', 70, 2, 9, '$LUPREC', 70, 4, 0, 'ENDSEC'),
  ];
}

/** Opens a table: its own handle, owner 0, number of entries. */
const openTable = (name: string, own: string, count: number): string[] =>
  tags(0, 'TABLE', 2, name, 5, own, 330, '0', 100, 'AcDbSymbolTable', 70, count);

/** The head of a table entry. */
const entry = (type: string, own: string, owner: string, kind: string): string[] =>
  tags(0, type, 5, own, 330, owner, 100, 'AcDbSymbolTableRecord', 100, kind);

function tables(sheet: Sheet, handles: Handles): string[] {
  return [
    ...tags(0, 'SECTION', 2, 'TABLES'),
    ...viewportTable(sheet, handles),
    ...lineTypeTable(handles),
    ...layerTable(handles),
    ...openTable('STYLE', handle.styleTable, 1),
    ...entry('STYLE', handles.next(), handle.styleTable, 'AcDbTextStyleTableRecord'),
    ...tags(2, 'Standard', 70, 0, 40, 0, 41, 1, 50, 0, 71, 0, 42, 2.5, 3, 'txt', 4, '', 0, 'ENDTAB'),
    ...openTable('VIEW', handle.viewTable, 0),
    ...tags(0, 'ENDTAB'),
    ...openTable('UCS', handle.ucsTable, 0),
    ...tags(0, 'ENDTAB'),
    ...openTable('APPID', handle.applicationTable, 2),
    ...['ACAD', applicationName].flatMap((name) => [
      ...entry('APPID', handles.next(), handle.applicationTable, 'AcDbRegAppTableRecord'),
      ...tags(2, name, 70, 0),
    ]),
    ...tags(0, 'ENDTAB'),
    ...openTable('DIMSTYLE', handle.dimensionStyleTable, 1),
    ...tags(100, 'AcDbDimStyleTable', 71, 1),
    ...tags(0, 'DIMSTYLE', 105, handles.next(), 330, handle.dimensionStyleTable, 100, 'AcDbSymbolTableRecord'),
    ...tags(100, 'AcDbDimStyleTableRecord', 2, 'Standard', 70, 0, 0, 'ENDTAB'),
    ...openTable('BLOCK_RECORD', handle.blockRecordTable, 2),
    ...entry('BLOCK_RECORD', handle.modelRecord, handle.blockRecordTable, 'AcDbBlockTableRecord'),
    ...tags(2, '*Model_Space', 340, handle.modelLayout),
    ...entry('BLOCK_RECORD', handle.paperRecord, handle.blockRecordTable, 'AcDbBlockTableRecord'),
    ...tags(2, '*Paper_Space', 340, handle.paperLayout),
    ...tags(0, 'ENDTAB', 0, 'ENDSEC'),
  ];
}

/** One viewport that shows the whole sheet when the file is opened. */
function viewportTable(sheet: Sheet, handles: Handles): string[] {
  const { widthMm, heightMm } = sheet;
  return [
    ...openTable('VPORT', handle.viewportTable, 1),
    ...entry('VPORT', handles.next(), handle.viewportTable, 'AcDbViewportTableRecord'),
    ...tags(2, '*Active', 70, 0, 10, 0, 20, 0, 11, 1, 21, 1, 12, widthMm / 2, 22, heightMm / 2, 13, 0, 23, 0, 14, 10, 24, 10),
    ...tags(15, 10, 25, 10, 16, 0, 26, 0, 36, 1, 17, 0, 27, 0, 37, 0, 40, heightMm * 1.1, 41, widthMm / heightMm, 42, 50),
    ...tags(43, 0, 44, 0, 50, 0, 51, 0, 71, 0, 72, 1000, 73, 1, 74, 3, 75, 0, 76, 0, 77, 0, 78, 0, 0, 'ENDTAB'),
  ];
}

function lineTypeTable(handles: Handles): string[] {
  const record = (name: string, look: string, pattern: readonly number[]): string[] => [
    ...entry('LTYPE', handles.next(), handle.lineTypeTable, 'AcDbLinetypeTableRecord'),
    ...tags(
      2,
      name,
      70,
      0,
      3,
      look,
      72,
      65,
      73,
      pattern.length,
      40,
      pattern.reduce((sum, dash) => sum + Math.abs(dash), 0),
    ),
    ...pattern.flatMap((dash) => tags(49, dash, 74, 0)),
  ];
  return [
    ...openTable('LTYPE', handle.lineTypeTable, lineTypes.length + 2),
    ...record('ByBlock', '', []),
    ...record('ByLayer', '', []),
    ...lineTypes.flatMap(({ name, look, pattern }) => record(name, look, pattern)),
    ...tags(0, 'ENDTAB'),
  ];
}

function layerTable(handles: Handles): string[] {
  const record = (name: string, color: number, lineType: string): string[] => [
    ...entry('LAYER', handles.next(), handle.layerTable, 'AcDbLayerTableRecord'),
    ...tags(2, name, 70, 0, 62, color, 6, lineType, 370, -3, 390, handle.plotStyle),
  ];
  return [
    ...openTable('LAYER', handle.layerTable, layerNames.length + 1),
    ...record('0', 7, 'CONTINUOUS'),
    ...layerNames.flatMap((layer) => record(layer, layerStyles[layer].colorIndex, lineTypeOf(layer))),
    ...tags(0, 'ENDTAB'),
  ];
}

function blocks(): string[] {
  const block = (name: string, record: string, begin: string, end: string, space: readonly string[]): string[] => [
    ...tags(0, 'BLOCK', 5, begin, 330, record, 100, 'AcDbEntity'),
    ...space,
    ...tags(8, '0', 100, 'AcDbBlockBegin', 2, name, 70, 0, 10, 0, 20, 0, 30, 0, 3, name, 1, ''),
    ...tags(0, 'ENDBLK', 5, end, 330, record, 100, 'AcDbEntity'),
    ...space,
    ...tags(8, '0', 100, 'AcDbBlockEnd'),
  ];
  return [
    ...tags(0, 'SECTION', 2, 'BLOCKS'),
    ...block('*Model_Space', handle.modelRecord, handle.modelBlock, handle.modelEnd, []),
    ...block('*Paper_Space', handle.paperRecord, handle.paperBlock, handle.paperEnd, tags(67, 1)),
    ...tags(0, 'ENDSEC'),
  ];
}

function pathEntity(path: DrawingPath, handles: Handles): string[] {
  const common = (type: string): string[] => tags(0, type, 5, handles.next(), 330, handle.modelRecord, 100, 'AcDbEntity', 8, path.layer);
  const curved = path.curve.segments.some(({ kind }) => kind === 'cubic');
  return curved
    ? [...common('SPLINE'), ...spline(path.curve), ...partData(path.part)]
    : [...common('LWPOLYLINE'), ...lightPolyline(path.curve), ...partData(path.part)];
}

function lightPolyline(curve: Curve): string[] {
  const points: Vec2[] = [curve.start, ...curve.segments.map(({ to }) => to)];
  const [first, last] = [points[0], points[points.length - 1]];
  if (curve.closed && points.length > 1 && first[0] === last[0] && first[1] === last[1]) points.pop();
  return [
    ...tags(100, 'AcDbPolyline', 90, points.length, 70, curve.closed ? 1 : 0, 43, 0),
    ...points.flatMap(([x, y]) => tags(10, x, 20, y)),
  ];
}

/** A clamped cubic through n Béziers: 3n + 1 control points, knots 0 (4 times), 1 … n − 1 (3 times each), n (4 times). */
function spline(curve: Curve): string[] {
  const controls: Vec2[] = [curve.start];
  let from = curve.start;
  for (const segment of curve.segments) {
    const { to } = segment;
    const share = (t: number): Vec2 => [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    if (segment.kind === 'cubic') controls.push(segment.c1, segment.c2, to);
    else controls.push(share(1 / 3), share(2 / 3), to);
    from = to;
  }
  const count = curve.segments.length;
  const knots = [0, ...Array.from({ length: count + 1 }, (_, k) => [k, k, k]).flat(), count];
  const lines = tags(
    100,
    'AcDbSpline',
    210,
    0,
    220,
    0,
    230,
    1,
    70,
    curve.closed ? 9 : 8,
    71,
    3,
    72,
    knots.length,
    73,
    controls.length,
    74,
    0,
  );
  lines.push(...knots.flatMap((knot) => tags(40, knot)));
  for (const [x, y] of controls) lines.push(...tags(10, x, 20, y, 30, 0));
  return lines;
}

/** Text that can be found but is not drawn (60 = 1): its letters stand as strokes beside it. */
function textEntity(label: DrawingLabel, handles: Handles): string[] {
  return [
    ...tags(0, 'TEXT', 5, handles.next(), 330, handle.modelRecord, 100, 'AcDbEntity', 8, 'TEXT', 60, 1, 100, 'AcDbText'),
    ...tags(10, label.at[0], 20, label.at[1], 30, 0, 40, label.heightMm, 1, dxfText(label.text), 50, toDegrees(label.angle)),
    ...tags(7, 'Standard', 100, 'AcDbText'),
    ...partData(label.part),
  ];
}

function objects(sheet: Sheet): string[] {
  const dictionary = (own: string, owner: string, entries: readonly (readonly [string, string])[]): string[] => [
    ...tags(0, 'DICTIONARY', 5, own, 330, owner, 100, 'AcDbDictionary', 281, 1),
    ...entries.flatMap(([name, target]) => tags(3, name, 350, target)),
  ];
  return [
    ...tags(0, 'SECTION', 2, 'OBJECTS'),
    ...dictionary(handle.root, '0', [
      ['ACAD_GROUP', handle.groups],
      ['ACAD_LAYOUT', handle.layouts],
      ['ACAD_MLINESTYLE', handle.multilineStyles],
      ['ACAD_PLOTSTYLENAME', handle.plotStyles],
    ]),
    ...dictionary(handle.groups, handle.root, []),
    ...dictionary(handle.layouts, handle.root, [
      ['Model', handle.modelLayout],
      ['Layout1', handle.paperLayout],
    ]),
    ...dictionary(handle.multilineStyles, handle.root, [['Standard', handle.multilineStyle]]),
    ...tags(0, 'MLINESTYLE', 5, handle.multilineStyle, 330, handle.multilineStyles, 100, 'AcDbMlineStyle', 2, 'STANDARD', 70, 0, 3, ''),
    ...tags(62, 256, 51, 90, 52, 90, 71, 2, 49, 0.5, 62, 256, 6, 'BYLAYER', 49, -0.5, 62, 256, 6, 'BYLAYER'),
    ...tags(0, 'ACDBDICTIONARYWDFLT', 5, handle.plotStyles, 330, handle.root, 100, 'AcDbDictionary', 281, 1, 3, 'Normal'),
    ...tags(350, handle.plotStyle, 100, 'AcDbDictionaryWithDefault', 340, handle.plotStyle),
    ...tags(0, 'ACDBPLACEHOLDER', 5, handle.plotStyle, 330, handle.plotStyles),
    ...layout('Model', handle.modelLayout, handle.modelRecord, 0, sheet),
    ...layout('Layout1', handle.paperLayout, handle.paperRecord, 1, sheet),
    ...tags(0, 'ENDSEC'),
  ];
}

function layout(name: string, own: string, record: string, order: number, sheet: Sheet): string[] {
  const { widthMm, heightMm } = sheet;
  return [
    ...tags(0, 'LAYOUT', 5, own, 330, handle.layouts, 100, 'AcDbPlotSettings', 1, '', 2, '', 4, '', 6, ''),
    ...tags(40, 0, 41, 0, 42, 0, 43, 0, 44, widthMm, 45, heightMm, 46, 0, 47, 0, 48, 0, 49, 0, 140, 0, 141, 0, 142, 1, 143, 1),
    ...tags(70, order === 0 ? 1024 : 0, 72, 1, 73, 0, 74, 5, 7, '', 75, 16, 147, 1, 148, 0, 149, 0),
    ...tags(100, 'AcDbLayout', 1, name, 70, 1, 71, order, 10, 0, 20, 0, 11, widthMm, 21, heightMm, 12, 0, 22, 0, 32, 0),
    ...tags(14, 0, 24, 0, 34, 0, 15, widthMm, 25, heightMm, 35, 0, 146, 0, 13, 0, 23, 0, 33, 0, 16, 1, 26, 0, 36, 0, 17, 0, 27, 1, 37, 0),
    ...tags(76, 0, 330, record),
  ];
}
