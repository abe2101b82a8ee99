/*
 * Turned-over faces turned back: from any map, the energy
 *   Σ A (‖J‖² + D² + 1) / χ(D, ε),  D = det J,  χ = (D + √(ε² + D²))/2
 * is finite on flipped faces, grows as they stay flipped, and as ε → 0 becomes one that only maps without flips can have [garanzha2021 §3]. ε follows the
 * worst face: ε² = 0.04·min(D)² while any D is negative. Minimised by limited-memory quasi-Newton steps [nocedal2006 §7.2] with the inverse
 * Laplacian as first guess of the Hessian, which makes them independent of the mesh's size.
 * We depart from the source in that guess (there: plain L-BFGS) and stop at the first map without flips.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { untangleTolerance } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { prepareRigid } from './as-rigid.ts';
import type { RigidSystem } from './as-rigid.ts';
import { flippedFaces } from './overlap.ts';

/**
 * @param start any plane positions at about true size, shape 2·n
 * @returns a map without flips by exact predicates, or undefined where the steps ended before one was found
 */
export async function untangle(mesh: HalfEdgeMesh, start: F64, run: Run): Promise<Float64Array | undefined> {
  const system = await prepareRigid(mesh, run);
  let plane: Float64Array = Float64Array.from(start);
  for (let round = 0; round < untangleTolerance.rounds; round++) {
    await run.breathe();
    if (flippedFaces(mesh, plane).length === 0) return plane;
    const least = leastDeterminant(system, plane);
    const epsilon = Math.sqrt(untangleTolerance.floor + untangleTolerance.share * Math.min(0, least) * Math.min(0, least));
    plane = minimise(system, plane, epsilon);
  }
  system.solver.dispose();
  return flippedFaces(mesh, plane).length === 0 ? plane : undefined;
}

function leastDeterminant(system: RigidSystem, plane: F64): number {
  const { frames } = system;
  const { faces } = system.mesh;
  let least = Infinity;
  for (let f = 0; f < faces.length / 3; f++) {
    const [a, b, c] = [2 * faces[3 * f], 2 * faces[3 * f + 1], 2 * faces[3 * f + 2]];
    const cross = (plane[b] - plane[a]) * (plane[c + 1] - plane[a + 1]) - (plane[b + 1] - plane[a + 1]) * (plane[c] - plane[a]);
    least = Math.min(least, 4 * frames[4 * f] * frames[4 * f + 2] * cross);
  }
  return least;
}

/** The energy, and its gradient into `gradient` (shape 2·n). */
function energyInto(gradient: Float64Array, system: RigidSystem, plane: F64, epsilon: number): number {
  const { frames } = system;
  const { faces } = system.mesh;
  gradient.fill(0);
  let energy = 0;
  for (let f = 0; f < faces.length / 3; f++) {
    const a = 2 * faces[3 * f];
    const b = 2 * faces[3 * f + 1];
    const c = 2 * faces[3 * f + 2];
    const [gr, gi, k, area] = [frames[4 * f], frames[4 * f + 1], frames[4 * f + 2], frames[4 * f + 3]];
    const ux = plane[b] - plane[a];
    const uy = plane[b + 1] - plane[a + 1];
    const vx = plane[c] - plane[a];
    const vy = plane[c + 1] - plane[a + 1];
    const ar = ux * gr - uy * gi + k * vy;
    const ai = ux * gi + uy * gr - k * vx;
    const br = ux * gr + uy * gi - k * vy;
    const bi = uy * gr - ux * gi + k * vx;
    const p = ar * ar + ai * ai;
    const q = br * br + bi * bi;
    const determinant = 4 * gr * k * (ux * vy - uy * vx);
    const root = Math.sqrt(epsilon * epsilon + determinant * determinant);
    // For negative D the sum cancels: ε²/(2(√… − D)) is the same number.
    const chi = determinant > 0 ? (determinant + root) / 2 : (epsilon * epsilon) / (2 * (root - determinant));
    const slope = chi / root;
    const top = 2 * (p + q) + determinant * determinant + 1;
    energy += (area * top) / chi;
    const shared = (top * slope) / chi;
    const fp = (area * 2 * (2 + 2 * determinant - shared)) / chi;
    const fq = (area * 2 * (2 - 2 * determinant + shared)) / chi;
    // Gradient of corner j: fp α ḡ_j + fq β g_j; g_b = g, g_c = −ik.
    const xb = fp * (ar * gr + ai * gi) + fq * (br * gr - bi * gi);
    const yb = fp * (ai * gr - ar * gi) + fq * (br * gi + bi * gr);
    const xc = k * (fq * bi - fp * ai);
    const yc = k * (fp * ar - fq * br);
    gradient[b] += xb;
    gradient[b + 1] += yb;
    gradient[c] += xc;
    gradient[c + 1] += yc;
    gradient[a] -= xb + xc;
    gradient[a + 1] -= yb + yc;
  }
  return energy;
}

