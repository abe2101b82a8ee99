/*
 * From the results of a walk to the files of `out/`: every wanted exporter once, the report, the job's bundle, the zip of all.
 */
import { Failure } from './base/failure.ts';
import type { Run } from './base/run.ts';
import type { Body } from './body/body.ts';
import type { ExportInput, ExportOptions, FormatName, OutputFile } from './export/exporter.ts';
import { exporters } from './export/index.ts';
import { laserWarnings, leftOut } from './export/laser-rule.ts';
import { zip } from './export/zip.ts';
import type { FlatPart } from './flatten/flat-part.ts';
import { packJob } from './job/bundle.ts';
import type { Job } from './job/job.ts';
import type { CutResult } from './patches/patch.ts';
import type { JobResults } from './pipeline.ts';
import type { SourceFile } from './read/triangle-soup.ts';
import type { Report } from './report.ts';
import { makeReport } from './report.ts';
import type { Surface } from './standoff/surface.ts';

/** Every format that a job may ask for, in the order of the table of exporters. */
export const formatNames: readonly FormatName[] = exporters.map((exporter) => exporter.format);

export interface WrittenFiles {
  readonly files: readonly OutputFile[];
  readonly report: Report;
}

/**
 * Writes all files of a job. A format that may not leave is listed in the report's `output.refused`; the others are written.
 * @param formats formats in place of the job's own list
 * @throws run/stopped
 */
export async function writeFiles(
  job: Job,
  file: SourceFile,
  results: JobResults,
  run: Run,
  formats: readonly FormatName[] = job.output.formats,
): Promise<WrittenFiles> {
  const files: OutputFile[] = [];
  const refused: Report['output']['refused'][number][] = [];
  const input = exportInput(job, results);
  const options: ExportOptions = { tool: job.output.tool, paper: job.output.paper, printFactor: job.output.printFactor, date: job.date };
  const wanted = input ? exporters.filter(({ format }) => format !== 'zip' && formats.includes(format)) : [];
  for (const [i, exporter] of wanted.entries()) {
    run.report('files', i / wanted.length);
    await run.breathe();
    if (!input) break;
    try {
      files.push(...(await exporter.write(input, options)));
    } catch (error) {
      if (!(error instanceof Failure) || error.code === 'run/stopped') throw error;
      refused.push({ format: exporter.format, code: error.code, what: `${error.what} ${error.mend}` });
    }
  }
  files.push({ path: 'job.plastron', format: 'zip', mediaType: 'application/zip', bytes: packJob(job, file) });
  if (input) refused.push(...leftOut(input, options.tool, files));
  const told = [...(input ? laserWarnings(input, options.tool) : []), ...files.flatMap(({ findings }) => findings ?? [])];
  const report = makeReport(job, { ...results, findings: [...results.findings, ...told] }, files, refused);
  files.push({
    path: 'report.json',
    format: 'report',
    mediaType: 'application/json',
    bytes: new TextEncoder().encode(`${JSON.stringify(report, undefined, 1)}\n`),
  });
  // The zip holds the report, so the report cannot list the zip.
  if (input && formats.includes('zip')) files.push(...(await zip.write({ ...input, files }, options)));
  run.report('files', 1);
  return { files, report };
}

/** What exporters need; undefined when the walk ended before there were sheets. */
function exportInput(job: Job, results: JobResults): ExportInput | undefined {
  const { body, surfaces, cut, flats, parts, seams, drawings } = results;
  if (!body || !surfaces || !cut || !flats || !parts || !seams || !drawings) return undefined;
  const flatOf = new Map(flats.map((flat) => [flat.patch, flat]));
  return {
    jobName: job.name,
    sheetDrawings: drawings,
    parts,
    seams,
    materials: results.materials,
    bodyMesh: body.mesh,
    pictures: cut.patches.flatMap((patch) => {
      const flat = flatOf.get(patch.id);
      return flat ? [{ part: patch.id, mesh: patch.mesh, flat: flat.positions, strain: largestStrain(flat) }] : [];
    }),
    bodyFaceArea: bodyFaceAreas(job, body, surfaces, cut),
    up: body.up,
    front: body.front,
    areaNames: job.marks.areas.map((area) => area.name),
    findings: results.findings,
  };
}

/** For each face the strain of larger size, signed: positive where the sheet must stretch. */
function largestStrain({ sigma1, sigma2 }: FlatPart): Float64Array {
  return Float64Array.from(sigma1, (large, f) => {
    const stretch = 1 / sigma2[f] - 1;
    const squeeze = 1 / large - 1;
    return Math.abs(stretch) >= Math.abs(squeeze) ? stretch : squeeze;
  });
}

/** For each face of the body the area painted over it: its place in the job's list and one, 0 for bare skin. */
function bodyFaceAreas(job: Job, body: Body, surfaces: readonly Surface[], cut: CutResult): Uint32Array {
  const areaOf = new Uint32Array(body.mesh.faces.length / 3);
  for (const patch of cut.patches) {
    const surface = surfaces.find((entry) => entry.layer === patch.layer);
    if (!surface) continue;
    const number = job.marks.areas.findIndex((area) => area.id === patch.area) + 1;
    const isSameMesh = surface.mesh.faces.length === body.mesh.faces.length;
    for (let f = 0; f < patch.faceToSurfaceFace.length; f++) {
      const face = patch.faceToSurfaceFace[f];
      areaOf[isSameMesh ? face : surface.toBody.face[surface.mesh.faces[3 * face]]] = number;
    }
  }
  return areaOf;
}
