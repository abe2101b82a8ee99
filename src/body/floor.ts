/*
 * The floor that a scanner took along: a level sheet at the bottom that reaches further sideways than what stands on it. The flat base of a bust does
 * not: a little above it the section is as wide as the base.
 */
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceAreas, faceNormals } from '../mesh/measure.ts';
import { directionOf } from './axes.ts';
import type { Axis } from './body.ts';
import { frameOf, sectionOf } from './section.ts';

export interface Floor {
  /** Where it lies along up, mm. */
  readonly at: number;
  readonly areaMm2: number;
}

/** How level a face of a floor is: cosine of 10°. */
const levelCosine = 0.985;
/** Heights are gathered in slabs this thick, mm; a scanned floor is rough by a few millimetres. */
const slabMm = 4;
/** A floor lies within this share of the height above the lowest point. */
const lowShare = 0.08;
/** What stands on the floor is looked at so far above it, mm. */
const ankleMm = 40;
/** A floor covers at least this, mm², and this many times the box of what stands on it. */
const leastAreaMm2 = 60_000;
const leastExcess = 1.5;

/** The floor, or undefined where there is none. */
export function findFloor(mesh: HalfEdgeMesh, up: Axis): Floor | undefined {
  const axis = directionOf(up);
  const heights = Float64Array.from({ length: mesh.positions.length / 3 }, (_, v) =>
    [0, 1, 2].reduce((sum, k) => sum + axis[k] * mesh.positions[3 * v + k], 0),
  );
  let [lowest, highest] = [Infinity, -Infinity];
  for (const height of heights) {
    lowest = Math.min(lowest, height);
    highest = Math.max(highest, height);
  }
  const slabs = new Float64Array(Math.ceil((lowShare * (highest - lowest)) / slabMm) + 2);
  const areas = faceAreas(mesh);
  const normals = faceNormals(mesh);
  const slabOf = (f: number): number => {
    const level = Math.abs(axis[0] * normals[3 * f] + axis[1] * normals[3 * f + 1] + axis[2] * normals[3 * f + 2]);
    if (level < levelCosine) return -1;
    const middle = (heights[mesh.faces[3 * f]] + heights[mesh.faces[3 * f + 1]] + heights[mesh.faces[3 * f + 2]]) / 3;
    return Math.floor((middle - lowest) / slabMm);
  };
  for (let f = 0; f < areas.length; f++) {
    const slab = slabOf(f);
    if (slab >= 0 && slab < slabs.length) slabs[slab] += areas[f];
  }
  let best = 0;
  for (let i = 0; i + 1 < slabs.length; i++) if (slabs[i] + slabs[i + 1] > slabs[best] + slabs[best + 1]) best = i;
  const areaMm2 = slabs[best] + slabs[best + 1];
  if (areaMm2 < leastAreaMm2) return undefined;
  const at = lowest + (best + 1) * slabMm;
  const box = boxInPlane(mesh, up, (f) => slabOf(f) === best || slabOf(f) === best + 1);
  const standing = boxOfSection(mesh, up, at + ankleMm);
  return standing > 0 && box > leastExcess * standing ? { at, areaMm2 } : undefined;
}

/** Area of the level box around some faces, mm². */
function boxInPlane(mesh: HalfEdgeMesh, up: Axis, isTaken: (f: number) => boolean): number {
  const { u, w } = frameOf(directionOf(up));
  const [low, high] = [
    [Infinity, Infinity],
    [-Infinity, -Infinity],
  ];
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    if (!isTaken(f)) continue;
    for (let i = 0; i < 3; i++) {
      const v = 3 * mesh.faces[3 * f + i];
      [u, w].forEach((axis, k) => {
        const along = axis[0] * mesh.positions[v] + axis[1] * mesh.positions[v + 1] + axis[2] * mesh.positions[v + 2];
        low[k] = Math.min(low[k], along);
        high[k] = Math.max(high[k], along);
      });
    }
  }
  return Math.max(0, high[0] - low[0]) * Math.max(0, high[1] - low[1]);
}

function boxOfSection(mesh: HalfEdgeMesh, up: Axis, at: number): number {
  const normal = directionOf(up);
  const loops = sectionOf(mesh, { point: [at * normal[0], at * normal[1], at * normal[2]], normal });
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { points } of loops)
    for (let i = 0; i < points.length; i += 2) {
      minX = Math.min(minX, points[i]);
      maxX = Math.max(maxX, points[i]);
      minY = Math.min(minY, points[i + 1]);
      maxY = Math.max(maxY, points[i + 1]);
    }
  return loops.length === 0 ? 0 : (maxX - minX) * (maxY - minY);
}
