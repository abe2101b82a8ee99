/*
 * A body made the same on both sides, so that left and right parts are true mirror images. The wearer's left half is kept, its vertices are moved to
 * the shape wanted, and its mirror image is sewn on along the plane. A vertex with outward normal n looks for the other side's mirrored surface along n, at
 * the signed way s: "average" moves it by s/2, "larger" by max(s, 0), "left" not at all. Vertices on the plane stay on it.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import { onPlaneShare } from '../base/tolerance.ts';
import type { Run } from '../base/run.ts';
import { vertexNormals } from '../mesh/measure.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import type { Plane } from './body.ts';
import { cutByPlane } from './plane-cut.ts';
import { frameOf } from './section.ts';
import { reflect } from './symmetry.ts';
import type { Triangles } from './triangles.ts';

export interface MirroredShape {
  readonly triangles: Triangles;
  /** Largest difference between the two sides, mm. */
  readonly largestMm: number;
  /** Median difference, mm. */
  readonly medianMm: number;
}

/** A side that differs by more than this is missing there, not lopsided, mm: the other side alone decides. */
const mostDifferenceMm = 60;

/**
 * The same shape on both sides of a plane.
 * @param plane its normal points to the side whose mesh is kept
 * @throws body/no-half where nothing lies on that side
 */
export async function mirrorShape(triangles: Triangles, plane: Plane, shape: 'larger' | 'average', run: Run): Promise<MirroredShape> {
  const { normal } = frameOf(plane.normal);
  const unitPlane: Plane = { point: plane.point, normal };
  const half = cutByPlane(triangles, { point: plane.point, normal: [-normal[0], -normal[1], -normal[2]] }, 'all').triangles;
  if (half.faces.length === 0)
    throw new Failure(
      'body/no-half',
      'The plane of symmetry leaves nothing of the body on its left side.',
      { stage: 'body', at: [...plane.point] },
      'Let the plane be found again, or move it into the body.',
    );
  const index = createSpatialIndex(triangles);
  const normals = vertexNormals(half);
  const positions = Float64Array.from(half.positions);
  const onPlane = planeVertices(half, unitPlane);
  const ways: number[] = [];
  for (let v = 0; v < onPlane.length; v++) {
    if (v % 1000 === 0) await run.breathe();
    const place: Vec3 = [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
    const outward: Vec3 = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
    const way = wayToOtherSide(index, unitPlane, place, outward);
    ways.push(Math.abs(way));
    const step = shape === 'average' ? way / 2 : Math.max(way, 0);
    for (let k = 0; k < 3; k++) positions[3 * v + k] += step * outward[k];
  }
  for (let v = 0; v < onPlane.length; v++) if (onPlane[v] === 1) dropOntoInto(positions, v, unitPlane);
  const sorted = Float64Array.from(ways).sort();
  return {
    triangles: sewMirror({ positions, faces: half.faces }, unitPlane, onPlane),
    largestMm: sorted.at(-1) ?? 0,
    medianMm: sorted.at(Math.floor(sorted.length / 2)) ?? 0,
  };
}

/** Vertices that the cut laid on the plane. */
function planeVertices(half: Triangles, plane: Plane): Uint8Array {
  const onPlane = new Uint8Array(half.positions.length / 3);
  let largest = 1;
  for (let i = 0; i < half.positions.length; i++) largest = Math.max(largest, Math.abs(half.positions[i]));
  for (let v = 0; v < onPlane.length; v++) {
    const height = [0, 1, 2].reduce((sum, k) => sum + (half.positions[3 * v + k] - plane.point[k]) * plane.normal[k], 0);
    if (Math.abs(height) < onPlaneShare * largest) onPlane[v] = 1;
  }
  return onPlane;
}

/** Signed way along the normal from a place to the mirror image of the surface; 0 where the other side is missing. */
function wayToOtherSide(index: SpatialIndex, plane: Plane, place: Vec3, outward: Vec3): number {
  const image = reflect(plane, place);
  const direction = reflectDirection(plane, outward);
  const back: Vec3 = [-direction[0], -direction[1], -direction[2]];
  const ahead = index.firstHit(image, direction)?.distance ?? Infinity;
  const behind = index.firstHit(image, back)?.distance ?? Infinity;
  const nearest = index.nearest(image)?.distance ?? Infinity;
  // A ray that misses a curved rim hits something far away; the nearest point says how far the surface can be.
  const most = Math.min(mostDifferenceMm, 3 * nearest + 1);
  if (Math.min(ahead, behind) > most) return 0;
  return ahead <= behind ? ahead : -behind;
}

function reflectDirection(plane: Plane, [x, y, z]: Vec3): Vec3 {
  const n = plane.normal;
  const twice = 2 * (x * n[0] + y * n[1] + z * n[2]);
  return [x - twice * n[0], y - twice * n[1], z - twice * n[2]];
}

function dropOntoInto(positions: Float64Array, v: number, plane: Plane): void {
  const height = [0, 1, 2].reduce((sum, k) => sum + (positions[3 * v + k] - plane.point[k]) * plane.normal[k], 0);
  for (let k = 0; k < 3; k++) positions[3 * v + k] -= height * plane.normal[k];
}

/** The half and its mirror image, sharing the vertices on the plane. Vertices of the half come first, then the images in the same order. */
function sewMirror(half: Triangles, plane: Plane, onPlane: Uint8Array): Triangles {
  const total = onPlane.length;
  const image = new Uint32Array(total);
  const added: number[] = [];
  for (let v = 0; v < total; v++) {
    if (onPlane[v] === 1) {
      image[v] = v;
      continue;
    }
    image[v] = total + added.length / 3;
    added.push(...reflect(plane, [half.positions[3 * v], half.positions[3 * v + 1], half.positions[3 * v + 2]]));
  }
  const positions = new Float64Array(3 * total + added.length);
  positions.set(Float64Array.from(half.positions));
  positions.set(added, 3 * total);
  const faces = new Uint32Array(2 * half.faces.length);
  for (let f = 0; f < half.faces.length; f += 3) {
    const [a, b, c] = [half.faces[f], half.faces[f + 1], half.faces[f + 2]];
    faces.set([a, b, c], f);
    faces.set([image[a], image[c], image[b]], half.faces.length + f);
  }
  return { positions, faces };
}
