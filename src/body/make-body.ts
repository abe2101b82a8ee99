/*
 * From the triangles of a file to the clean body: unit, axes, then mending in a fixed order, each step with its account. A clean mesh passes
 * through unchanged but for its unit; nothing is smoothed or remeshed unasked.
 */
import { sha256 } from '../base/hash.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import { bounds } from '../mesh/measure.ts';
import type { TriangleSoup } from '../read/triangle-soup.ts';
import { unitMm } from '../units/length.ts';
import { accountOf } from './account.ts';
import { chooseAxes } from './axes.ts';
import type { Body, Repair } from './body.ts';
import { measureMarks } from './measures.ts';
import { mirrorShape } from './mirror-shape.ts';
import { mendTriangles } from './mend.ts';
import { fitScale, scaleFindings } from './scale.ts';
import type { BodySettings } from './settings.ts';
import type { Triangles } from './triangles.ts';
import { chooseUnit } from './unit.ts';

/**
 * Makes the body that all later stages work on.
 * @param soup triangles in file units
 * @param settings what the maker decided; every field may be missing
 * @returns mesh in mm in the file's axes, oriented outward, manifold; repairs and findings with numbers
 * @throws body/no-surface where nothing is left after mending
 */
export async function makeBody(soup: TriangleSoup, settings: Partial<BodySettings>, run: Run): Promise<Body> {
  run.report('body', 0);
  const box = bounds(soup);
  const scale = settings.scale ?? 1;
  const longest = Math.max(0, ...box.max.map((high, k) => high - box.min[k]));
  const unit = chooseUnit(longest, settings.unit, soup.unit, scale);
  const factor = unitMm[unit.unit] * scale;
  const positions = factor === 1 ? soup.positions : Float64Array.from(soup.positions, (value) => value * factor);
  const size = [0, 1, 2].map((k) => (box.max[k] - box.min[k]) * factor) as [number, number, number];
  const axes = chooseAxes(size, settings.up, settings.front);
  const mended = await mendTriangles({ positions, faces: soup.faces }, { mend: settings.mend ?? [], up: axes.up, front: axes.front }, run);
  if (mended.triangles.faces.length === 0)
    throw new Failure(
      'body/no-surface',
      `Nothing is left of the mesh: all ${soup.faces.length / 3} faces are without area, doubled or strays.`,
      { stage: 'body' },
      'Check the file in the program that made it, and export it again.',
    );
  const mirrored = await mirrorIfAsked(mended.triangles, settings.mirror, run);
  const mesh = buildMesh(mirrored.triangles.positions, mirrored.triangles.faces);
  const account = await accountOf(mesh, axes.up, run);
  const measured = measureMarks(mesh, settings.measures ?? [], axes.up, settings.wornMm ?? 0);
  const scaleFit = fitScale(measured.results);
  const tapeFindings = scaleFit === undefined ? [] : scaleFindings(measured.results, scaleFit);
  run.report('body', 1);
  return {
    mesh,
    unit: unit.unit,
    unitFrom: unit.from,
    scale,
    up: axes.up,
    front: axes.front,
    ...(settings.mirror === undefined ? {} : { mirror: { point: settings.mirror.point, normal: settings.mirror.normal } }),
    measures: measured.results,
    ...(scaleFit === undefined ? {} : { scaleFit }),
    ...(settings.wornMm === undefined || settings.wornMm === 0 ? {} : { wornMm: settings.wornMm }),
    repairs: [...mended.repairs, ...mirrored.repairs],
    findings: [...unit.findings, ...axes.findings, ...mended.findings, ...account, ...measured.findings, ...tapeFindings],
    hash: sha256(Float64Array.from(mesh.positions), Uint32Array.from(mesh.faces)),
  };
}

/** The same shape on both sides, where the maker chose it. */
async function mirrorIfAsked(
  triangles: Triangles,
  mirror: BodySettings['mirror'] | undefined,
  run: Run,
): Promise<{ readonly triangles: Triangles; readonly repairs: readonly Repair[] }> {
  if (mirror === undefined || mirror.shape === 'as-is') return { triangles, repairs: [] };
  const result = await mirrorShape(triangles, mirror, mirror.shape, run);
  const rule = mirror.shape === 'larger' ? 'the larger side everywhere' : 'the mean of both sides';
  const what = `Both sides were made the same (${rule}); they differed by ${result.medianMm.toFixed(1)} mm in the middle, ${result.largestMm.toFixed(1)} mm at most.`;
  const repair: Repair = { step: 'mirror', what, count: result.triangles.faces.length / 3, largestMm: result.largestMm, done: true };
  return { triangles: result.triangles, repairs: [repair] };
}
