/*
 * Where the end of a line would catch: the nearest place of another line's path, or its end.
 */
import type { Vec3 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import { commonFace, pointOf, weightsIn } from './surface-path.ts';

export interface SnapCandidate {
  readonly point: SurfacePoint;
  readonly at: Vec3;
  readonly distanceMm: number;
  /** True at an end of the path (a closed path has none). */
  readonly isEnd: boolean;
}

/**
 * The places of a path that a point may catch on, nearest first: its ends within reach, then its nearest place.
 * @param reachMm how far the point catches, mm
 */
export function snapCandidates(mesh: HalfEdgeMesh, path: SurfacePath, at: Vec3, reachMm: number): SnapCandidate[] {
  const found: SnapCandidate[] = [];
  const count = path.nodes.length;
  const placeOf = (i: number): Vec3 => [path.positions[3 * i], path.positions[3 * i + 1], path.positions[3 * i + 2]];
  if (!path.closed) {
    for (const i of count > 1 ? [0, count - 1] : [0]) {
      const distanceMm = apart(placeOf(i), at);
      if (distanceMm <= reachMm) found.push({ point: pointOf(mesh, path.nodes[i]), at: placeOf(i), distanceMm, isEnd: true });
    }
    found.sort((a, b) => a.distanceMm - b.distanceMm);
  }
  const inner = nearestOnPath(mesh, path, at);
  if (inner && inner.distanceMm <= reachMm) found.push(inner);
  return found;
}

/** The nearest place of a path to a point in space. */
export function nearestOnPath(mesh: HalfEdgeMesh, path: SurfacePath, at: Vec3): SnapCandidate | undefined {
  const p = path.positions;
  const count = path.nodes.length;
  let best = { i: -1, j: -1, share: 0, distance: Infinity };
  for (let i = path.closed ? 0 : 1; i < count; i++) {
    const j = (i + count - 1) % count;
    const [ux, uy, uz] = [p[3 * i] - p[3 * j], p[3 * i + 1] - p[3 * j + 1], p[3 * i + 2] - p[3 * j + 2]];
    const [vx, vy, vz] = [at[0] - p[3 * j], at[1] - p[3 * j + 1], at[2] - p[3 * j + 2]];
    const square = ux * ux + uy * uy + uz * uz;
    const share = square > 0 ? Math.max(0, Math.min(1, (ux * vx + uy * vy + uz * vz) / square)) : 0;
    const distance = Math.hypot(vx - share * ux, vy - share * uy, vz - share * uz);
    if (distance < best.distance) best = { i, j, share, distance };
  }
  if (best.i === -1) return undefined;
  const { i, j, share, distance } = best;
  const isEnd = !path.closed && ((j === 0 && share <= roundOff) || (i === count - 1 && share >= 1 - roundOff));
  const mix = (k: number): number => (1 - share) * p[3 * j + k] + share * p[3 * i + k];
  const face = commonFace(mesh, path.nodes[j], path.nodes[i]);
  const [a, b] = [weightsIn(mesh, path.nodes[j], face), weightsIn(mesh, path.nodes[i], face)];
  const weights: Vec3 = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])];
  return { point: { face, weights }, at: [mix(0), mix(1), mix(2)], distanceMm: distance, isEnd };
}

const apart = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
