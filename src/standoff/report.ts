/*
 * How far each layer's surface stands off and by how much each measured girth grew: the report's `standoff` field.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Axis, Body } from '../body/body.ts';
import type { MeasureMark } from '../body/settings.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { cutByPlane, distanceToLine, tapeLength } from './section.ts';
import type { Surface } from './surface.ts';

export interface StandoffReport {
  readonly layer: number;
  readonly material: string;
  readonly distanceMm: number;
  /** Tape girths on the body and on the layer's surface, mm, at the measured levels that give a closed section on both. */
  readonly girths: readonly { readonly name: string; readonly bodyMm: number; readonly surfaceMm: number }[];
}

/** Girths of body and layers at the girth measures of a job. */
export function reportStandoff(body: Body, surfaces: readonly Surface[], measures: readonly MeasureMark[]): StandoffReport[] {
  const girths = measures.filter((measure) => measure.kind === 'girth' && measure.points.length > 0);
  const up = axisVector(body.up);
  const bodyMm = girths.map((measure) => girthAt(body.mesh, measure.points[0], up));
  return surfaces.map((surface) => ({
    layer: surface.layer,
    material: surface.material,
    distanceMm: surface.distanceMm,
    girths: girths.flatMap((measure, i) => {
      const skin = bodyMm[i];
      const surfaceMm = girthAt(surface.mesh, measure.points[0], up);
      return skin === undefined || surfaceMm === undefined ? [] : [{ name: measure.name, bodyMm: skin, surfaceMm }];
    }),
  }));
}

/** Tape girth in the level plane through a point, around the closed line that passes nearest to it; undefined where there is none. */
export function girthAt(mesh: HalfEdgeMesh, point: Vec3, up: Vec3): number | undefined {
  const closed = cutByPlane(mesh, { point, normal: up }).filter((line) => line.closed);
  let best = closed[0];
  for (const line of closed) if (distanceToLine(line, point) < distanceToLine(best, point)) best = line;
  return best === undefined ? undefined : tapeLength(best, up);
}

/** Unit vector of an axis name. */
export function axisVector(axis: Axis): Vec3 {
  const sign = axis.startsWith('-') ? -1 : 1;
  const letter = axis.slice(-1);
  return [letter === 'x' ? sign : 0, letter === 'y' ? sign : 0, letter === 'z' ? sign : 0];
}
