/*
 * A straight walk over the surface: keep the direction inside each face, unfold across each edge.
 */
import type { Vec3 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { faceCross } from '../mesh/measure.ts';
import type { PathNode, SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import { nodeOf, pathOf, pointOf } from './surface-path.ts';

/**
 * The straightest path from a point.
 * @param direction in space; its part along the surface counts
 * @param distance length of the walk, mm; it ends early at an open border
 */
export function walkStraight(mesh: HalfEdgeMesh, start: SurfacePoint, direction: Vec3, distance: number): SurfacePath {
  const nodes: PathNode[] = [nodeOf(mesh, start)];
  let { face, weights } = start;
  let heading = inFace(mesh, face, direction);
  let entered = -1;
  let left = distance;
  for (let steps = 0; steps < mesh.faces.length && left > 0; steps++) {
    const rates = ratesOf(mesh, face, heading);
    let [exit, reach] = [-1, Infinity];
    for (let i = 0; i < 3; i++) {
      // Weight i reaches 0 on the edge opposite corner i: half-edge i + 1.
      const h = 3 * face + nextHalfEdge(i);
      if (h === entered || rates[i] >= 0) continue;
      const length = weights[i] / -rates[i];
      if (length < reach) [exit, reach] = [h, length];
    }
    if (exit === -1) break;
    const step = Math.min(left, reach);
    const moved = [0, 1, 2].map((i) => Math.max(0, weights[i] + step * rates[i]));
    const sum = moved[0] + moved[1] + moved[2];
    weights = [moved[0] / sum, moved[1] / sum, moved[2] / sum];
    if (left <= reach) {
      nodes.push(nodeOf(mesh, { face, weights }));
      break;
    }
    const t = Math.max(roundOff, Math.min(1 - roundOff, weights[nextHalfEdge(exit) % 3]));
    const node: PathNode = { on: 'edge', halfEdge: exit, t };
    nodes.push(node);
    left -= reach;
    const g = mesh.twin[exit];
    if (g === -1) break;
    heading = turned(mesh, exit, heading, Math.floor(g / 3));
    entered = g;
    face = Math.floor(g / 3);
    const there: [number, number, number] = [0, 0, 0];
    there[g % 3] = t;
    there[nextHalfEdge(g) % 3] = 1 - t;
    weights = there;
  }
  return pathOf(mesh, nodes, false);
}

/** End of a path as a surface point. */
export function endOf(mesh: HalfEdgeMesh, path: SurfacePath): SurfacePoint {
  return pointOf(mesh, path.nodes[path.nodes.length - 1]);
}

/** The unit direction in a face nearest to a direction in space. */
function inFace(mesh: HalfEdgeMesh, f: number, d: Vec3): Vec3 {
  const n = faceCross(mesh, f);
  const square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2];
  const part = (d[0] * n[0] + d[1] * n[1] + d[2] * n[2]) / square;
  const flat: Vec3 = [d[0] - part * n[0], d[1] - part * n[1], d[2] - part * n[2]];
  const size = Math.hypot(...flat);
  return size > 0 ? [flat[0] / size, flat[1] / size, flat[2] / size] : flat;
}

/** Change of each barycentric weight a millimetre along a direction: ∇w_i = n × (edge opposite i) / |n|². */
function ratesOf(mesh: HalfEdgeMesh, f: number, d: Vec3): Vec3 {
  const n = faceCross(mesh, f);
  const square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2];
  const rate = (i: number): number => {
    const [e0, e1, e2] = edgeVector(mesh, 3 * f + nextHalfEdge(i));
    const g: Vec3 = [n[1] * e2 - n[2] * e1, n[2] * e0 - n[0] * e2, n[0] * e1 - n[1] * e0];
    return (g[0] * d[0] + g[1] * d[1] + g[2] * d[2]) / square;
  };
  return [rate(0), rate(1), rate(2)];
}

/** The direction after unfolding across half-edge h into the next face: same angle with the edge. */
function turned(mesh: HalfEdgeMesh, h: number, d: Vec3, next: number): Vec3 {
  const e = edgeVector(mesh, h);
  const size = Math.hypot(...e);
  const along = (d[0] * e[0] + d[1] * e[1] + d[2] * e[2]) / size;
  const across = Math.sqrt(Math.max(0, 1 - along * along));
  const n = faceCross(mesh, next);
  const area = Math.hypot(...n);
  // Into the next face: e × n points out of the face left, that is into the next one, for h runs with that face on its left.
  const into: Vec3 = [
    (e[1] * n[2] - e[2] * n[1]) / (size * area),
    (e[2] * n[0] - e[0] * n[2]) / (size * area),
    (e[0] * n[1] - e[1] * n[0]) / (size * area),
  ];
  return [along * (e[0] / size) + across * into[0], along * (e[1] / size) + across * into[1], along * (e[2] / size) + across * into[2]];
}

function edgeVector(mesh: HalfEdgeMesh, h: number): Vec3 {
  const p = mesh.positions;
  const [a, b] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)]];
  return [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
}

/** Share of the way to each corner at which a gradient takes its differences. */
const differenceShare = 0.2;

/** Gradient of a function of surface points in the face of a point: Σ f_i ∇w_i over three places drawn towards the corners. */
export function gradientAt(mesh: HalfEdgeMesh, value: (point: SurfacePoint) => number, point: SurfacePoint): Vec3 {
  const { face } = point;
  const n = faceCross(mesh, face);
  const square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2];
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    const drawn = (k: number): number => (1 - differenceShare) * point.weights[k] + (k === i ? differenceShare : 0);
    const at = value({ face, weights: [drawn(0), drawn(1), drawn(2)] });
    const e = edgeVector(mesh, 3 * face + nextHalfEdge(i));
    const g: Vec3 = [n[1] * e[2] - n[2] * e[1], n[2] * e[0] - n[0] * e[2], n[0] * e[1] - n[1] * e[0]];
    for (let k = 0; k < 3; k++) sum[k] += (at * g[k]) / (square * differenceShare);
  }
  return sum;
}
