/*
 * From parts on sheets to one drawing a sheet: corrections once, placements, the sheet's frame, the 100 mm test square with the
 * sheet's name in it. Sheet coordinates: origin bottom left, x right, y up, mm.
 */
import type { Vec2 } from '../base/arrays.ts';
import { Failure, finding, type Finding } from '../base/failure.ts';
import { curveMm } from '../base/tolerance.ts';
import type { DraftedPart } from '../draft/drafted-part.ts';
import type { Curve, Drawing, DrawingPath } from '../draft/drawing.ts';
import type { Material } from '../materials/material.ts';
import type { Sheet } from '../nest/sheet.ts';
import { correctDrawing, correctionOf, correctionRows, materialOfPart, vanishedHoles, type Correction } from './corrections.ts';
import { flattenCurve } from '../draft/curve.ts';
import type { ExportOptions } from './exporter.ts';
import { placeDrawing } from './placement.ts';
import { letterLabel } from './sheet-lettering.ts';
import { placeTestSquare, testSquareMm, type SquarePlace } from './test-square.ts';

export interface SheetInput {
  readonly sheets: readonly Sheet[];
  readonly parts: readonly DraftedPart[];
  readonly materials: readonly Material[];
  readonly tool: ExportOptions['tool'];
  readonly jobName: string;
  /** ISO date of the job. */
  readonly date: string;
}

export interface DrawnSheets {
  readonly drawings: readonly { readonly sheet: Sheet; readonly drawing: Drawing }[];
  /** What was applied to each part's cut lines, one a part. */
  readonly corrections: readonly Correction[];
  readonly findings: readonly Finding[];
}

/**
 * One drawing a sheet, ready for the writers.
 * @throws export/unknown-part, export/unknown-material when a sheet names what the job does not hold
 */
export function drawSheets(input: SheetInput): DrawnSheets {
  const prepared = new Map<string, { readonly correction: Correction; readonly drawing: Drawing }>();
  for (const part of input.parts) {
    const correction = correctionOf(part, materialOfPart(part, input.materials), input.tool);
    prepared.set(part.id, { correction, drawing: correctDrawing(part.drawing, correction) });
  }
  const corrections = [...prepared.values()].map(({ correction }) => correction);
  const findings: Finding[] = correctionFindings(corrections, input.tool);
  for (const part of input.parts) {
    const made = prepared.get(part.id);
    const vanished = made === undefined ? 0 : vanishedHoles(part.drawing, made.drawing);
    if (made !== undefined && vanished > 0) findings.push(vanishedFinding(part.id, vanished, made.correction.kerfMm));
  }
  const drawings = input.sheets.map((sheet) => {
    const placed = sheet.placements.map((placement) => {
      const part = prepared.get(placement.part);
      if (part === undefined) throw unknownPart(sheet.id, placement.part);
      return placeDrawing(part.drawing, placement);
    });
    const cuts = placed.flatMap((drawing) => drawing.paths.filter((path) => path.layer === 'CUT'));
    const square = placeTestSquare(
      sheet.widthMm,
      sheet.heightMm,
      cuts.map((path) => flattenCurve(path.curve, curveMm)),
    );
    if (!square.free) findings.push(crowdedSquare(sheet, square));
    return { sheet, drawing: joinDrawings([...placed, sheetMarks(sheet, square, input)]) };
  });
  return { drawings, corrections, findings };
}

function unknownPart(sheet: string, part: string): Failure {
  return new Failure(
    'export/unknown-part',
    `${sheet} holds a part "${part}" that the job does not have.`,
    { stage: 'export', item: sheet },
    'Lay the parts on the sheets again.',
  );
}

function joinDrawings(drawings: readonly Drawing[]): Drawing {
  return { paths: drawings.flatMap(({ paths }) => paths), labels: drawings.flatMap(({ labels }) => labels) };
}

/** Frame, test square and the sheet's own letters; all letters stand inside the square, so none can cross a cut line. */
function sheetMarks(sheet: Sheet, square: SquarePlace, input: SheetInput): Drawing {
  const [x, y] = square.at;
  const marks: DrawingPath[] = [
    { layer: 'SHEET', curve: rectangle([0, 0], sheet.widthMm, sheet.heightMm) },
    { layer: 'TEST_SQUARE', curve: rectangle(square.at, testSquareMm, testSquareMm) },
  ];
  const lines: readonly (readonly [text: string, heightMm: number, up: number])[] = [
    [`${testSquareMm} mm`, 8, 78],
    ['each side must measure', 3.5, 69],
    [`${testSquareMm}.0 mm when cut or printed`, 3.5, 62.5],
    [`${sheet.id} - ${sheet.stock}`, 3.5, 22],
    [sheet.material, 3.5, 15.5],
    [`${input.jobName}, ${input.date}`, 3.5, 9],
  ];
  const letters = lines.map(([text, heightMm, up]) => letterLabel({ text, at: [x + 6, y + up], heightMm, angle: 0 }, testSquareMm - 12));
  return joinDrawings([{ paths: marks, labels: [] }, ...letters]);
}

function rectangle([x, y]: Vec2, width: number, height: number): Curve {
  const corners: readonly Vec2[] = [
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
    [x, y],
  ];
  return { start: [x, y], segments: corners.map((to) => ({ kind: 'line', to })), closed: true };
}

function crowdedSquare(sheet: Sheet, square: SquarePlace): Finding {
  const [x, y] = square.at;
  return finding(
    'warning',
    'export/test-square-over-parts',
    `${sheet.id} has no free place of ${testSquareMm} mm: its test square stands ${x} mm from the left and ${y} mm from the bottom, over parts or the sheet's edge.`,
    { stage: 'export', item: sheet.id, at: [x, y] },
    'Do not cut or draw the layer TEST_SQUARE on this sheet; measure the square on another sheet, or lay the parts on a larger one.',
  );
}

/** A note a correction, naming what was applied and to which parts. */
function correctionFindings(corrections: readonly Correction[], tool: string): Finding[] {
  return correctionRows(corrections, [1, 1]).flatMap((row) => {
    if (row.kind === 'print-factor') return [];
    const how =
      row.kind === 'shrink'
        ? `larger by 1/(1 − ${row.ratio}) for shrink (${row.source})`
        : `out by ${row.outMm} mm, half of the ${row.widthMm} mm that the ${tool} removes (${row.source})`;
    return [
      finding(
        'note',
        'export/corrected',
        `Cut lines in ${row.material} leave ${how}: ${row.parts.join(', ')}. Ticks and letters keep their size.`,
        { stage: 'export', item: row.material },
        'Do not set the same correction again in the cutting program.',
      ),
    ];
  });
}

function vanishedFinding(part: string, count: number, kerfMm: number): Finding {
  return finding(
    'warning',
    'export/hole-vanished',
    `${count === 1 ? 'A hole' : `${count} holes`} of ${part} ${count === 1 ? 'is' : 'are'} narrower than the ${kerfMm} mm that the tool removes, and ${count === 1 ? 'is' : 'are'} left out of the cut lines.`,
    { stage: 'export', item: part },
    'Punch it by hand, or make it wider.',
  );
}
