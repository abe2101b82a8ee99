/*
 * DXF Release 12 (AC1009) for old cutters and programs: POLYLINE and VERTEX, TEXT, layers by the contract's names, part ids as extended
 * data. R12 has no splines: curves leave as polylines within 2 µm. It has no unit either: the numbers are millimetres, the test square
 * says so.
 */
import type { Vec2 } from '../base/arrays.ts';
import { curveMm } from '../base/tolerance.ts';
import { toDegrees } from '../units/angle.ts';
import { layerNames, type DrawingLabel, type DrawingPath } from '../draft/drawing.ts';
import type { Sheet } from '../nest/sheet.ts';
import { flattenCurve } from '../draft/curve.ts';
import { applicationName, dxfBytes, dxfText, lineTypeOf, lineTypes, partData, pathsByLayer, tags } from './dxf-tags.ts';
import type { Exporter, ExportInput, OutputFile } from './exporter.ts';
import { cutSheets } from './laser-rule.ts';
import { layerStyles } from './layers.ts';

export const dxfR12: Exporter = {
  format: 'dxf-r12',
  title: 'DXF, Release 12, of each sheet',
  write: async (input, options) =>
    cutSheets(input, options).map((drawn): OutputFile => ({
      path: `sheets/${drawn.sheet.id}.r12.dxf`,
      format: 'dxf-r12',
      mediaType: 'image/vnd.dxf',
      sheet: drawn.sheet.id,
      bytes: dxfBytes(writeR12(drawn)),
    })),
};

/** The lines of one sheet's R12 file. */
export function writeR12({ sheet, drawing }: ExportInput['sheetDrawings'][number]): string[] {
  return [
    ...header(sheet),
    ...tables(),
    ...tags(0, 'SECTION', 2, 'BLOCKS', 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES'),
    ...pathsByLayer(drawing.paths).flatMap(({ paths }) => paths.flatMap(polyline)),
    ...drawing.labels.flatMap(textEntity),
    ...tags(0, 'ENDSEC', 0, 'EOF'),
  ];
}

function header(sheet: Sheet): string[] {
  const corner = (name: string, [x, y]: Vec2): string[] => tags(9, name, 10, x, 20, y);
  const size: Vec2 = [sheet.widthMm, sheet.heightMm];
  return [
    ...tags(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1009', 9, '$DWGCODEPAGE', 3, 'ANSI_1252'),
    ...tags(9, '$INSBASE', 10, 0, 20, 0, 30, 0, 9, '$EXTMIN', 10, 0, 20, 0, 30, 0, 9, '$EXTMAX', 10, size[0], 20, size[1], 30, 0),
    ...corner('$LIMMIN', [0, 0]),
    ...corner('$LIMMAX', size),
    ...tags(9, '$LUNITS', 70, 2, 9, '$LUPREC', 70, 4, 0, 'ENDSEC'),
  ];
}

function tables(): string[] {
  return [
    ...tags(0, 'SECTION', 2, 'TABLES', 0, 'TABLE', 2, 'LTYPE', 70, lineTypes.length),
    ...lineTypes.flatMap(({ name, look, pattern }) => [
      ...tags(
        0,
        'LTYPE',
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
      ...pattern.flatMap((dash) => tags(49, dash)),
    ]),
    ...tags(0, 'ENDTAB', 0, 'TABLE', 2, 'LAYER', 70, layerNames.length + 1),
    ...tags(0, 'LAYER', 2, '0', 70, 0, 62, 7, 6, 'CONTINUOUS'),
    ...layerNames.flatMap((layer) => tags(0, 'LAYER', 2, layer, 70, 0, 62, layerStyles[layer].colorIndex, 6, lineTypeOf(layer))),
    ...tags(0, 'ENDTAB', 0, 'TABLE', 2, 'STYLE', 70, 1),
    ...tags(0, 'STYLE', 2, 'STANDARD', 70, 0, 40, 0, 41, 1, 50, 0, 71, 0, 42, 2.5, 3, 'txt', 4, ''),
    ...tags(0, 'ENDTAB', 0, 'TABLE', 2, 'APPID', 70, 2, 0, 'APPID', 2, 'ACAD', 70, 0, 0, 'APPID', 2, applicationName, 70, 0),
    ...tags(0, 'ENDTAB', 0, 'ENDSEC'),
  ];
}

function polyline(path: DrawingPath): string[] {
  const points = flattenCurve(path.curve, curveMm);
  const lines = tags(0, 'POLYLINE', 8, path.layer, 66, 1, 10, 0, 20, 0, 30, 0, 70, path.curve.closed ? 1 : 0);
  lines.push(...partData(path.part));
  for (let k = 0; k < points.length; k += 2)
    for (const line of tags(0, 'VERTEX', 8, path.layer, 10, points[k], 20, points[k + 1], 30, 0)) lines.push(line);
  lines.push(...tags(0, 'SEQEND', 8, path.layer));
  return lines;
}

function textEntity(label: DrawingLabel): string[] {
  return [
    ...tags(0, 'TEXT', 8, 'TEXT', 10, label.at[0], 20, label.at[1], 30, 0, 40, label.heightMm, 1, dxfText(label.text)),
    ...tags(50, toDegrees(label.angle), 7, 'STANDARD'),
    ...partData(label.part),
  ];
}
