/*
 * Where parts touch on the body. Patches are cut from one surface, so the vertices along a cut stand at the same place in both meshes: shared
 * border places tell where a seam runs, and places shared by three or more parts are tips and crossings.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { FlatPicture } from './exporter.ts';

/** Places nearer than this are one, mm: the cut's own copies differ by rounding at most. */
const gridMm = 0.01;

export interface SeamPlaces {
  /** Mean place of the shared border of two parts, mm; undefined when they share none. */
  readonly between: (first: string, second: string) => Vec3 | undefined;
  /** A place that at least three of the parts share, if there is one. */
  readonly tipOf: (parts: readonly string[]) => Vec3 | undefined;
  /** Mean of a part's vertices, mm. */
  readonly centreOf: (part: string) => Vec3 | undefined;
}

/** Reads the shared places once. Cost: linear in the border vertices. */
export function seamPlaces(pictures: readonly FlatPicture[]): SeamPlaces {
  const owners = new Map<string, { readonly place: Vec3; readonly parts: string[] }>();
  const centres = new Map<string, Vec3>();
  for (const { part, mesh } of pictures) {
    centres.set(part, meanPlace(mesh.positions));
    for (const v of borderVertices(mesh.faces, mesh.twin)) {
      const place: Vec3 = [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]];
      const key = place.map((x) => Math.round(x / gridMm)).join(' ');
      const owner = owners.get(key);
      if (owner === undefined) owners.set(key, { place, parts: [part] });
      else if (!owner.parts.includes(part)) owner.parts.push(part);
    }
  }
  const shared = [...owners.values()].filter(({ parts }) => parts.length > 1);
  const holding = (parts: readonly string[], least: number): readonly Vec3[] =>
    shared.filter((owner) => owner.parts.filter((part) => parts.includes(part)).length >= least).map(({ place }) => place);
  return {
    between: (first, second) => {
      const places = holding([first, second], 2);
      return places.length === 0 ? undefined : meanPlace(places.flat());
    },
    tipOf: (parts) => (parts.length < 3 ? undefined : holding(parts, Math.max(3, parts.length - 1)).at(0)),
    centreOf: (part) => centres.get(part),
  };
}

function borderVertices(faces: ArrayLike<number>, twin: ArrayLike<number>): ReadonlySet<number> {
  const found = new Set<number>();
  for (let h = 0; h < twin.length; h++)
    if (twin[h] === -1) {
      found.add(faces[h]);
      found.add(faces[h % 3 === 2 ? h - 2 : h + 1]);
    }
  return found;
}

function meanPlace(positions: ArrayLike<number>): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < positions.length; k++) sum[k % 3] += positions[k];
  const count = Math.max(1, positions.length / 3);
  return [sum[0] / count, sum[1] / count, sum[2] / count];
}
