/*
 * Walks over half-edges: around a vertex, along an open border.
 */
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge, vertexCount } from './half-edge-mesh.ts';

/**
 * Outgoing half-edges of a vertex, counter-clockwise; at an open border it starts with the border's half-edge.
 * A vertex that joins several fans (non-manifold) gives only the fan of `vertexHalfEdge`.
 */
export function outgoing(mesh: HalfEdgeMesh, v: number): number[] {
  const first = mesh.vertexHalfEdge[v];
  const around: number[] = [];
  if (first === -1) return around;
  let h = first;
  do {
    around.push(h);
    h = mesh.twin[previousHalfEdge(h)];
  } while (h !== -1 && h !== first);
  return around;
}

/** True if the vertex lies on an open border. */
export function isBoundaryVertex(mesh: HalfEdgeMesh, v: number): boolean {
  const h = mesh.vertexHalfEdge[v];
  return h !== -1 && mesh.twin[h] === -1;
}

/** The open half-edge that follows open half-edge h along its border (faces to the left). */
export function nextOnBoundary(mesh: HalfEdgeMesh, h: number): number {
  let g = nextHalfEdge(h);
  while (mesh.twin[g] !== -1) g = nextHalfEdge(mesh.twin[g]);
  return g;
}

/**
 * All open borders, each as its half-edges in order with the faces on the left; the longest border in space first.
 */
export function boundaryLoops(mesh: HalfEdgeMesh): Uint32Array[] {
  const seen = new Uint8Array(mesh.faces.length);
  const loops: { halfEdges: Uint32Array; length: number }[] = [];
  for (let first = 0; first < mesh.faces.length; first++) {
    if (mesh.twin[first] !== -1 || seen[first] === 1) continue;
    const loop: number[] = [];
    let length = 0;
    let h = first;
    do {
      seen[h] = 1;
      loop.push(h);
      length += halfEdgeLength(mesh, h);
      h = nextOnBoundary(mesh, h);
    } while (h !== first);
    loops.push({ halfEdges: Uint32Array.from(loop), length });
  }
  return loops.sort((a, b) => b.length - a.length).map((loop) => loop.halfEdges);
}

/** Length of a half-edge in space, mm. */
export function halfEdgeLength(mesh: HalfEdgeMesh, h: number): number {
  const p = mesh.positions;
  const a = 3 * mesh.faces[h];
  const b = 3 * mesh.faces[nextHalfEdge(h)];
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
}

/** V − E + F over the vertices that have a face. */
export function eulerCharacteristic(mesh: HalfEdgeMesh): number {
  let vertices = 0;
  for (let v = 0; v < vertexCount(mesh); v++) if (mesh.vertexHalfEdge[v] !== -1) vertices++;
  let halfOfTwice = 0;
  for (let h = 0; h < mesh.twin.length; h++) halfOfTwice += mesh.twin[h] === -1 ? 2 : 1;
  return vertices - halfOfTwice / 2 + mesh.faces.length / 3;
}
