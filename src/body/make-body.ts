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
import { chooseAxes } from './axes.ts';
import type { Body } from './body.ts';
import { measureMarks } from './measures.ts';
import { mendTriangles } from './mend.ts';
import { fitScale, scaleFindings } from './scale.ts';
import type { BodySettings } from './settings.ts';
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
  const mended = await mendTriangles({ positions, faces: soup.faces }, { mend: settings.mend ?? [], up: axes.up }, run);
  if (mended.triangles.faces.length === 0)
    throw new Failure(
      'body/no-surface',
      `Nothing is left of the mesh: all ${soup.faces.length / 3} faces are without area, doubled or strays.`,
      { stage: 'body' },
      'Check the file in the program that made it, and export it again.',
    );
  const mesh = buildMesh(mended.triangles.positions, mended.triangles.faces);
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
    repairs: mended.repairs,
    findings: [...unit.findings, ...axes.findings, ...mended.findings, ...measured.findings, ...tapeFindings],
    hash: sha256(Float64Array.from(mesh.positions), Uint32Array.from(mesh.faces)),
  };
}
