/*
 * Cotangent weights and the Laplacian of a triangle mesh, in the form that the prepared solver takes: the pattern is built once from
 * the connectivity, the numbers are filled as often as they change. Everything is flat typed arrays; no objects in loops.
 * Weight of edge ij: w_ij = ½ (cot α + cot β), α and β the angles opposite the edge in its one or two faces.
 * Dirichlet energy of a function u that is linear on each face: ½ ∫ |∇u|² = ½ uᵀ L u, L_ij = −w_ij, L_ii = Σ_j w_ij [pinkall1993].
 */
import type { F64, I32, U32 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

/** Where the entries of a symmetric vertex-by-vertex matrix lie, for the vertices that are unknowns. */
export interface EdgePattern {
  /** Number of unknowns. */
  readonly size: number;
  /** Lower triangle by columns, diagonal first, rows ascending (as in `SparseMatrix`). Shape size + 1. */
  readonly columnStart: U32;
  readonly row: U32;
  /** Place in `row` of each half-edge's entry; −1 where an end is no unknown or the edge is a loop. Shape of `faces`. */
  readonly halfEdgeEntry: I32;
  /** Unknown of each vertex, −1 for one that is eliminated. Unknowns ascend with the vertices. */
  readonly vertexUnknown: I32;
  /** Vertex of each unknown. */
  readonly unknownVertex: U32;
}

/**
 * The pattern of a matrix that couples the ends of every edge.
 * Edges that join the same two vertices (an intrinsic triangulation may have several) share one entry.
 * @param mesh faces and twins, shape 3·m
 * @param vertexTotal number of vertices
 * @param eliminated vertices that are not unknowns (pinned ones); vertices without a face never are
 * Cost: linear, two counting sorts.
 */
export function edgePattern(mesh: Pick<HalfEdgeMesh, 'faces' | 'twin'>, vertexTotal: number, eliminated: readonly number[]): EdgePattern {
  const { vertexUnknown, unknownVertex } = numberUnknowns(mesh.faces, vertexTotal, eliminated);
  const size = unknownVertex.length;
  const { faces, twin } = mesh;
  const halfEdgeTotal = faces.length;
  const highStart = new Uint32Array(size + 1);
  const columnStart = new Uint32Array(size + 1);
  for (let j = 0; j < size; j++) columnStart[j + 1] = 1;
  for (let h = 0; h < halfEdgeTotal; h++) {
    if (twin[h] > h) continue;
    const a = vertexUnknown[faces[h]];
    const b = vertexUnknown[faces[h % 3 === 2 ? h - 2 : h + 1]];
    if (a < 0 || b < 0 || a === b) continue;
    highStart[(a > b ? a : b) + 1]++;
    columnStart[(a > b ? b : a) + 1]++;
  }
  for (let j = 0; j < size; j++) {
    highStart[j + 1] += highStart[j];
    columnStart[j + 1] += columnStart[j];
  }
  const byHigh = new Uint32Array(highStart[size]);
  const next = highStart.slice(0, size);
  for (let h = 0; h < halfEdgeTotal; h++) {
    if (twin[h] > h) continue;
    const a = vertexUnknown[faces[h]];
    const b = vertexUnknown[faces[h % 3 === 2 ? h - 2 : h + 1]];
    if (a < 0 || b < 0 || a === b) continue;
    byHigh[next[a > b ? a : b]++] = h;
  }
  const row = new Uint32Array(columnStart[size]);
  const halfEdgeEntry = new Int32Array(halfEdgeTotal).fill(-1);
  for (let j = 0; j < size; j++) {
    next[j] = columnStart[j] + 1;
    row[columnStart[j]] = j;
  }
  let merged = 0;
  // Visiting the higher ends in order leaves the rows of every column ascending.
  for (let high = 0; high < size; high++) {
    for (let q = highStart[high]; q < highStart[high + 1]; q++) {
      const h = byHigh[q];
      const a = vertexUnknown[faces[h]];
      const b = vertexUnknown[faces[h % 3 === 2 ? h - 2 : h + 1]];
      const low = a > b ? b : a;
      let entry = next[low];
      if (row[entry - 1] === high) {
        entry--;
        merged++;
      } else {
        row[entry] = high;
        next[low]++;
      }
      halfEdgeEntry[h] = entry;
      if (twin[h] !== -1) halfEdgeEntry[twin[h]] = entry;
    }
  }
  if (merged > 0) closeGapsInto({ columnStart, row, halfEdgeEntry }, next);
  return { size, columnStart, row: merged > 0 ? row.slice(0, columnStart[size]) : row, halfEdgeEntry, vertexUnknown, unknownVertex };
}

function numberUnknowns(
  faces: U32,
  vertexTotal: number,
  eliminated: readonly number[],
): { vertexUnknown: Int32Array; unknownVertex: Uint32Array } {
  const vertexUnknown = new Int32Array(vertexTotal).fill(-1);
  for (let h = 0; h < faces.length; h++) vertexUnknown[faces[h]] = 0;
  for (const v of eliminated) vertexUnknown[v] = -1;
  let size = 0;
  for (let v = 0; v < vertexTotal; v++) if (vertexUnknown[v] === 0) vertexUnknown[v] = size++;
  const unknownVertex = new Uint32Array(size);
  for (let v = 0; v < vertexTotal; v++) if (vertexUnknown[v] !== -1) unknownVertex[vertexUnknown[v]] = v;
  return { vertexUnknown, unknownVertex };
}

/** Moves the columns together where shared entries left room at their ends. */
function closeGapsInto(target: { columnStart: Uint32Array; row: Uint32Array; halfEdgeEntry: Int32Array }, columnEnd: Uint32Array): void {
  const { columnStart, row, halfEdgeEntry } = target;
  const moved = new Int32Array(row.length);
  let to = 0;
  for (let j = 0; j < columnEnd.length; j++) {
    const from = columnStart[j];
    columnStart[j] = to;
    for (let q = from; q < columnEnd[j]; q++) {
      moved[q] = to;
      row[to++] = row[q];
    }
  }
  columnStart[columnEnd.length] = to;
  for (let h = 0; h < halfEdgeEntry.length; h++) if (halfEdgeEntry[h] !== -1) halfEdgeEntry[h] = moved[halfEdgeEntry[h]];
}

/**
 * Half the cotangent of the angle opposite each half-edge, ½ cot = ½ u·v / |u × v|; its edge's weight is the sum over its one or two
 * half-edges. Shape of `faces`. Faces of zero area give infinities: refuse them before.
 */
export function halfCotangents(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const { positions: p, faces } = mesh;
  const half = new Float64Array(faces.length);
  for (let h = 0; h < faces.length; h += 3) {
    const a = 3 * faces[h];
    const b = 3 * faces[h + 1];
    const c = 3 * faces[h + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const wx = p[c] - p[b];
    const wy = p[c + 1] - p[b + 1];
    const wz = p[c + 2] - p[b + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const scale = 0.5 / Math.sqrt(nx * nx + ny * ny + nz * nz);
    half[h] = scale * (vx * wx + vy * wy + vz * wz);
    half[h + 1] = scale * (ux * vx + uy * vy + uz * vz);
    half[h + 2] = -scale * (ux * wx + uy * wy + uz * wz);
  }
  return half;
}

/**
 * The values of the Laplacian on a pattern: entry ij is −w_ij, the diagonal Σ_j w_ij over all edges, also those to eliminated vertices.
 * Positive semi-definite on any triangulation; positive definite once a vertex of each component is eliminated.
 * @param mesh faces of the triangulation that the pattern was built from
 * @param half half cotangents, shape of `faces`
 * @returns real values in the order of `pattern.row`
 * @source [pinkall1993] §2
 */
export function laplacianValues(mesh: Pick<HalfEdgeMesh, 'faces'>, pattern: EdgePattern, half: F64): Float64Array {
  const { columnStart, halfEdgeEntry, vertexUnknown } = pattern;
  const { faces } = mesh;
  const values = new Float64Array(pattern.row.length);
  for (let h = 0; h < faces.length; h++) {
    const entry = halfEdgeEntry[h];
    const weight = half[h];
    const va = faces[h];
    const vb = faces[h % 3 === 2 ? h - 2 : h + 1];
    if (va === vb) continue;
    const a = vertexUnknown[va];
    const b = vertexUnknown[vb];
    if (entry !== -1) values[entry] -= weight;
    if (a !== -1) values[columnStart[a]] += weight;
    if (b !== -1) values[columnStart[b]] += weight;
  }
  return values;
}
