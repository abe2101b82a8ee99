/*
 * Paths over a mesh: making them from nodes, joining them, and the plain geometry of nodes. A node is a vertex, a point inside an edge
 * or a point inside a face; consecutive nodes share a face.
 */
import type { Vec3 } from '../base/arrays.ts';
import { bendAngle, nodeSnapShare, roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { outgoing } from '../mesh/navigate.ts';
import type { PathNode, SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';

/** Place of a node in space, mm. */
export function nodePlace(mesh: HalfEdgeMesh, node: PathNode): Vec3 {
  const p = mesh.positions;
  if (node.on === 'vertex') return [p[3 * node.vertex], p[3 * node.vertex + 1], p[3 * node.vertex + 2]];
  const [i, j, k] =
    node.on === 'edge'
      ? [3 * mesh.faces[node.halfEdge], 3 * mesh.faces[nextHalfEdge(node.halfEdge)], 0]
      : [3 * mesh.faces[3 * node.face], 3 * mesh.faces[3 * node.face + 1], 3 * mesh.faces[3 * node.face + 2]];
  const [u, v, w] = node.on === 'edge' ? [1 - node.t, node.t, 0] : node.weights;
  return [u * p[i] + v * p[j] + w * p[k], u * p[i + 1] + v * p[j + 1] + w * p[k + 1], u * p[i + 2] + v * p[j + 2] + w * p[k + 2]];
}

/** The node of a surface point: weights within `nodeSnapShare` of 0 count as 0 (a source that near to an edge sees it at no angle that can be reckoned with). */
export function nodeOf(mesh: HalfEdgeMesh, point: SurfacePoint): PathNode {
  const large = [0, 1, 2].filter((i) => point.weights[i] > nodeSnapShare);
  if (large.length === 1) return { on: 'vertex', vertex: mesh.faces[3 * point.face + large[0]] };
  if (large.length === 3) return { on: 'face', face: point.face, weights: point.weights };
  const i = large[1] === nextHalfEdge(large[0]) ? large[0] : large[1];
  const j = nextHalfEdge(i);
  return { on: 'edge', halfEdge: 3 * point.face + i, t: point.weights[j] / (point.weights[i] + point.weights[j]) };
}

/** A face and weights that describe the same place as a node. */
export function pointOf(mesh: HalfEdgeMesh, node: PathNode): SurfacePoint {
  if (node.on === 'face') return { face: node.face, weights: node.weights };
  const h = node.on === 'edge' ? node.halfEdge : mesh.vertexHalfEdge[node.vertex];
  const t = node.on === 'edge' ? node.t : 0;
  const weights: [number, number, number] = [0, 0, 0];
  weights[h % 3] = 1 - t;
  weights[nextHalfEdge(h % 3)] = t;
  return { face: Math.floor(h / 3), weights };
}

/** Faces that touch a node, ascending. */
export function facesAt(mesh: HalfEdgeMesh, node: PathNode): number[] {
  if (node.on === 'face') return [node.face];
  if (node.on === 'vertex')
    return outgoing(mesh, node.vertex)
      .map((h) => Math.floor(h / 3))
      .sort((a, b) => a - b);
  const g = mesh.twin[node.halfEdge];
  const f = Math.floor(node.halfEdge / 3);
  return g === -1 ? [f] : [Math.min(f, Math.floor(g / 3)), Math.max(f, Math.floor(g / 3))];
}

/** The lowest face that both nodes touch, −1 if there is none. */
export function commonFace(mesh: HalfEdgeMesh, a: PathNode, b: PathNode): number {
  const near = facesAt(mesh, b);
  return facesAt(mesh, a).find((f) => near.includes(f)) ?? -1;
}

/** Weights of a node in a face that it touches, in the order of the face's corners. */
export function weightsIn(mesh: HalfEdgeMesh, node: PathNode, face: number): Vec3 {
  if (node.on === 'face') return node.weights;
  const weights: [number, number, number] = [0, 0, 0];
  if (node.on === 'vertex') {
    for (let i = 0; i < 3; i++) if (mesh.faces[3 * face + i] === node.vertex) weights[i] = 1;
    return weights;
  }
  const own = Math.floor(node.halfEdge / 3) === face;
  const i = (own ? node.halfEdge : mesh.twin[node.halfEdge]) % 3;
  weights[i] = own ? 1 - node.t : node.t;
  weights[nextHalfEdge(i)] = own ? node.t : 1 - node.t;
  return weights;
}

/** True if two nodes are the same place of the mesh (edges compared from either side). */
export function sameNode(mesh: HalfEdgeMesh, a: PathNode, b: PathNode): boolean {
  if (a.on === 'vertex') return b.on === 'vertex' && a.vertex === b.vertex;
  if (a.on === 'face') return b.on === 'face' && a.face === b.face && a.weights.every((w, i) => Math.abs(w - b.weights[i]) < roundOff);
  if (b.on !== 'edge') return false;
  const t = b.halfEdge === a.halfEdge ? b.t : b.halfEdge === mesh.twin[a.halfEdge] ? 1 - b.t : Infinity;
  return Math.abs(t - a.t) < roundOff;
}

/**
 * The path through the nodes; a node that repeats the one before it is left out.
 * @param closed whether the last node is joined to the first (which is then not repeated)
 */
export function pathOf(mesh: HalfEdgeMesh, nodes: readonly PathNode[], closed: boolean): SurfacePath {
  const kept: PathNode[] = [];
  for (const node of nodes) {
    const last = kept.at(-1);
    if (!last || !sameNode(mesh, last, node)) kept.push(node);
  }
  const [first, last] = [kept.at(0), kept.at(-1)];
  if (closed && kept.length > 1 && first && last && sameNode(mesh, first, last)) kept.pop();
  const positions = Float64Array.from(kept.flatMap((node) => [...nodePlace(mesh, node)]));
  return { nodes: kept, positions, closed, length: polylineLength(positions, closed) };
}

/** Paths laid end to end; each starts where the one before it ended. */
export function joinPaths(mesh: HalfEdgeMesh, paths: readonly SurfacePath[], closed: boolean): SurfacePath {
  return pathOf(
    mesh,
    paths.flatMap((path) => path.nodes),
    closed,
  );
}

function polylineLength(positions: Float64Array, closed: boolean): number {
  let length = 0;
  const count = positions.length / 3;
  for (let i = closed ? 0 : 1; i < count; i++) {
    const a = 3 * ((i + count - 1) % count);
    length += Math.hypot(positions[3 * i] - positions[a], positions[3 * i + 1] - positions[a + 1], positions[3 * i + 2] - positions[a + 2]);
  }
  return length;
}

/** Faces that two nodes share: one across a face, two along an edge. */
export function facesSharing(mesh: HalfEdgeMesh, a: PathNode, b: PathNode): number[] {
  const near = facesAt(mesh, b);
  return facesAt(mesh, a).filter((f) => near.includes(f));
}

/**
 * Whether a path turns at node i: outside of a turn the nearest place of the path is the node itself, so it is a source of its own.
 * On an edge the way goes straight on if it makes the same angle with the edge on both sides.
 */
export function bendsAt(mesh: HalfEdgeMesh, path: SurfacePath, i: number): boolean {
  const node = path.nodes[i % path.nodes.length];
  if (node.on === 'vertex') return false;
  const at = (k: number): readonly number[] => [0, 1, 2].map((axis) => path.positions[3 * (k % path.nodes.length) + axis]);
  const [before, here, after] = [at(i - 1), at(i), at(i + 1)];
  const arriving = unitBetween(before, here);
  const leaving = unitBetween(here, after);
  if (!arriving || !leaving) return true;
  if (node.on === 'face' || facesSharing(mesh, path.nodes[i - 1], path.nodes[(i + 1) % path.nodes.length]).length > 0)
    return Math.hypot(...arriving.map((value, k) => value - leaving[k])) > bendAngle;
  const [a, b] = [3 * mesh.faces[node.halfEdge], 3 * mesh.faces[nextHalfEdge(node.halfEdge)]];
  const edge = unitBetween(
    [0, 1, 2].map((k) => mesh.positions[a + k]),
    [0, 1, 2].map((k) => mesh.positions[b + k]),
  );
  const along = (direction: readonly number[]): number => (edge ?? []).reduce((sum, value, k) => sum + value * direction[k], 0);
  return Math.abs(along(arriving) - along(leaving)) > bendAngle;
}

function unitBetween(from: readonly number[], to: readonly number[]): readonly number[] | undefined {
  const way = to.map((value, k) => value - from[k]);
  const size = Math.hypot(...way);
  return size > 0 ? way.map((value) => value / size) : undefined;
}
