/*
 * Smoothing without shrinking: the surface x nearest to the scan x₀ that bends little, min Σ m|x − x₀|² + λ Σ |Lx|²/m, that is (M + λ Lᵀ M⁻¹ L) x = M x₀.
 * A ripple of wavelength ℓ keeps the share 1/(1 + (ℓ_c/ℓ)⁴) of its height, λ = (ℓ_c/2π)⁴: noise from vertex to vertex goes, a form of the body's size
 * stays (at ℓ_c = 30 mm: 8 mm keep 0.5 %, 60 mm keep 94 %, 150 mm keep 99.8 %). Weights and areas are taken
 * from a calmed copy, because noise as high as half an edge spoils them. Where a vertex would move further than the limit it stops there.
 */
import type { Run } from '../base/run.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import { matrixFromTriplets } from '../linalg/triplets.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { vertexNormals } from '../mesh/measure.ts';
import { isBoundaryVertex } from '../mesh/navigate.ts';
import { vertexStencils } from './fair.ts';

export interface Smoothed {
  readonly positions: Float64Array;
  /** Longest way of a vertex, mm. */
  readonly largestMm: number;
  /** Vertices that reached the limit. */
  readonly limited: number;
}

/** Vertices with less than this share of the mean area bend nothing: they belong to slivers. */
const leastMassShare = 0.001;

/** Wavelength that keeps half its height, mm: twice a fold of cloth, half a muscle. */
export const smoothingWaveMm = 30;

/**
 * Smooths all vertices; those on open borders bend nothing and only follow.
 * @param limitMm no vertex moves further
 * @param waveMm wavelength that keeps half its height
 */
export async function smoothVertices(mesh: HalfEdgeMesh, limitMm: number, waveMm: number, run: Run): Promise<Smoothed> {
  const total = mesh.positions.length / 3;
  const stencils = vertexStencils(mesh, calmed(mesh));
  const leastMass = (stencils.mass.reduce((sum, mass) => sum + mass, 0) * leastMassShare) / total;
  const share = waveMm / (2 * Math.PI);
  const lambda = share * share * share * share;
  const room = countEntries(stencils.start, total) + total;
  const row = new Uint32Array(room);
  const column = new Uint32Array(room);
  const real = new Float64Array(room);
  let fill = 0;
  const members = new Uint32Array(256);
  const factors = new Float64Array(256);
  for (let v = 0; v < total; v++) {
    row[fill] = column[fill] = v;
    real[fill++] = Math.max(stencils.mass[v], Number.MIN_VALUE);
    if (mesh.vertexHalfEdge[v] === -1 || isBoundaryVertex(mesh, v) || !(stencils.mass[v] > leastMass)) continue;
    let size = 0;
    let own = 0;
    for (let q = stencils.start[v]; q < stencils.start[v + 1] && size < 255; q++) {
      members[size] = stencils.neighbour[q];
      factors[size++] = stencils.weight[q];
      own -= stencils.weight[q];
    }
    members[size] = v;
    factors[size++] = own;
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++) {
        row[fill] = members[i];
        column[fill] = members[j];
        real[fill++] = (lambda * factors[i] * factors[j]) / stencils.mass[v];
      }
  }
  await run.breathe();
  const matrix = matrixFromTriplets(total, { row: row.slice(0, fill), column: column.slice(0, fill), real: real.slice(0, fill) });
  const solver = await prepareSolver(matrix, { positions: mesh.positions }, run);
  await run.breathe();
  await solver.factor(matrix, run);
  const moved = new Float64Array(mesh.positions.length);
  for (let k = 0; k < 3; k++) {
    const right = Float64Array.from({ length: total }, (_, v) => Math.max(stencils.mass[v], Number.MIN_VALUE) * mesh.positions[3 * v + k]);
    const x = solver.solve(right).real;
    for (let v = 0; v < total; v++) moved[3 * v + k] = x[v];
  }
  return limitWay(mesh, moved, limitMm);
}

/** Steps towards the mean of the neighbours before weights are taken. */
const calmingSteps = 3;

/** The surface after a few umbrella steps along its normals: its weights and areas are those of the form, not of its noise and spikes. */
function calmed(mesh: HalfEdgeMesh): Float64Array {
  let positions = Float64Array.from(mesh.positions);
  for (let step = 0; step < calmingSteps; step++) {
    const sums = new Float64Array(positions.length);
    const count = new Uint32Array(positions.length / 3);
    for (let h = 0; h < mesh.faces.length; h++) {
      const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
      count[a]++;
      for (let k = 0; k < 3; k++) sums[3 * a + k] += positions[3 * b + k];
      if (mesh.twin[h] !== -1) continue;
      count[b]++;
      for (let k = 0; k < 3; k++) sums[3 * b + k] += positions[3 * a + k];
    }
    const normals = vertexNormals({ positions, faces: mesh.faces });
    const next = Float64Array.from(positions);
    for (let v = 0; v < count.length; v++) {
      if (count[v] === 0 || isBoundaryVertex(mesh, v)) continue;
      let along = 0;
      for (let k = 0; k < 3; k++) along += ((sums[3 * v + k] / count[v] - positions[3 * v + k]) * normals[3 * v + k]) / 2;
      for (let k = 0; k < 3; k++) next[3 * v + k] += along * normals[3 * v + k];
    }
    positions = next;
  }
  return positions;
}

function countEntries(start: Readonly<ArrayLike<number>>, total: number): number {
  let entries = 0;
  for (let v = 0; v < total; v++) {
    const size = Math.min(255, start[v + 1] - start[v]) + 1;
    entries += (size * (size + 1)) / 2;
  }
  return entries;
}

function limitWay(mesh: HalfEdgeMesh, moved: Float64Array, limitMm: number): Smoothed {
  const positions = Float64Array.from(mesh.positions);
  let largestMm = 0;
  let limited = 0;
  for (let v = 0; v < positions.length; v += 3) {
    const way = [0, 1, 2].map((k) => moved[v + k] - mesh.positions[v + k]);
    const length = Math.hypot(...way);
    const factor = length > limitMm ? limitMm / length : 1;
    if (factor < 1) limited++;
    largestMm = Math.max(largestMm, factor * length);
    for (let k = 0; k < 3; k++) positions[v + k] = mesh.positions[v + k] + factor * way[k];
  }
  return { positions, largestMm, limited };
}
