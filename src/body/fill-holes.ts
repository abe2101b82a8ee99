/*
 * Filling holes fair with their surroundings, in the three steps of [liepa2003]: a coarse surface over the border (`hole-triangles.ts`), refined until
 * its triangles are as fine as those around the border, then bent as little as the surroundings allow (`fair.ts`).
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import { flipEdges } from '../mesh/edit-topology.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import { halfEdgeLength, outgoing } from '../mesh/navigate.ts';
import { fairVertices } from './fair.ts';
import { closeBorder } from './hole-triangles.ts';
import type { ClosingOptions } from './hole-triangles.ts';
import type { Triangles } from './triangles.ts';

export interface FilledHoles {
  readonly triangles: Triangles;
  readonly filled: number;
  /** Faces that were added. */
  readonly addedFaces: number;
}

export interface FillOptions {
  readonly rule: ClosingOptions['rule'];
  /** False leaves the coarse surface as it is, without vertices of its own. */
  readonly isFair: boolean;
}

export const fillDefaults: FillOptions = { rule: 'least-fold', isFair: true };

/** Rounds of splitting; each halves the triangles, so they reach the finest border from any hole. */
const mostRefinements = 12;
/** Weights of the fair surface are taken anew so often. */
const fairRounds = 3;

/**
 * Fills the holes behind some open borders.
 * @param borders open half-edges of `mesh` in order, as `boundaryLoops` gives them
 * @returns the mesh's vertices and faces first, in their order, then the new ones
 */
export async function fillHoles(
  mesh: HalfEdgeMesh,
  borders: readonly Uint32Array[],
  run: Run,
  options: FillOptions = fillDefaults,
): Promise<FilledHoles> {
  const positions: number[] = [];
  const faces: number[] = [];
  const first = mesh.positions.length / 3;
  let filled = 0;
  for (const border of borders) {
    const patch = patchOver(mesh, border, options);
    await run.breathe();
    if (patch === undefined) continue;
    filled++;
    const size = border.length;
    const offset = first + positions.length / 3;
    const vertexOf = (i: number): number => (i < size ? mesh.faces[border[i]] : offset + i - size);
    for (let i = 3 * size; i < patch.positions.length; i++) positions.push(patch.positions[i]);
    for (let h = 0; h < patch.faces.length; h++) faces.push(vertexOf(patch.faces[h]));
  }
  if (filled === 0) return { triangles: { positions: mesh.positions, faces: mesh.faces }, filled, addedFaces: 0 };
  const allPositions = new Float64Array(mesh.positions.length + positions.length);
  allPositions.set(Float64Array.from(mesh.positions));
  allPositions.set(positions, mesh.positions.length);
  const allFaces = new Uint32Array(mesh.faces.length + faces.length);
  allFaces.set(Uint32Array.from(mesh.faces));
  allFaces.set(faces, mesh.faces.length);
  const whole = buildMesh(allPositions, allFaces);
  const isFree = Uint8Array.from({ length: allPositions.length / 3 }, (_, v) => (v >= first ? 1 : 0));
  await run.breathe();
  const fair = options.isFair ? fairVertices(whole, isFree, fairRounds) : allPositions;
  return { triangles: { positions: fair, faces: allFaces }, filled, addedFaces: faces.length / 3 };
}

/** A patch over one border: the border's vertices first, in order. Undefined where the border cannot be closed. */
function patchOver(mesh: HalfEdgeMesh, border: Uint32Array, options: FillOptions): Triangles | undefined {
  const size = border.length;
  if (size < 3) return undefined;
  const place = (v: number): number[] => [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]];
  const ring = Float64Array.from(Array.from(border).flatMap((h) => place(mesh.faces[h])));
  const outside = Float64Array.from(Array.from(border).flatMap((h) => place(mesh.faces[previousHalfEdge(h)])));
  const joined = joinedPairs(mesh, border);
  const isJoined = (i: number, j: number): boolean => joined.has(Math.min(i, j) * size + Math.max(i, j));
  const faces = Uint32Array.from(closeBorder(ring, outside, { rule: options.rule, isJoined }));
  if (faces.length !== 3 * (size - 2)) return undefined;
  if (!options.isFair) return { positions: ring, faces };
  const scale = Float64Array.from(border, (h) => spacingAt(mesh, mesh.faces[h]));
  const patch = refine({ positions: ring, faces }, scale);
  return hasJoinedEdge(patch.faces, size, isJoined) ? { positions: ring, faces } : patch;
}

