/*
 * The path that a maker means by "straight over the body" between two points: a first strip of faces by a search over edge midpoints,
 * then pulled tight until it is locally shortest.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { SurfacePoint } from '../mesh/surface-point.ts';
import { createMinHeap } from './min-heap.ts';
import type { StraightPath } from './straighten.ts';
import { straighten } from './straighten.ts';
import { nodeOf, nodePlace } from './surface-path.ts';

/**
 * A locally shortest path from source to target through the faces.
 * @throws lines/not-connected when no strip of faces joins the two points
 * Cost: the search looks at the faces in an ellipse around the two points; straightening is linear in the strip a round.
 */
export function shortestPath(mesh: HalfEdgeMesh, source: SurfacePoint, target: SurfacePoint): StraightPath {
  return straighten(mesh, { source, target, portals: searchStrip(mesh, source, target) });
}

/** Portals of a short strip: least sum of distances between midpoints of the edges crossed, guided by the straight distance to the target. */
function searchStrip(mesh: HalfEdgeMesh, source: SurfacePoint, target: SurfacePoint): number[] {
  if (source.face === target.face) return [];
  const goal = nodePlace(mesh, nodeOf(mesh, target));
  const cost = new Map<number, number>();
  const before = new Map<number, number>();
  const done = new Set<number>();
  const heap = createMinHeap();
  const relax = (h: number, from: number, place: Vec3, soFar: number): void => {
    if (mesh.twin[h] === -1) return;
    const middle = edgeMiddle(mesh, h);
    const total = soFar + apart(place, middle);
    if (total >= (cost.get(h) ?? Infinity)) return;
    cost.set(h, total);
    before.set(h, from);
    heap.push(total + apart(middle, goal), h);
  };
  const start = nodePlace(mesh, nodeOf(mesh, source));
  for (let h = 3 * source.face; h < 3 * source.face + 3; h++) relax(h, -1, start, 0);
  for (let h = heap.pop(); h !== -1; h = heap.pop()) {
    if (done.has(h)) continue;
    done.add(h);
    const g = mesh.twin[h];
    if (Math.floor(g / 3) === target.face) return portalsTo(h, before);
    const place = edgeMiddle(mesh, h);
    const soFar = cost.get(h) ?? 0;
    relax(nextHalfEdge(g), h, place, soFar);
    relax(nextHalfEdge(nextHalfEdge(g)), h, place, soFar);
  }
  throw new Failure(
    'lines/not-connected',
    'Two points of a line lie on parts of the body that do not touch.',
    { faces: [source.face, target.face] },
    'Move one of the points, or let the Body station keep one connected body.',
  );
}

function portalsTo(last: number, before: ReadonlyMap<number, number>): number[] {
  const portals: number[] = [];
  for (let h = last; h !== -1; h = before.get(h) ?? -1) portals.push(h);
  return portals.reverse();
}

function edgeMiddle(mesh: HalfEdgeMesh, h: number): Vec3 {
  const p = mesh.positions;
  const [a, b] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)]];
  return [(p[a] + p[b]) / 2, (p[a + 1] + p[b + 1]) / 2, (p[a + 2] + p[b + 2]) / 2];
}

const apart = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
