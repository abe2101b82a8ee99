/*
 * Cutting open: faces that no open edge separates become one piece; a vertex becomes as many as there are fans of faces around it between
 * open edges. A cut that ends inside a piece leaves its last vertex single: the tip of a dart.
 */
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { buildMesh } from '../mesh/build.ts';
import type { Correspondence } from '../mesh/surface-point.ts';
import { pointOf } from '../lines/surface-path.ts';
import type { CutGraph } from './cut-graph.ts';
import type { Refinement } from './refinement.ts';

/** One piece, before it is named and checked. */
export interface Piece {
  /** Number of the area. */
  readonly label: number;
  /** Faces of the refinement, ascending: face i of the mesh is faces[i], corner for corner. */
  readonly faces: readonly number[];
  readonly mesh: HalfEdgeMesh;
  readonly toSurface: Correspondence;
  readonly faceToSurfaceFace: Uint32Array;
  /** Borders as half-edges of the refinement, each starting at a corner. */
  readonly loops: readonly (readonly number[])[];
}

/** Cuts the labelled faces into pieces, in the order of their lowest face. */
export function cutOpen(refinement: Refinement, graph: CutGraph, places: Float64Array): Piece[] {
  const pieceOf = labelPieces(refinement, graph);
  const facesOf: number[][] = [];
  for (let f = 0; f < refinement.origin.length; f++) if (pieceOf[f] !== -1) (facesOf[pieceOf[f]] ??= []).push(f);
  return facesOf.map((faces) => makePiece(refinement, graph, places, faces));
}

function labelPieces(refinement: Refinement, graph: CutGraph): Int32Array {
  const { twin, label } = refinement;
  const pieceOf = new Int32Array(label.length).fill(-1);
  let count = 0;
  for (let seed = 0; seed < label.length; seed++) {
    if (label[seed] === -1 || pieceOf[seed] !== -1) continue;
    const stack = [seed];
    pieceOf[seed] = count;
    for (let f = stack.pop(); f !== undefined; f = stack.pop()) {
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        if (graph.isOpen[h] === 1) continue;
        const other = Math.floor(twin[h] / 3);
        if (pieceOf[other] !== -1) continue;
        pieceOf[other] = count;
        stack.push(other);
      }
    }
    count++;
  }
  return pieceOf;
}

function makePiece(refinement: Refinement, graph: CutGraph, places: Float64Array, faces: readonly number[]): Piece {
  const { corner, twin, label, origin, base } = refinement;
  const vertexOf = new Map<number, number>();
  const below: number[] = [];
  for (const f of faces) {
    for (let first = 3 * f; first < 3 * f + 3; first++) {
      if (vertexOf.has(first)) continue;
      const v = below.push(corner[first]) - 1;
      for (const h of fanOf(twin, graph, first)) vertexOf.set(h, v);
    }
  }
  const positions = new Float64Array(3 * below.length);
  for (const [v, from] of below.entries()) for (let k = 0; k < 3; k++) positions[3 * v + k] = places[3 * from + k];
  const corners = Uint32Array.from(faces.flatMap((f) => [3 * f, 3 * f + 1, 3 * f + 2].map((h) => vertexOf.get(h) ?? 0)));
  const points = below.map((v) => pointOf(base, refinement.place[v]));
  return {
    label: label[faces[0]],
    faces,
    mesh: buildMesh(positions, corners),
    toSurface: {
      face: Uint32Array.from(points, (point) => point.face),
      weights: Float64Array.from(points.flatMap((point) => [...point.weights])),
    },
    faceToSurfaceFace: Uint32Array.from(faces, (f) => origin[f]),
    loops: bordersOf(refinement, graph, faces),
  };
}

/** Corners of the fan around the start of half-edge `first` that no open edge divides. */
function fanOf(twin: readonly number[], graph: CutGraph, first: number): number[] {
  const fan = [first];
  let h = first;
  for (;;) {
    const left = previousHalfEdge(h);
    if (graph.isOpen[left] === 1) break;
    h = twin[left];
    if (h === first) return fan;
    fan.push(h);
  }
  h = first;
  while (graph.isOpen[h] === 0) {
    h = nextHalfEdge(twin[h]);
    fan.push(h);
  }
  return fan;
}

function bordersOf(refinement: Refinement, graph: CutGraph, faces: readonly number[]): number[][] {
  const { corner, twin } = refinement;
  const seen = new Set<number>();
  const loops: number[][] = [];
  for (const f of faces) {
    for (let first = 3 * f; first < 3 * f + 3; first++) {
      if (graph.isOpen[first] === 0 || seen.has(first)) continue;
      const loop: number[] = [];
      let h = first;
      do {
        loop.push(h);
        seen.add(h);
        h = nextHalfEdge(h);
        while (graph.isOpen[h] === 0) h = nextHalfEdge(twin[h]);
      } while (h !== first);
      const start = Math.max(
        0,
        loop.findIndex((g) => graph.isCorner[corner[g]] === 1),
      );
      loops.push([...loop.slice(start), ...loop.slice(0, start)]);
    }
  }
  return loops;
}
