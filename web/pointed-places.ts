/*
 * Where the chosen finding points.
 */
import type { Vec3 } from '../src/base/arrays.ts';
import { body, pointed } from './state.ts';

/** Places that the chosen finding names, mm. */
export function pointedPlaces(): Vec3[] {
  const where = pointed.value;
  if (!where) return [];
  const places: Vec3[] = [];
  if (where.at && where.at.length >= 3) places.push([where.at[0], where.at[1], where.at[2]]);
  const mesh = body.value?.mesh;
  if (mesh)
    for (const f of where.faces ?? []) {
      if (3 * f + 2 >= mesh.faces.length) continue;
      const centre = [0, 1, 2].map(
        (k) =>
          (mesh.positions[3 * mesh.faces[3 * f] + k] +
            mesh.positions[3 * mesh.faces[3 * f + 1] + k] +
            mesh.positions[3 * mesh.faces[3 * f + 2] + k]) /
          3,
      );
      places.push([centre[0], centre[1], centre[2]]);
    }
  return places;
}
