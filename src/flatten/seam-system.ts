/*
 * Several patches and the seams between them as one problem:
 *   F(z) = Σ_patches Σ_faces A (σ₁² + σ₂² + σ₁⁻² + σ₂⁻²) + ½ Σ_stretches (c_s)² / D_s,  c_s = L_A − L_B in the plane,
 * neither side held to its length in space. A small D means a stiff seam; D → 0 makes mates equal.
 * One Gauss–Newton step: d = −H⁻¹ (g + Cᵀλ), (C H⁻¹ Cᵀ + D) λ = c − C H⁻¹ g, with C = ∂c/∂z. H is block diagonal, one factor a patch;
 * C has a row a stretch, so all seams that meet in a point or share a part are solved together by the small matrix in the middle.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { prepareSolverNow } from '../linalg/cholesky.ts';
import { prepareAssembly, sumEntries } from '../linalg/triplets.ts';
import type { NewtonSystem } from './newton.ts';
import { assembleAndFactor } from './newton.ts';
import type { SeamStretch } from './seam-stretches.ts';
import { addLengthGradientInto, planeLength } from './seam-stretches.ts';
import { stretchEnergy, symmetricDirichletDensity } from './stretch-energy.ts';

export interface SeamSystem {
  /** One a patch; its index is that of `StretchSide.patch`. */
  readonly systems: readonly NewtonSystem[];
  readonly stretches: readonly SeamStretch[];
}

export interface SeamStep {
  /** One direction a patch, shape 2·n. */
  readonly directions: readonly Float64Array[];
  /** Slope of F along the step; negative. */
  readonly slope: number;
}

/** c_s of all stretches, mm. */
export function mismatches(stretches: readonly SeamStretch[], planes: readonly F64[]): Float64Array {
  return Float64Array.from(
    stretches,
    ({ sides: [one, other] }) => planeLength(one, planes[one.patch]) - planeLength(other, planes[other.patch]),
  );
}

/** F at given planes; ∞ where a face is flipped. */
export function seamEnergy(system: SeamSystem, planes: readonly F64[], softness: F64): number {
  let energy = 0;
  system.systems.forEach(({ faces, frames }, p) => (energy += stretchEnergy(faces, frames, planes[p], symmetricDirichletDensity)));
  const c = mismatches(system.stretches, planes);
  for (let s = 0; s < c.length; s++) energy += (c[s] * c[s]) / (2 * softness[s]);
  return energy;
}

/** What the seams ask of each patch: rows of C that touch it, and H⁻¹ of them. */
interface Compliance {
  readonly rows: readonly number[];
  readonly gradients: readonly Float64Array[];
  readonly responses: readonly Float64Array[];
  /** Energy gradient g and H⁻¹ g, by vertex. */
  readonly gradient: Float64Array;
  readonly free: Float64Array;
}

/**
 * Compliances C H⁻¹ Cᵀ of all patches at given planes; costs one factorisation a patch and half a solve a stretch and side.
 */
export async function patchCompliances(system: SeamSystem, planes: readonly F64[], run: Run): Promise<Compliance[]> {
  const found: Compliance[] = [];
  for (let p = 0; p < system.systems.length; p++) {
    const newton = system.systems[p];
    await assembleAndFactor(newton, planes[p], symmetricDirichletDensity, true, run);
    const rows: number[] = [];
    const gradients: Float64Array[] = [];
    system.stretches.forEach((stretch, s) => {
      const [one, other] = stretch.sides;
      if (one.patch !== p && other.patch !== p) return;
      const gradient = new Float64Array(planes[p].length);
      if (one.patch === p) addLengthGradientInto(gradient, one, planes[p], 1);
      if (other.patch === p) addLengthGradientInto(gradient, other, planes[p], -1);
      rows.push(s);
      gradients.push(gradient);
    });
    const gradient = spread(newton, newton.target.gradient);
    const solved = solvePairs(newton, [gradient, ...gradients]);
    found.push({ rows, gradients, responses: solved.slice(1), gradient, free: solved[0] });
    await run.breathe();
  }
  return found;
}

