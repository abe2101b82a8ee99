/*
 * As-rigid-as-possible map by local/global steps, the quick road to the neighbourhood of the best shape.
 * E(z) = Σ A ((σ₁ − 1)² + (σ₂ − 1)²), σ₂ signed. For fixed rotations R = α/|α| of the faces it is zᴴ L z − 4 Re Σ A R̄ α + const, so the
 * global step solves L z = 2 Σ A R ḡ_j (frames of `face-frames`), the local step reads R off the map. Each step lowers E or leaves it.
 * One real factorisation of n unknowns serves every step, x and y as two right-hand sides. It does not forbid flips.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import type { PreparedSolver } from '../linalg/cholesky.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import type { EdgePattern } from '../mesh/cotangent.ts';
import { edgePattern, halfCotangents, laplacianValues } from '../mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { unknownPositions } from './conformal.ts';
import { faceFrames } from './face-frames.ts';

/** The factored Laplacian of a patch with vertex `fixed` held at the origin. */
export interface RigidSystem {
  readonly mesh: HalfEdgeMesh;
  readonly frames: F64;
  readonly pattern: EdgePattern;
  readonly solver: PreparedSolver;
}

export interface RigidResult {
  /** Plane positions, shape 2·n. */
  readonly positions: Float64Array;
  /** E after the last local step, squared unit of the mesh. */
  readonly energy: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/** Factors the Laplacian of a patch once, for any number of `rigidSteps`. */
export async function prepareRigid(mesh: HalfEdgeMesh, run: Run): Promise<RigidSystem> {
  const pattern = edgePattern(mesh, mesh.positions.length / 3, [mesh.faces[0]]);
  const { size, columnStart, row } = pattern;
  const matrix = { size, columnStart, row, real: laplacianValues(mesh, pattern, halfCotangents(mesh)) };
  const solver = await prepareSolver(matrix, { positions: unknownPositions(mesh, pattern), dimension: 3 }, run);
  await solver.factor(matrix, run);
  return { mesh, frames: faceFrames(mesh), pattern, solver };
}

/**
 * Local/global steps from a start.
 * @param start plane positions at true size, shape 2·n; a mirrored start gives a mirrored result
 * @param limit most steps; `relativeTolerance` ends them earlier once a step lowers E by less than that share of E or of 1e-16 of the area
 * @returns the map with its first face's first corner at the origin
 * @source [liu2008] §3 with λ = ∞
 */
export async function rigidSteps(
  system: RigidSystem,
  start: F64,
  limit: number,
  relativeTolerance: number,
  run: Run,
): Promise<RigidResult> {
  const { mesh, frames, pattern, solver } = system;
  const plane = Float64Array.from(start);
  const right = { real: new Float64Array(pattern.size), imaginary: new Float64Array(pattern.size) };
  const sums = new Float64Array(plane.length);
  let energy = Infinity;
  let iterations = 0;
  for (;;) {
    const next = localStepInto(sums, mesh, frames, plane);
    const gain = energy - next;
    energy = next;
    if (gain <= relativeTolerance * energy) return { positions: plane, energy, iterations, converged: true };
    if (iterations >= limit) return { positions: plane, energy, iterations, converged: false };
    iterations++;
    await run.breathe();
    for (let i = 0; i < pattern.size; i++) {
      right.real[i] = sums[2 * pattern.unknownVertex[i]];
      right.imaginary[i] = sums[2 * pattern.unknownVertex[i] + 1];
    }
    solver.solveInto(right, right);
    for (let i = 0; i < pattern.size; i++) {
      plane[2 * pattern.unknownVertex[i]] = right.real[i];
      plane[2 * pattern.unknownVertex[i] + 1] = right.imaginary[i];
    }
    const fixed = 2 * mesh.faces[0];
    plane[fixed] = plane[fixed + 1] = 0;
  }
}

/** Rotations of the faces and their right-hand side 2 Σ A R ḡ_j into `sums`; returns E of the map. */
function localStepInto(sums: Float64Array, mesh: HalfEdgeMesh, frames: F64, plane: F64): number {
  const { faces } = mesh;
  sums.fill(0);
  let energy = 0;
  for (let f = 0; f < faces.length / 3; f++) {
    const a = 2 * faces[3 * f];
    const b = 2 * faces[3 * f + 1];
    const c = 2 * faces[3 * f + 2];
    const gr = frames[4 * f];
    const gi = frames[4 * f + 1];
    const k = frames[4 * f + 2];
    const area = frames[4 * f + 3];
    const ux = plane[b] - plane[a];
    const uy = plane[b + 1] - plane[a + 1];
    const vx = plane[c] - plane[a];
    const vy = plane[c + 1] - plane[a + 1];
    // α = U g − i k V, β = U ḡ + i k V with k = 1/(2h).
    const ar = ux * gr - uy * gi + k * vy;
    const ai = ux * gi + uy * gr - k * vx;
    const br = ux * gr + uy * gi - k * vy;
    const bi = uy * gr - ux * gi + k * vx;
    const size = Math.sqrt(ar * ar + ai * ai);
    const rr = size > 0 ? ar / size : 1;
    const ri = size > 0 ? ai / size : 0;
    energy += 2 * area * ((size - 1) * (size - 1) + br * br + bi * bi);
    // 2A R ḡ for b, 2A R · (i k) for c, minus both for a.
    const w = 2 * area;
    const xb = w * (rr * gr + ri * gi);
    const yb = w * (ri * gr - rr * gi);
    const xc = -w * k * ri;
    const yc = w * k * rr;
    sums[b] += xb;
    sums[b + 1] += yb;
    sums[c] += xc;
    sums[c + 1] += yc;
    sums[a] -= xb + xc;
    sums[a + 1] -= yb + yc;
  }
  return energy;
}
