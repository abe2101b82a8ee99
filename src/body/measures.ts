/*
 * The maker's tape measures, each measured on the mesh too, beside the difference that ISO 20685 allows between a scan and a skilled tape [iso20685].
 * The standard's limits are for the mean over many people; for one person they are a hint.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure, finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import { alongAxis } from './axes.ts';
import type { Axis, MeasureResult } from './body.ts';
import { girthPlane, measureGirth } from './measure-girth.ts';
import { measureLength } from './measure-length.ts';
import type { MeasureMark } from './settings.ts';

/** Allowed difference between scan and tape, mm [iso20685]. */
export const allowedMm = { smallGirth: 4, largeGirth: 9, length: 5, height: 4 } as const;

/** Girths from here on count as large: neck, arm and ankle lie below, trunk and thigh above, mm. [common practice, no source] */
const largeGirthMm = 450;

/** What the standard allows for a measure of this kind and size. */
export function allowedDifference(kind: MeasureMark['kind'], sizeMm: number): number {
  switch (kind) {
    case 'girth':
      return sizeMm >= largeGirthMm ? allowedMm.largeGirth : allowedMm.smallGirth;
    case 'length':
    case 'distance':
      return allowedMm.length;
    case 'height':
      return allowedMm.height;
    default:
      return kind satisfies never;
  }
}

/**
 * Measures every mark on the mesh.
 * @param wornMm thickness of what the scan wore: 2π·wornMm is taken off each girth, because a tape value is one of the skin
 * @returns results for the marks that could be measured; a finding for each other one
 */
export function measureMarks(
  mesh: HalfEdgeMesh,
  marks: readonly MeasureMark[],
  up: Axis,
  wornMm = 0,
): { readonly results: readonly MeasureResult[]; readonly findings: readonly Finding[] } {
  const results: MeasureResult[] = [];
  const findings: Finding[] = [];
  if (marks.length === 0) return { results, findings };
  const index = createSpatialIndex(mesh);
  for (const mark of marks) {
    try {
      const { meshMm, skinMm } = measureOne(mesh, index, mark, up, wornMm);
      results.push({
        name: mark.name,
        kind: mark.kind,
        tapeMm: mark.tapeMm,
        meshMm,
        differenceMm: meshMm - mark.tapeMm,
        allowedMm: allowedDifference(mark.kind, mark.tapeMm > 0 ? mark.tapeMm : meshMm),
        ...(skinMm === undefined ? {} : { skinMm }),
      });
    } catch (cause) {
      // A measure that cannot be taken must not hide the others.
      if (!(cause instanceof Failure)) throw cause;
      findings.push(finding('warning', cause.code, cause.what, cause.where, cause.mend));
    }
  }
  return { results, findings };
}

function measureOne(
  mesh: HalfEdgeMesh,
  index: SpatialIndex,
  mark: MeasureMark,
  up: Axis,
  wornMm: number,
): { readonly meshMm: number; readonly skinMm?: number } {
  const wanted = mark.kind === 'length' || mark.kind === 'distance' ? 2 : 1;
  if (mark.points.length < wanted)
    throw new Failure(
      'body/too-few-points',
      `"${mark.name}" is a ${mark.kind} and needs ${wanted} picked point${wanted === 1 ? '' : 's'}; it has ${mark.points.length}.`,
      { stage: 'body', item: mark.name },
      'Pick its points on the body.',
    );
  const onSkin = (point: Vec3): Vec3 => index.nearest(point)?.at ?? point;
  switch (mark.kind) {
    case 'girth': {
      const { tapeMm, skinMm } = measureGirth(mesh, girthPlane(onSkin(mark.points[0]), up), mark.name);
      const worn = 2 * Math.PI * wornMm;
      return { meshMm: tapeMm - worn, skinMm: skinMm - worn };
    }
    case 'length':
      return { meshMm: measureLength(mesh, index, mark.points, mark.name).lengthMm };
    case 'distance': {
      const [a, b] = mark.points.map(onSkin);
      return { meshMm: Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) };
    }
    case 'height': {
      const box = bounds(mesh);
      const lowest = Math.min(alongAxis(up, ...box.min), alongAxis(up, ...box.max));
      const [top, foot] = [mark.points[0], mark.points.at(1)].map((point) =>
        point === undefined ? lowest : alongAxis(up, ...onSkin(point)),
      );
      return { meshMm: Math.abs(top - foot) };
    }
    default:
      return mark.kind satisfies never;
  }
}
