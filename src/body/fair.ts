/*
 * Fair surfaces: free vertices go where the bending of the surface is least while all others stay. Bending is Σ_v |Σ_j w_vj (x_j − x_v)|²/m_v over every
 * vertex v whose neighbourhood holds a free one, w the cotangent weights (cot α + cot β)/2 and m a third of the faces around v, so K = Lᵀ M⁻¹ L
 * and the free part solves K_ff x_f = −K_fo x_o [botsch2008]. Weights of bad triangles are kept positive, and taken anew from each result.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { prepareSolverNow } from '../linalg/cholesky.ts';
import { matrixFromTriplets } from '../linalg/triplets.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';

/** Cotangent weights are kept within this range. */
const weightRange = { least: 0.05, most: 10 } as const;

/** Vertices of slivers count as if they had at least this share of the mean area. */
const leastMassShare = 0.01;

/** The row of the Laplacian at each vertex: its neighbours, their weights, and the vertex' share of area. */
export interface VertexStencils {
  /** Where each vertex' neighbours start; shape vertexCount + 1. */
  readonly start: U32;
  readonly neighbour: U32;
  readonly weight: F64;
  /** A third of the area of the faces around; shape vertexCount. */
  readonly mass: F64;
}

/** Stencils of all vertices, weights clamped to positive. Cost: linear. */
export function vertexStencils(mesh: HalfEdgeMesh, positions: F64): VertexStencils {
  const total = positions.length / 3;
  const count = new Uint32Array(total + 1);
  const mass = new Float64Array(total);
  const half = new Float64Array(mesh.faces.length);
  for (let h = 0; h < mesh.faces.length; h++) {
    const [a, b, c] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)], mesh.faces[previousHalfEdge(h)]];
    const { cotangent, area } = cornerFacts(positions, c, a, b);
    half[h] = cotangent / 2;
    mass[a] += area / 3;
    count[a + 1]++;
    if (mesh.twin[h] === -1) count[b + 1]++;
  }
  for (let v = 0; v < total; v++) count[v + 1] += count[v];
  const fill = count.slice(0, total);
  const neighbour = new Uint32Array(count[total]);
  const weight = new Float64Array(count[total]);
  for (let h = 0; h < mesh.faces.length; h++) {
    const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
    const sum = half[h] + (mesh.twin[h] === -1 ? 0 : half[mesh.twin[h]]);
    const w = Math.min(weightRange.most, Math.max(weightRange.least, sum));
    neighbour[fill[a]] = b;
    weight[fill[a]++] = w;
    if (mesh.twin[h] !== -1) continue;
    neighbour[fill[b]] = a;
    weight[fill[b]++] = w;
  }
  return { start: count, neighbour, weight, mass };
}

/** Cotangent of the angle at c against edge a b, and the area of the triangle. */
function cornerFacts(p: F64, c: number, a: number, b: number): { cotangent: number; area: number } {
  const [ux, uy, uz] = [p[3 * a] - p[3 * c], p[3 * a + 1] - p[3 * c + 1], p[3 * a + 2] - p[3 * c + 2]];
  const [vx, vy, vz] = [p[3 * b] - p[3 * c], p[3 * b + 1] - p[3 * c + 1], p[3 * b + 2] - p[3 * c + 2]];
  const twice = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  const dot = ux * vx + uy * vy + uz * vz;
  return { cotangent: twice > 0 ? dot / twice : 0, area: twice / 2 };
}

/**
 * New positions in which the free vertices bend the surface least.
 * @param isFree one flag a vertex; the free ones must not fill a whole component
 * @param rounds how often the weights are taken anew
 * @throws linalg/not-positive-definite where free vertices hang on nothing
 */
export function fairVertices(mesh: HalfEdgeMesh, isFree: Uint8Array, rounds: number): Float64Array {
  const positions = Float64Array.from(mesh.positions);
  const unknown = new Int32Array(isFree.length).fill(-1);
  const free: number[] = [];
  for (let v = 0; v < isFree.length; v++) {
    if (isFree[v] === 0 || mesh.vertexHalfEdge[v] === -1) continue;
    unknown[v] = free.length;
    free.push(v);
  }
  if (free.length === 0) return positions;
  for (let round = 0; round < rounds; round++) solveInto(positions, mesh, unknown, free);
  return positions;
}

function solveInto(positions: Float64Array, mesh: HalfEdgeMesh, unknown: Int32Array, free: readonly number[]): void {
  const stencils = vertexStencils(mesh, positions);
  const rows: number[] = [];
  const columns: number[] = [];
  const values: number[] = [];
  const right = [0, 1, 2].map(() => new Float64Array(free.length));
  const near = touched(stencils, unknown);
  const leastMass = (leastMassShare * near.reduce((sum, v) => sum + stencils.mass[v], 0)) / Math.max(1, near.length);
  for (const v of near) {
    const members: { u: number; factor: number }[] = [];
    let own = 0;
    for (let q = stencils.start[v]; q < stencils.start[v + 1]; q++) {
      members.push({ u: stencils.neighbour[q], factor: stencils.weight[q] });
      own -= stencils.weight[q];
    }
    members.push({ u: v, factor: own });
    const scale = 1 / Math.max(stencils.mass[v], leastMass, Number.MIN_VALUE);
    addRowInto(rows, columns, values, right, members, scale, unknown, positions);
  }
  const matrix = matrixFromTriplets(free.length, {
    row: Uint32Array.from(rows),
    column: Uint32Array.from(columns),
    real: Float64Array.from(values),
  });
  const solver = prepareSolverNow(matrix, {
    positions: Float64Array.from(free.flatMap((v) => [0, 1, 2].map((k) => positions[3 * v + k]))),
  });
  solver.factorNow(matrix);
  for (let k = 0; k < 3; k++) {
    const x = solver.solve(right[k]).real;
    free.forEach((v, i) => {
      positions[3 * v + k] = x[i];
    });
  }
}

/** Vertices whose stencil holds a free one, ascending. */
function touched(stencils: VertexStencils, unknown: Int32Array): number[] {
  const found: number[] = [];
  for (let v = 0; v < unknown.length; v++) {
    let isTouched = unknown[v] !== -1;
    for (let q = stencils.start[v]; q < stencils.start[v + 1] && !isTouched; q++) isTouched = unknown[stencils.neighbour[q]] !== -1;
    if (isTouched) found.push(v);
  }
  return found;
}

/** Adds |Σ factor·x|²·scale of one stencil: pairs of unknowns to the matrix, unknown times known to the right side. */
function addRowInto(
  rows: number[],
  columns: number[],
  values: number[],
  right: readonly Float64Array[],
  members: readonly { readonly u: number; readonly factor: number }[],
  scale: number,
  unknown: Int32Array,
  positions: F64,
): void {
  for (const [i, a] of members.entries()) {
    const row = unknown[a.u];
    if (row === -1) continue;
    for (const [j, b] of members.entries()) {
      const column = unknown[b.u];
      const product = a.factor * b.factor * scale;
      if (column === -1) for (let k = 0; k < 3; k++) right[k][row] -= product * positions[3 * b.u + k];
      else if (j <= i) {
        rows.push(row);
        columns.push(column);
        values.push(product);
      }
    }
  }
}
