/*
 * A line's path over a surface from its clicked points, by the kind of path that the maker chose.
 */
import { Failure } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import type { SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import type { LineMark } from './line.ts';
import { planePath } from './plane-path.ts';
import { smoothPath } from './smooth-path.ts';
import { shortestPath } from './shortest-path.ts';
import { joinPaths, nodeOf, pathOf } from './surface-path.ts';

/**
 * The path of one line.
 * @param points its clicked points on the surface, in order
 * @param index of the surface
 * @throws lines/too-few-points, lines/not-connected, lines/plane-misses
 */
export function linePath(
  mesh: HalfEdgeMesh,
  line: Pick<LineMark, 'id' | 'path' | 'closed'>,
  points: readonly SurfacePoint[],
  index: SpatialIndex,
): SurfacePath {
  if (points.length < 2)
    throw new Failure(
      'lines/too-few-points',
      `A line needs two points or more; this one has ${points.length}.`,
      { item: line.id },
      'Click another point, or delete the line.',
    );
  switch (line.path) {
    case 'shortest':
      return shortestThrough(mesh, points, line.closed);
    case 'plane':
      return planePath(mesh, points, line.closed);
    case 'smooth':
      return smoothPath(mesh, points, line.closed, index);
    default:
      return line.path satisfies never;
  }
}

/** Shortest paths from point to point, laid end to end. */
export function shortestThrough(mesh: HalfEdgeMesh, points: readonly SurfacePoint[], closed: boolean): SurfacePath {
  if (points.length === 1) return pathOf(mesh, [nodeOf(mesh, points[0])], false);
  const ends = closed ? [...points, points[0]] : points;
  return joinPaths(
    mesh,
    ends.slice(1).map((end, i) => shortestPath(mesh, ends[i], end)),
    closed,
  );
}
