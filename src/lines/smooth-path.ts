/*
 * A fair curve over the surface through the clicked points: repeated halving by the interpolatory four-point rule with centripetal
 * parameters. The new point is the middle of the shortest path between its neighbours, moved along the surface by what the local cubic
 * says, and taken back to the nearest point of the surface; the short pieces that remain are shortest paths.
 * @source [dyn2009] rule and parameters; [wallner2005] projection keeps the smoothness of the scheme
 */
import type { Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceCross } from '../mesh/measure.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import { placeOf } from '../mesh/spatial.ts';
import type { SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import { shortestPath } from './shortest-path.ts';
import { commonFace, joinPaths, pointOf, weightsIn } from './surface-path.ts';

/** Halving stops when no piece is longer than this, mm. */
const pieceMm = 5;
const mostHalvings = 6;

/**
 * The fair curve through points of a surface.
 * @param index of the mesh, for the way back to the surface
 * Cost: one short path query a piece and halving.
 */
export function smoothPath(mesh: HalfEdgeMesh, points: readonly SurfacePoint[], closed: boolean, index: SpatialIndex): SurfacePath {
  let current = [...points];
  for (let round = 0; round < mostHalvings; round++) {
    const halved = halve(mesh, current, closed, index);
    current = halved.points;
    if (halved.longestMm <= pieceMm) break;
  }
  const ends = closed ? [...current, current[0]] : current;
  return joinPaths(
    mesh,
    ends.slice(1).map((end, i) => shortestPath(mesh, ends[i], end)),
    closed,
  );
}

function halve(
  mesh: HalfEdgeMesh,
  points: readonly SurfacePoint[],
  closed: boolean,
  index: SpatialIndex,
): { readonly points: SurfacePoint[]; readonly longestMm: number } {
  const count = points.length;
  const places = points.map((point) => placeOf(mesh, point));
  const spans = closed ? count : count - 1;
  const finer: SurfacePoint[] = [];
  let longestMm = 0;
  for (let i = 0; i < spans; i++) {
    const path = shortestPath(mesh, points[i], points[(i + 1) % count]);
    longestMm = Math.max(longestMm, path.length / 2);
    const around = [i - 1, i, i + 1, i + 2].flatMap((k) => {
      if (closed) return count > 2 ? [places[(k + count) % count]] : [];
      return k >= 0 && k < count ? [places[k]] : [];
    });
    const own = closed || i > 0 ? 1 : 0;
    finer.push(points[i], offMiddle(mesh, middleOf(mesh, path), cubicOffset(around, own), index));
  }
  if (!closed) finer.push(points[count - 1]);
  return { points: finer, longestMm };
}

/** The point half-way along a path. */
export function middleOf(mesh: HalfEdgeMesh, path: SurfacePath): SurfacePoint {
  return pointAlong(mesh, path, path.length / 2);
}

/** The point of a path at a length from its start, mm. */
export function pointAlong(mesh: HalfEdgeMesh, path: SurfacePath, along: number): SurfacePoint {
  let left = along;
  const p = path.positions;
  for (let i = 1; i < path.nodes.length; i++) {
    const size = Math.hypot(p[3 * i] - p[3 * i - 3], p[3 * i + 1] - p[3 * i - 2], p[3 * i + 2] - p[3 * i - 1]);
    if (left > size && i < path.nodes.length - 1) {
      left -= size;
      continue;
    }
    const share = size > 0 ? Math.min(1, left / size) : 0;
    const face = commonFace(mesh, path.nodes[i - 1], path.nodes[i]);
    const [a, b] = [weightsIn(mesh, path.nodes[i - 1], face), weightsIn(mesh, path.nodes[i], face)];
    return { face, weights: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])] };
  }
  return pointOf(mesh, path.nodes[0]);
}

/**
 * How far the cubic through the places, with knots t_{k+1} = t_k + √|p_{k+1} − p_k|, lies from the chord's middle, half-way (in t) between places
 * `own` and own + 1. With three places it is the parabola.
 */
function cubicOffset(places: readonly Vec3[], own: number): Vec3 {
  if (places.length < 3) return [0, 0, 0];
  const knots = [0];
  for (let k = 1; k < places.length; k++)
    knots.push(
      knots[k - 1] +
        Math.sqrt(Math.hypot(places[k][0] - places[k - 1][0], places[k][1] - places[k - 1][1], places[k][2] - places[k - 1][2])),
    );
  const t = (knots[own] + knots[own + 1]) / 2;
  const offset: [number, number, number] = [0, 0, 0];
  for (const [k, place] of places.entries()) {
    let weight = 1;
    for (const [m, knot] of knots.entries()) if (m !== k) weight *= (t - knot) / (knots[k] - knot);
    if (k === own || k === own + 1) weight -= 0.5;
    for (let axis = 0; axis < 3; axis++) offset[axis] += weight * place[axis];
  }
  return offset;
}

/** The surface point nearest to a middle point moved by the part of an offset that runs along the surface. */
function offMiddle(mesh: HalfEdgeMesh, middle: SurfacePoint, offset: Vec3, index: SpatialIndex): SurfacePoint {
  const cross = faceCross(mesh, middle.face);
  const square = cross[0] * cross[0] + cross[1] * cross[1] + cross[2] * cross[2];
  const part = (offset[0] * cross[0] + offset[1] * cross[1] + offset[2] * cross[2]) / square;
  const at = placeOf(mesh, middle);
  const target: Vec3 = [at[0] + offset[0] - part * cross[0], at[1] + offset[1] - part * cross[1], at[2] + offset[2] - part * cross[2]];
  const hit = index.nearest(target);
  return hit ? { face: hit.face, weights: hit.weights } : middle;
}
