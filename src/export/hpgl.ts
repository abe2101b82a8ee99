/*
 * HPGL for cutting plotters: absolute moves in units of 0.025 mm, each rounded from the exact value so that errors never add up; one pen a
 * step (1 draw, 2 score, 3 holes, 4 outlines); coordinates within 0…32 767, which the oldest machines hold, so that a sheet beyond 819 mm is split
 * into several files, each with its own origin. Letters are strokes: `LB` would be drawn in the machine's own type.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { finding, type Finding } from '../base/failure.ts';
import { hpglMm } from '../base/tolerance.ts';
import type { DrawingPath } from '../draft/drawing.ts';
import { bladeDefaults, holderPath, withOvercut, type BladeSettings } from './blade.ts';
import { clipPolyline } from './clip.ts';
import { flattenCurve } from '../draft/curve.ts';
import { cutSteps, orderCuts, stepOf } from './cut-order.ts';
import { decimal } from './decimal.ts';
import type { Exporter, ExportInput, OutputFile } from './exporter.ts';
import { cutSheets } from './laser-rule.ts';

/** One plotter unit, mm [hp7475]. */
const unitMm = 0.025;
/** Largest coordinate that every plotter holds. */
const largestUnit = 32767;
/** Longest side of one file, mm. */
export const hpglReachMm = Math.floor(largestUnit * unitMm);

export const hpgl: Exporter = {
  format: 'hpgl',
  title: 'HPGL for cutting plotters',
  write: async (input, options) =>
    cutSheets(input, options).flatMap((drawn) => {
      const fields = splitSheet(drawn.sheet.widthMm, drawn.sheet.heightMm);
      return fields.map((field, index): OutputFile => {
        const tail = fields.length === 1 ? '' : `.${index + 1}-of-${fields.length}`;
        return {
          path: `sheets/${drawn.sheet.id}${tail}.hpgl`,
          format: 'hpgl',
          mediaType: 'application/vnd.hp-hpgl',
          sheet: drawn.sheet.id,
          bytes: new TextEncoder().encode(writeHpgl(drawn, field, options.blade ?? bladeDefaults)),
          ...(index === 0 && fields.length > 1 ? { findings: [splitFinding(drawn.sheet.id, fields)] } : {}),
        };
      });
    }),
};

/** A part of a sheet that one file covers, mm. */
export interface Field {
  readonly x: number;
  readonly y: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The sheet in equal fields no larger than a plotter's range, row by row from the lower left. */
export function splitSheet(widthMm: number, heightMm: number): readonly Field[] {
  const columns = Math.ceil(widthMm / hpglReachMm);
  const rows = Math.ceil(heightMm / hpglReachMm);
  return Array.from({ length: rows * columns }, (_, k) => ({
    x: ((k % columns) * widthMm) / columns,
    y: (Math.floor(k / columns) * heightMm) / rows,
    widthMm: widthMm / columns,
    heightMm: heightMm / rows,
  }));
}

function splitFinding(sheet: string, fields: readonly Field[]): Finding {
  const { widthMm, heightMm } = fields[0];
  return finding(
    'note',
    'export/hpgl-split',
    `${sheet} is larger than the ${hpglReachMm} mm that every plotter can count to, so its HPGL is in ${fields.length} files of ${decimal(widthMm, 1)} by ${decimal(heightMm, 1)} mm, from the lower left, row by row.`,
    { stage: 'export', item: sheet },
    'Cut the files one after the other, moving the sheet by exactly that much, or use DXF with a machine that takes the whole sheet.',
  );
}

/** The text of one file. */
export function writeHpgl({ drawing }: ExportInput['sheetDrawings'][number], field: Field, blade: BladeSettings): string {
  const paths = drawing.paths.filter(({ layer }) => stepOf(layer) !== undefined);
  const ordered = orderCuts(
    paths,
    paths.map((path) => flattenCurve(path.curve, hpglMm)),
  );
  const lines = ['IN;'];
  for (const [index, step] of cutSteps.entries()) {
    const strokes = ordered.filter((entry) => entry.step === step).flatMap(({ path, points }) => strokesOf(path, points, field, blade));
    if (strokes.length === 0) continue;
    lines.push(`SP${index + 1};`, ...strokes.map((stroke) => strokeCommands(stroke)));
  }
  lines.push('PU0,0;SP0;', '');
  return lines.join('\n');
}

/** What of a path lies in the field, from the field's own origin. Blade settings serve cuts only. */
function strokesOf(path: DrawingPath, points: F64, field: Field, blade: BladeSettings): readonly (readonly Vec2[])[] {
  const isCut = path.layer === 'CUT' || path.layer === 'CUT_INSIDE';
  const tip = withOvercut(points, path.curve.closed, isCut ? blade.overcutMm : 0);
  return clipPolyline(tip, { minX: field.x, minY: field.y, maxX: field.x + field.widthMm, maxY: field.y + field.heightMm }).map((piece) => {
    const own = piece.map(([x, y]): Vec2 => [x - field.x, y - field.y]);
    return isCut ? holderPath(own, blade.offsetMm) : own;
  });
}

function strokeCommands(stroke: readonly Vec2[]): string {
  const units = thinOut(stroke);
  const [first, ...rest] = units;
  return `PU${first[0]},${first[1]};PD${rest.map(([x, y]) => `${x},${y}`).join(',')};`;
}

const toUnit = (millimetres: number): number => Math.min(largestUnit, Math.max(0, Math.round(millimetres / unitMm)));

/** Half the diagonal of one unit: what rounding alone may cost, mm. */
const roundingMm = (unitMm / 2) * Math.SQRT2;

/**
 * Rounded points, as few as keep every exact point within half a unit's diagonal of the drawn line: from each kept point the furthest next
 * one whose straight connection passes all points between closely enough. Fewer points let a blade run smoothly over the unit's grid.
 */
function thinOut(stroke: readonly Vec2[]): readonly Vec2[] {
  const units = stroke.map(([x, y]): Vec2 => [toUnit(x), toUnit(y)]);
  const kept: Vec2[] = [units[0]];
  let at = 0;
  while (at < units.length - 1) {
    let next = at + 1;
    while (next + 1 < units.length && passesClosely(stroke, at, next + 1, units[at], units[next + 1])) next++;
    kept.push(units[next]);
    at = next;
  }
  return kept.length > 1 ? kept : [...kept, kept[0]];
}

function passesClosely(stroke: readonly Vec2[], from: number, to: number, start: Vec2, end: Vec2): boolean {
  const [ax, ay] = [start[0] * unitMm, start[1] * unitMm];
  const [dx, dy] = [end[0] * unitMm - ax, end[1] * unitMm - ay];
  const span = dx * dx + dy * dy;
  for (let k = from + 1; k < to; k++) {
    const [px, py] = [stroke[k][0] - ax, stroke[k][1] - ay];
    const t = span === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / span));
    if (Math.hypot(px - t * dx, py - t * dy) > roundingMm) return false;
  }
  return true;
}
