/*
 * How far each layer's surface stands off and by how much each measured girth grew: the report's `standoff` field.
 */
import type { Body } from '../body/body.ts';
import { girthPlane } from '../body/measure-girth.ts';
import type { MeasureMark } from '../body/settings.ts';
import type { Surface } from './surface.ts';
import { tapeAround } from './tape.ts';

export interface StandoffReport {
  readonly layer: number;
  readonly material: string;
  readonly distanceMm: number;
  /** Tape girths on the body and on the layer's surface, mm, at the measured levels that give a closed section on both. */
  readonly girths: readonly { readonly name: string; readonly bodyMm: number; readonly surfaceMm: number }[];
}

/** Girths of body and layers in the planes of a job's girth measures. Around a closed convex section a girth grows by 2π·distance. */
export function reportStandoff(body: Body, surfaces: readonly Surface[], measures: readonly MeasureMark[]): StandoffReport[] {
  const girths = measures
    .filter((measure) => measure.kind === 'girth' && measure.points.length > 0)
    .map((measure) => ({ name: measure.name, plane: girthPlane(measure.points[0], body.up) }));
  // The skin lies inside what the scan wore: its girths are smaller by 2π·worn.
  const worn = 2 * Math.PI * (body.wornMm ?? 0);
  const bodyMm = girths.map(({ plane }) => {
    const tape = tapeAround(body.mesh, plane);
    return tape === undefined ? undefined : tape - worn;
  });
  return surfaces.map((surface) => ({
    layer: surface.layer,
    material: surface.material,
    distanceMm: surface.distanceMm,
    girths: girths.flatMap(({ name, plane }, i) => {
      const skin = bodyMm[i];
      const surfaceMm = tapeAround(surface.mesh, plane);
      return skin === undefined || surfaceMm === undefined ? [] : [{ name, bodyMm: skin, surfaceMm }];
    }),
  }));
}
