/*
 * Which sheets must not leave as laser files. Chlorine-bearing sheet gives off hydrogen chloride when burnt, and of an unknown foam
 * nobody can say what it gives off; there is no way around the refusal except another tool.
 */
import { Failure, finding, type Account, type Finding } from '../base/failure.ts';
import type { Material } from '../materials/material.ts';
import type { ExportInput, ExportOptions, FormatName, OutputFile } from './exporter.ts';

/** A sheet that was not written, and why: a row of the report's `output.refused`. */
export interface Refusal extends Account {
  readonly sheet: string;
  readonly material: string;
}

/** Names that betray chlorine, whatever the material's own rule says. Vinyl acetate (the V in EVA) holds none. */
const chlorineNames = /\bpvc\b|polyvinyl chloride|\bvinyl\b(?![\s-]*acetate)|neoprene|chloroprene|chlorinated|chloride/i;

const refusalMend = 'Cut it by hand or with a knife, or choose a material that may be cut with a laser.';

/** The sheets that the tool must not have, with the reason; empty unless the tool is a laser. */
export function refusedSheets(input: Pick<ExportInput, 'sheetDrawings' | 'materials'>, tool: ExportOptions['tool']): readonly Refusal[] {
  if (tool !== 'laser') return [];
  return input.sheetDrawings.flatMap(({ sheet }) => {
    const material = input.materials.find(({ id }) => id === sheet.material);
    const reason = refusalReason(material);
    if (reason === undefined) return [];
    return [
      {
        sheet: sheet.id,
        material: sheet.material,
        code: 'export/laser-refused',
        what: `${sheet.id} is ${material?.name ?? sheet.material}: ${reason}`,
        where: { stage: 'export', item: sheet.id },
        mend: refusalMend,
      },
    ];
  });
}

/** The materials that the tool must not have, with the reason. */
export function refusedMaterials(
  input: Pick<ExportInput, 'parts' | 'materials'>,
  tool: ExportOptions['tool'],
): ReadonlyMap<string, string> {
  const refused = new Map<string, string>();
  if (tool !== 'laser') return refused;
  for (const { material: id } of input.parts) {
    const material = input.materials.find((entry) => entry.id === id);
    const reason = refusalReason(material);
    if (reason !== undefined) refused.set(id, `${material?.name ?? id}: ${reason}`);
  }
  return refused;
}

function refusalReason(material: Material | undefined): string | undefined {
  if (material === undefined) return 'nobody knows what it gives off when burnt, so it leaves in no laser file.';
  if (chlorineNames.test(`${material.id} ${material.name}`))
    return 'it holds chlorine and gives off hydrogen chloride when burnt, so it leaves in no laser file.';
  if (material.laser === 'refused') return `it leaves in no laser file. ${material.laserReason}`;
  return undefined;
}

/** Formats with a file of all parts beside, or in place of, files by sheet. */
const formatsByPart: ReadonlySet<FormatName> = new Set(['dxf-sewn', 'pdf-tiles']);

/** What is missing from formats that were written, because the tool must not have it: a row a format for the report's `output.refused`. */
export interface LeftOut {
  readonly format: FormatName;
  readonly code: string;
  readonly what: string;
  readonly sheets?: readonly string[];
  readonly parts?: readonly string[];
}

/** @param files what was written; a format without files was refused as a whole and has no row here */
export function leftOut(
  input: Pick<ExportInput, 'sheetDrawings' | 'materials' | 'parts'>,
  tool: ExportOptions['tool'],
  files: readonly Pick<OutputFile, 'format' | 'sheet'>[],
): LeftOut[] {
  const sheets = refusedSheets(input, tool);
  const materials = refusedMaterials(input, tool);
  const parts = input.parts.filter(({ material }) => materials.has(material)).map(({ id }) => id);
  const rows: LeftOut[] = [];
  for (const format of new Set(files.map((file) => file.format))) {
    if (format === 'report') continue;
    const isBySheet = sheets.length > 0 && files.some((file) => file.format === format && file.sheet !== undefined);
    const isByPart = parts.length > 0 && formatsByPart.has(format);
    if (!isBySheet && !isByPart) continue;
    const said = [
      ...(isBySheet ? sheets.map(({ what }) => what) : [...materials.values()]),
      ...(isByPart ? [`Left out of the file of all parts: ${parts.join(', ')}.`] : []),
      refusalMend,
    ];
    rows.push({
      format,
      code: 'export/laser-refused',
      what: said.join(' '),
      ...(isBySheet ? { sheets: sheets.map(({ sheet }) => sheet) } : {}),
      ...(isByPart ? { parts } : {}),
    });
  }
  return rows;
}

/** A warning for each material that a laser may cut only after asking. */
export function laserWarnings(input: Pick<ExportInput, 'sheetDrawings' | 'materials'>, tool: ExportOptions['tool']): readonly Finding[] {
  if (tool !== 'laser') return [];
  const used = new Set(input.sheetDrawings.map(({ sheet }) => sheet.material));
  return input.materials
    .filter(({ id, laser }) => laser === 'ask' && used.has(id))
    .map((material) =>
      finding(
        'warning',
        'export/laser-ask',
        `${material.name} may be cut with a laser only where the workshop allows it. ${material.laserReason}`,
        { stage: 'export', item: material.id },
        'Ask who runs the laser; cut with extraction and air assist, and never leave it alone.',
      ),
    );
}

/**
 * The sheets that may leave.
 * @throws export/laser-refused when none may
 */
export function cutSheets(
  input: Pick<ExportInput, 'sheetDrawings' | 'materials'>,
  options: Pick<ExportOptions, 'tool'>,
): ExportInput['sheetDrawings'] {
  const refused = refusedSheets(input, options.tool);
  if (refused.length > 0 && refused.length === input.sheetDrawings.length) {
    const { code, what, where, mend } = refused[0];
    throw new Failure(code, what, where, mend);
  }
  const names = new Set(refused.map(({ sheet }) => sheet));
  return input.sheetDrawings.filter(({ sheet }) => !names.has(sheet.id));
}
