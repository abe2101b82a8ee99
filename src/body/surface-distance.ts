/*
 * How far two surfaces lie apart: distances from points of one to the other, largest, middle and 95 in a hundred.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import type { Triangles } from './triangles.ts';

export interface SurfaceDistance {
  readonly medianMm: number;
  readonly p95Mm: number;
  readonly largestMm: number;
}

/** Points that are measured at most; a body of a million vertices is sampled evenly by number. */
const mostPoints = 60_000;

/**
 * Distances from the vertices and face middles of `from` to the surface `to`.
 * Cost: one tree, then O(log n) a point.
 */
export async function surfaceDistance(from: Triangles, to: Triangles, run: Run): Promise<SurfaceDistance> {
  const index = createSpatialIndex(to);
  const vertexTotal = from.positions.length / 3;
  const total = vertexTotal + from.faces.length / 3;
  const step = Math.max(1, Math.ceil(total / mostPoints));
  const distances: number[] = [];
  for (let i = 0; i < total; i += step) {
    distances.push(index.nearest(i < vertexTotal ? vertexAt(from, i) : middleOf(from, i - vertexTotal))?.distance ?? 0);
    if (distances.length % 1000 === 0) await run.breathe();
  }
  const sorted = Float64Array.from(distances).sort();
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
  return { medianMm: at(0.5), p95Mm: at(0.95), largestMm: at(1) };
}

function vertexAt(triangles: Triangles, v: number): Vec3 {
  const p = triangles.positions;
  return [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
}

function middleOf(triangles: Triangles, f: number): Vec3 {
  const middle: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) middle[k] += triangles.positions[3 * triangles.faces[3 * f + i] + k] / 3;
  return middle;
}