/** From unknowns to vertices. */
function spread(newton: NewtonSystem, values: F64): Float64Array {
  const { unknownVertex, vertexUnknown } = newton.pattern;
  const result = new Float64Array(2 * vertexUnknown.length);
  for (let i = 0; i < unknownVertex.length; i++) {
    result[2 * unknownVertex[i]] = values[2 * i];
    result[2 * unknownVertex[i] + 1] = values[2 * i + 1];
  }
  return result;
}

function gather(newton: NewtonSystem, values: F64): Float64Array {
  const { unknownVertex } = newton.pattern;
  const result = new Float64Array(2 * unknownVertex.length);
  for (let i = 0; i < unknownVertex.length; i++) {
    result[2 * i] = values[2 * unknownVertex[i]];
    result[2 * i + 1] = values[2 * unknownVertex[i] + 1];
  }
  return result;
}

/** H⁻¹ of several vectors, two at a time: the solver takes a pair at the cost of one. */
function solvePairs(newton: NewtonSystem, sources: readonly Float64Array[]): Float64Array[] {
  const results: Float64Array[] = [];
  for (let i = 0; i < sources.length; i += 2) {
    const real = gather(newton, sources[i]);
    const pair = newton.solver.solve(real, i + 1 < sources.length ? gather(newton, sources[i + 1]) : new Float64Array(real.length));
    results.push(spread(newton, pair.real));
    if (i + 1 < sources.length) results.push(spread(newton, pair.imaginary));
  }
  return results;
}

const dot = (a: F64, b: F64): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};

/** The diagonal of C H⁻¹ Cᵀ: how far a unit force on a stretch's difference moves it. */
export function complianceDiagonal(compliances: readonly Compliance[], count: number): Float64Array {
  const diagonal = new Float64Array(count);
  for (const { rows, gradients, responses } of compliances) rows.forEach((s, i) => (diagonal[s] += dot(gradients[i], responses[i])));
  return diagonal;
}

/** The Gauss–Newton step of F for given compliances. */
export function seamStep(compliances: readonly Compliance[], c: F64, softness: F64): SeamStep {
  const count = c.length;
  const rowList: number[] = [];
  const columnList: number[] = [];
  const values: number[] = [];
  const right = Float64Array.from(c);
  for (let s = 0; s < count; s++) {
    rowList.push(s);
    columnList.push(s);
    values.push(softness[s]);
  }
  for (const { rows, gradients, responses, free } of compliances) {
    for (let i = 0; i < rows.length; i++) {
      right[rows[i]] -= dot(gradients[i], free);
      for (let k = 0; k <= i; k++) {
        rowList.push(rows[i]);
        columnList.push(rows[k]);
        values.push(dot(gradients[i], responses[k]));
      }
    }
  }
  const assembly = prepareAssembly(count, Uint32Array.from(rowList), Uint32Array.from(columnList));
  const matrix = sumEntries(assembly, Float64Array.from(values));
  const solver = prepareSolverNow(matrix);
  solver.factorNow(matrix);
  const lambda = solver.solve(right).real;
  let slope = 0;
  const directions = compliances.map(({ rows, gradients, responses, gradient, free }) => {
    const direction = new Float64Array(free.length);
    for (let i = 0; i < direction.length; i++) direction[i] = -free[i];
    for (let k = 0; k < rows.length; k++) for (let i = 0; i < direction.length; i++) direction[i] -= lambda[rows[k]] * responses[k][i];
    slope += dot(gradient, direction);
    for (let k = 0; k < rows.length; k++) slope += (c[rows[k]] / softness[rows[k]]) * dot(gradients[k], direction);
    return direction;
  });
  return { directions, slope };
}
