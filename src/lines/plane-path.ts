/*
 * A line as a plane's cut: straight seen along the surface's normal. The plane holds the first and the last point; among the planes
 * through both it is the one nearest to the points between, or, where those say nothing, the one that stands upright on the surface.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import { atan2, cos, sin } from '../base/elementary.ts';
import { roundOff, uprightWeight } from '../base/tolerance.ts';
import { symmetricEigen } from '../linalg/dense.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { faceCross } from '../mesh/measure.ts';
import type { PathNode, SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import { facesAt, nodeOf, nodePlace, pathOf } from './surface-path.ts';

/** Crossings this near to the start, as a share of the edge, are the start itself. */
const startShare = 1 / 131072;

/**
 * The part of a plane's section with the surface from the first point to the last, or the whole section through the points when closed.
 * Of the two ways around it takes the one nearer to the points between, or the shorter.
 * @throws lines/plane-misses if the section does not join the ends
 */
export function planePath(mesh: HalfEdgeMesh, points: readonly SurfacePoint[], closed: boolean): SurfacePath {
  const nodes = points.map((point) => nodeOf(mesh, point));
  const places = nodes.map((node) => nodePlace(mesh, node));
  const normal = planeNormal(mesh, points, places, closed);
  const height = heights(mesh, normal, places[0]);
  const goal = closed ? nodes[0] : nodes[nodes.length - 1];
  const ways = startEdges(mesh, nodes[0], places[0], height).flatMap((h) => walk(mesh, height, nodes[0], h, goal, closed) ?? []);
  const between = closed ? [] : places.slice(1, -1);
  const rated = ways.map((path) => ({ path, miss: between.reduce((sum, at) => sum + nearest(path.positions, at), 0) }));
  rated.sort((a, b) => a.miss - b.miss || a.path.length - b.path.length);
  const best = rated.at(0)?.path;
  if (best) return best;
  throw new Failure(
    'lines/plane-misses',
    'The straight cut through these points does not run from the first to the last over the surface.',
    { at: places[0], faces: points.map((point) => point.face).slice(0, 20) },
    'Add a point between, or let the line take the shortest path.',
  );
}

/**
 * Unit normal n of the plane. Open: n ⟂ d = last − first, least Σ (n·(p − p₀))² + w |d|² (n·m)², m the mean surface normal: in the plane
 * across d, with e₁ = m without its part along d and e₂ = d × e₁, the lesser eigenvector of a 2×2 matrix. Closed: least Σ (n·(p − p₀))²; for
 * two points upright on the surface.
 */
function planeNormal(mesh: HalfEdgeMesh, points: readonly SurfacePoint[], places: readonly Vec3[], closed: boolean): Vec3 {
  const arms = places.map((at) => minus(at, places[0]));
  if (closed && places.length > 2) {
    const sums = new Float64Array(9);
    for (const arm of arms) for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) sums[3 * i + k] += arm[i] * arm[k];
    const { vectors } = symmetricEigen(sums, 3);
    return [vectors[0], vectors[1], vectors[2]];
  }
  const span = arms[arms.length - 1];
  const square = dot(span, span);
  const up = without(meanNormal(mesh, points), span);
  const across = unit([span[1] * up[2] - span[2] * up[1], span[2] * up[0] - span[0] * up[2], span[0] * up[1] - span[1] * up[0]]);
  let [a, b, c] = [0, 0, uprightWeight * square];
  for (const arm of arms) {
    const [x, y] = [dot(arm, across), dot(arm, up)];
    a += x * x;
    b += x * y;
    c += y * y;
  }
  // Angle of the greater eigenvector from e₂; the lesser one stands across it.
  const angle = atan2(2 * b, a - c) / 2;
  const [s, t] = [-sin(angle), cos(angle)];
  return unit([s * across[0] + t * up[0], s * across[1] + t * up[1], s * across[2] + t * up[2]]);
}