/** L⁻¹ of a gradient, the fixed vertex unmoved. */
function precondition(system: RigidSystem, gradient: F64): Float64Array {
  const { pattern, solver } = system;
  const right = { real: new Float64Array(pattern.size), imaginary: new Float64Array(pattern.size) };
  for (let i = 0; i < pattern.size; i++) {
    right.real[i] = gradient[2 * pattern.unknownVertex[i]];
    right.imaginary[i] = gradient[2 * pattern.unknownVertex[i] + 1];
  }
  solver.solveInto(right, right);
  const result = new Float64Array(gradient.length);
  for (let i = 0; i < pattern.size; i++) {
    result[2 * pattern.unknownVertex[i]] = right.real[i];
    result[2 * pattern.unknownVertex[i] + 1] = right.imaginary[i];
  }
  return result;
}

const dot = (a: F64, b: F64): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};

/** Quasi-Newton steps at one ε, until they stall or their number is up. */
function minimise(system: RigidSystem, start: Float64Array, epsilon: number): Float64Array {
  let plane: Float64Array = start;
  let gradient: Float64Array = new Float64Array(start.length);
  let energy = energyInto(gradient, system, plane, epsilon);
  const history: { s: Float64Array; y: Float64Array; rho: number }[] = [];
  for (let step = 0; step < untangleTolerance.steps; step++) {
    const direction = twoLoop(system, gradient, history);
    const slope = dot(gradient, direction);
    if (!(slope < 0)) return plane;
    let length = 1;
    const nextGradient = new Float64Array(start.length);
    for (;;) {
      const next = Float64Array.from(plane, (value, i) => value + length * direction[i]);
      const reached = energyInto(nextGradient, system, next, epsilon);
      if (reached <= energy + untangleTolerance.sufficientFall * length * slope) {
        const y = nextGradient.map((value, i) => value - gradient[i]);
        const s = next.map((value, i) => value - plane[i]);
        const curvature = dot(s, y);
        if (curvature > 0) history.push({ s, y, rho: 1 / curvature });
        if (history.length > untangleTolerance.memory) history.shift();
        const isStalled = energy - reached < untangleTolerance.stalled * energy;
        [plane, gradient, energy] = [next, nextGradient, reached];
        if (isStalled) return plane;
        break;
      }
      length /= 2;
      if (length < untangleTolerance.floor) return plane;
    }
  }
  return plane;
}

/** −H g by the two-loop recursion, H₀ = L⁻¹ scaled to the last step. */
function twoLoop(system: RigidSystem, gradient: F64, history: readonly { s: F64; y: F64; rho: number }[]): Float64Array {
  const q = Float64Array.from(gradient);
  const alphas: number[] = [];
  for (let i = history.length - 1; i >= 0; i--) {
    const alpha = history[i].rho * dot(history[i].s, q);
    alphas[i] = alpha;
    for (let k = 0; k < q.length; k++) q[k] -= alpha * history[i].y[k];
  }
  const direction = precondition(system, q);
  const last = history.at(-1);
  if (last !== undefined) {
    const scale = dot(last.s, last.y) / dot(last.y, precondition(system, last.y));
    for (let k = 0; k < direction.length; k++) direction[k] *= scale;
  }
  for (let i = 0; i < history.length; i++) {
    const beta = history[i].rho * dot(history[i].y, direction);
    for (let k = 0; k < direction.length; k++) direction[k] += (alphas[i] - beta) * history[i].s[k];
  }
  for (let k = 0; k < direction.length; k++) direction[k] = -direction[k];
  return direction;
}
