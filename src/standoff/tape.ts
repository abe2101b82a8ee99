/*
 * What a tape says around a surface: the perimeter of the convex hull of the section line that passes nearest to a point.
 */
import type { Plane } from '../body/body.ts';
import { convexHull, sectionOf } from '../body/section.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { perimeterOf } from '../plane/polygon.ts';
import { distanceToPolyline } from '../plane/polyline.ts';

/** Tape girth in a plane, mm, around the closed section line nearest to the plane's point; undefined where the plane cuts no closed line. */
export function tapeAround(mesh: HalfEdgeMesh, plane: Plane): number | undefined {
  let nearest = Infinity;
  let tapeMm: number | undefined;
  for (const loop of sectionOf(mesh, plane)) {
    const distance = distanceToPolyline(loop.points, true, 0, 0);
    if (!loop.closed || distance >= nearest) continue;
    nearest = distance;
    tapeMm = perimeterOf(convexHull(loop.points));
  }
  return tapeMm;
}