/** The unit vector along n without its part along d; any direction across d when nothing is left. */
function without(n: Vec3, d: Vec3): Vec3 {
  const square = dot(d, d);
  const part = square > 0 ? dot(n, d) / square : 0;
  const rest: Vec3 = [n[0] - part * d[0], n[1] - part * d[1], n[2] - part * d[2]];
  if (Math.hypot(...rest) > roundOff) return unit(rest);
  const least = [Math.abs(d[0]), Math.abs(d[1]), Math.abs(d[2])];
  const axis = least.indexOf(Math.min(...least));
  return without([axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0], d);
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function unit(v: Vec3): Vec3 {
  const size = Math.hypot(...v);
  return [v[0] / size, v[1] / size, v[2] / size];
}

function meanNormal(mesh: HalfEdgeMesh, points: readonly SurfacePoint[]): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  for (const { face } of points) {
    const cross = faceCross(mesh, face);
    const size = Math.hypot(...cross);
    for (let k = 0; k < 3; k++) sum[k] += cross[k] / size;
  }
  const size = Math.hypot(...sum);
  return size > 0 ? [sum[0] / size, sum[1] / size, sum[2] / size] : [0, 0, 0];
}

/** Height of each vertex over the plane, mm; the plane is moved by a hair so that it misses every vertex that it would touch. */
function heights(mesh: HalfEdgeMesh, normal: Vec3, through: Vec3): Float64Array {
  const p = mesh.positions;
  const heights = new Float64Array(p.length / 3);
  let largest = 0;
  for (let v = 0; v < heights.length; v++) {
    heights[v] = normal[0] * (p[3 * v] - through[0]) + normal[1] * (p[3 * v + 1] - through[1]) + normal[2] * (p[3 * v + 2] - through[2]);
    largest = Math.max(largest, Math.abs(heights[v]));
  }
  const hair = largest * roundOff * 10;
  for (let v = 0; v < heights.length; v++) if (Math.abs(heights[v]) < hair) heights[v] = hair;
  return heights;
}

const crosses = (mesh: HalfEdgeMesh, height: F64, h: number): boolean =>
  height[mesh.faces[h]] > 0 !== height[mesh.faces[nextHalfEdge(h)]] > 0;

function crossingAt(mesh: HalfEdgeMesh, height: F64, h: number): PathNode {
  const [a, b] = [height[mesh.faces[h]], height[mesh.faces[nextHalfEdge(h)]]];
  return { on: 'edge', halfEdge: h, t: a / (a - b) };
}

/** Edges of the faces around the start through which the section leaves. */
function startEdges(mesh: HalfEdgeMesh, start: PathNode, at: Vec3, height: F64): number[] {
  return facesAt(mesh, start).flatMap((f) =>
    [3 * f, 3 * f + 1, 3 * f + 2].filter((h) => {
      if (!crosses(mesh, height, h)) return false;
      const place = nodePlace(mesh, crossingAt(mesh, height, h));
      const size = Math.hypot(
        ...minus(
          nodePlace(mesh, { on: 'vertex', vertex: mesh.faces[h] }),
          nodePlace(mesh, { on: 'vertex', vertex: mesh.faces[nextHalfEdge(h)] }),
        ),
      );
      return Math.hypot(...minus(place, at)) > startShare * size;
    }),
  );
}

/** Follows the section out through half-edge h until a face that touches the goal. */
function walk(mesh: HalfEdgeMesh, height: F64, start: PathNode, h: number, goal: PathNode, closed: boolean): SurfacePath | undefined {
  const goalFaces = new Set(facesAt(mesh, goal));
  if (!closed && goalFaces.has(Math.floor(h / 3))) return pathOf(mesh, [start, goal], false);
  const nodes: PathNode[] = [start];
  const limit = mesh.faces.length;
  for (let steps = 0; steps < limit; steps++) {
    nodes.push(crossingAt(mesh, height, h));
    const g = mesh.twin[h];
    if (g === -1) return undefined;
    if (goalFaces.has(Math.floor(g / 3))) return pathOf(mesh, closed ? nodes : [...nodes, goal], closed);
    h = crosses(mesh, height, nextHalfEdge(g)) ? nextHalfEdge(g) : previousHalfEdge(g);
  }
  return undefined;
}

const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

function nearest(positions: F64, at: Vec3): number {
  let least = Infinity;
  for (let i = 0; i < positions.length; i += 3)
    least = Math.min(least, Math.hypot(positions[i] - at[0], positions[i + 1] - at[1], positions[i + 2] - at[2]));
  return least;
}