/** Pairs i·size + j of border vertices, i < j, that the mesh joins by an edge inside the surface: a second edge there would not be manifold. */
function joinedPairs(mesh: HalfEdgeMesh, border: Uint32Array): ReadonlySet<number> {
  const size = border.length;
  const number = new Map(Array.from(border, (h, i) => [mesh.faces[h], i]));
  const joined = new Set<number>();
  border.forEach((h, i) => {
    for (const g of outgoing(mesh, mesh.faces[h])) {
      for (const v of [mesh.faces[g - (g % 3) + ((g + 1) % 3)], mesh.faces[previousHalfEdge(g)]]) {
        const j = number.get(v);
        if (j !== undefined && j !== (i + 1) % size && i !== (j + 1) % size) joined.add(Math.min(i, j) * size + Math.max(i, j));
      }
    }
  });
  return joined;
}

/** True if refining flipped an edge onto one that the mesh has. */
function hasJoinedEdge(faces: Triangles['faces'], size: number, isJoined: (i: number, j: number) => boolean): boolean {
  for (let h = 0; h < faces.length; h++) {
    const [i, j] = [faces[h], faces[h % 3 === 2 ? h - 2 : h + 1]];
    if (i < size && j < size && isJoined(i, j)) return true;
  }
  return false;
}

/** Mean length of the edges at a vertex. */
function spacingAt(mesh: HalfEdgeMesh, v: number): number {
  const around = outgoing(mesh, v);
  return around.reduce((sum, h) => sum + halfEdgeLength(mesh, h), 0) / around.length;
}

/**
 * Splits triangles at their centre while the centre is further than its spacing from all three corners (times √2), and flips edges to
 * Delaunay in between; the spacing of a new vertex is the mean of its corners'.
 */
function refine(patch: Triangles, scale: Float64Array): Triangles {
  let { positions, faces }: Triangles = patch;
  let spacing: F64 = scale;
  for (let round = 0; round < mostRefinements; round++) {
    const split = splitAtCentres(positions, faces, spacing);
    if (split === undefined) break;
    positions = split.positions;
    spacing = split.spacing;
    const flipped = flipEdges(buildMesh(positions, split.faces), 'delaunay', 30);
    faces = flipped.faces;
  }
  return { positions, faces };
}

function splitAtCentres(
  positions: F64,
  faces: Triangles['faces'],
  spacing: F64,
): { positions: Float64Array; faces: Uint32Array; spacing: Float64Array } | undefined {
  const newFaces: number[] = [];
  const added: number[] = [];
  const addedSpacing: number[] = [];
  const first = positions.length / 3;
  for (let f = 0; f < faces.length; f += 3) {
    const corners = [faces[f], faces[f + 1], faces[f + 2]];
    const centre = [0, 1, 2].map((k) => corners.reduce((sum, v) => sum + positions[3 * v + k], 0) / 3);
    const own = corners.reduce((sum, v) => sum + spacing[v], 0) / 3;
    const isSplit = corners.every((v) => {
      const reach = Math.SQRT2 * Math.hypot(...centre.map((x, k) => x - positions[3 * v + k]));
      return reach > own && reach > spacing[v];
    });
    if (!isSplit) {
      newFaces.push(...corners);
      continue;
    }
    const vertex = first + addedSpacing.length;
    added.push(...centre);
    addedSpacing.push(own);
    for (let i = 0; i < 3; i++) newFaces.push(corners[i], corners[(i + 1) % 3], vertex);
  }
  if (addedSpacing.length === 0) return undefined;
  const grown = new Float64Array(positions.length + added.length);
  grown.set(Float64Array.from(positions));
  grown.set(added, positions.length);
  return {
    positions: grown,
    faces: Uint32Array.from(newFaces),
    spacing: Float64Array.from([...Array.from(spacing), ...addedSpacing]),
  };
}
