/*
 * Patches, the seams between them and their contacts with themselves as one problem:
 *   F(z) = Σ_patches E_SD + Σ_stretches c_s²/(2 D_s) + Σ_contacts h(D_k),   c_s = L_A − L_B in the plane.
 * Neither side of a seam is held to its length in space. A small D means a stiff seam; D → 0 makes mates equal.
 * Near a map every coupling is ½ (c + C d)²/D with one row C = ∂c/∂z (a contact: c = h′/h″, D = 1/h″), so a Gauss–Newton step is
 *   d = −H⁻¹ (g + Cᵀλ),  (C H⁻¹ Cᵀ + D) λ = c − C H⁻¹ g.
 * H is block diagonal, one factor a patch; the small matrix in the middle solves all seams that meet in a point or share a part at once.
 */
import type { F64, U32 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { prepareSolverNow } from '../linalg/cholesky.ts';
import { prepareAssembly, sumEntries } from '../linalg/triplets.ts';
import type { Barrier } from './contacts.ts';
import { addDistanceGradientInto, findContacts } from './contacts.ts';
import type { NewtonSystem } from './newton.ts';
import { assembleAndFactor } from './newton.ts';
import type { SeamStretch } from './seam-stretches.ts';
import { addLengthGradientInto, planeLength } from './seam-stretches.ts';
import { stretchEnergy, symmetricDirichletDensity } from './stretch-energy.ts';

export interface JointSystem {
  /** One a patch; its index is that of `StretchSide.patch`. */
  readonly systems: readonly NewtonSystem[];
  readonly barriers: readonly Barrier[];
  readonly stretches: readonly SeamStretch[];
}

/** A coupling's row of C inside one patch: places in the plane array and values. */
interface Row {
  readonly place: U32;
  readonly value: F64;
}

/** What one patch contributes to a step. */
interface PatchPart {
  /** Number of each coupling that touches the patch, ascending, and its row. */
  readonly couplings: readonly number[];
  readonly rows: readonly Row[];
  /** C H⁻¹ Cᵀ of these rows, row by row, and C H⁻¹ g. */
  readonly compliance: F64;
  readonly freeMove: F64;
}

/** All couplings at a map and what the patches make of them; factors are held until the next call. */
export interface Linearised {
  readonly parts: readonly PatchPart[];
  /** c and D of every coupling: stretches first, then contacts. */
  readonly mismatch: F64;
  readonly softness: F64;
}

export interface JointStep {
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

/** F at given planes; ∞ where a face is flipped or a border touches itself. */
export function jointEnergy(system: JointSystem, planes: readonly F64[], softness: F64): number {
  let energy = 0;
  for (let p = 0; p < planes.length && energy < Infinity; p++) {
    energy += stretchEnergy(system.systems[p].faces, system.systems[p].frames, planes[p], symmetricDirichletDensity);
    if (energy < Infinity) for (const contact of findContacts(system.barriers[p], planes[p])) energy += contact.value[0];
  }
  const c = mismatches(system.stretches, planes);
  for (let s = 0; s < c.length; s++) energy += (c[s] * c[s]) / (2 * softness[s]);
  return energy;
}

/**
 * Factors every patch and gathers its couplings.
 * @param options.softness D of the stretches, mm² a unit of energy; absent: 1 (to measure compliances)
 * @param options.isProjected as for `assembleAndFactor`
 */
export async function linearise(
  system: JointSystem,
  planes: readonly F64[],
  options: { readonly softness?: F64; readonly isProjected: boolean },
  run: Run,
): Promise<Linearised> {
  const { softness, isProjected } = options;
  const mismatch = Array.from(mismatches(system.stretches, planes));
  const soft = softness === undefined ? mismatch.map(() => 1) : Array.from(softness);
  const parts: PatchPart[] = [];
  for (let p = 0; p < planes.length; p++) {
    await run.breathe();
    await assembleAndFactor(system.systems[p], planes[p], symmetricDirichletDensity, isProjected, run);
    const couplings: number[] = [];
    const rows: Row[] = [];
    const scratch = new Float64Array(planes[p].length);
    const add = (coupling: number): void => {
      couplings.push(coupling);
      rows.push(takeRow(scratch));
    };
    system.stretches.forEach(({ sides: [one, other] }, s) => {
      if (one.patch === p) addLengthGradientInto(scratch, one, planes[p], 1);
      if (other.patch === p) addLengthGradientInto(scratch, other, planes[p], -1);
      if (one.patch === p || other.patch === p) add(s);
    });
    for (const contact of findContacts(system.barriers[p], planes[p])) {
      addDistanceGradientInto(scratch, contact);
      add(mismatch.length);
      mismatch.push(contact.value[1] / contact.value[2]);
      soft.push(1 / contact.value[2]);
    }
    parts.push(measurePart(system.systems[p], couplings, rows));
  }
  return { parts, mismatch: Float64Array.from(mismatch), softness: Float64Array.from(soft) };
}

/** The non-zero entries of a scratch vector, which is cleared. */
function takeRow(scratch: Float64Array): Row {
  const place: number[] = [];
  const value: number[] = [];
  for (let i = 0; i < scratch.length; i++) {
    if (scratch[i] === 0) continue;
    place.push(i);
    value.push(scratch[i]);
    scratch[i] = 0;
  }
  return { place: Uint32Array.from(place), value: Float64Array.from(value) };
}

function measurePart(newton: NewtonSystem, couplings: readonly number[], rows: readonly Row[]): PatchPart {
  const { vertexUnknown } = newton.pattern;
  const unknownAt = (place: number): number => 2 * vertexUnknown[place >> 1] + (place & 1);
  const dotRow = (row: Row, values: F64): number => {
    let sum = 0;
    for (let i = 0; i < row.place.length; i++) sum += row.value[i] * values[unknownAt(row.place[i])];
    return sum;
  };
  const free = newton.solver.solve(newton.target.gradient).real;
  const freeMove = Float64Array.from(rows, (row) => dotRow(row, free));
  const compliance = new Float64Array(rows.length * rows.length);
  const spread = (row: Row): Float64Array => {
    const values = new Float64Array(newton.blocks.size);
    for (let i = 0; i < row.place.length; i++) values[unknownAt(row.place[i])] = row.value[i];
    return values;
  };
  // Two rows a solve: the solver takes a pair of real right-hand sides at the cost of one.
  for (let k = 0; k < rows.length; k += 2) {
    const hasSecond = k + 1 < rows.length;
    const response = newton.solver.solve(spread(rows[k]), hasSecond ? spread(rows[k + 1]) : new Float64Array(newton.blocks.size));
    for (let i = 0; i < rows.length; i++) {
      compliance[i * rows.length + k] = dotRow(rows[i], response.real);
      if (hasSecond) compliance[i * rows.length + k + 1] = dotRow(rows[i], response.imaginary);
    }
  }
  return { couplings, rows, compliance, freeMove };
}

/** The diagonal of C H⁻¹ Cᵀ for the first `count` couplings: how far a unit force on a stretch's difference moves it. */
export function complianceDiagonal({ parts }: Linearised, count: number): Float64Array {
  const diagonal = new Float64Array(count);
  for (const { couplings, compliance } of parts)
    couplings.forEach((s, i) => {
      if (s < count) diagonal[s] += compliance[i * couplings.length + i];
    });
  return diagonal;
}

/**
 * The Gauss–Newton step of F.
 * @param softness D of the stretches, replacing those that the map was linearised with
 */
export function jointStep(system: JointSystem, linearised: Linearised, softness: F64): JointStep {
  const { parts, mismatch } = linearised;
  const soft = Float64Array.from(linearised.softness, (value, s) => (s < softness.length ? softness[s] : value));
  const lambda = solveCouplings(parts, mismatch, soft);
  let slope = 0;
  const directions = parts.map(({ couplings, rows }, p) => {
    const { pattern, target, solver, blocks } = system.systems[p];
    const right = Float64Array.from(target.gradient);
    const force = new Float64Array(blocks.size);
    rows.forEach(({ place, value }, i) => {
      const s = couplings[i];
      for (let k = 0; k < place.length; k++) {
        const unknown = 2 * pattern.vertexUnknown[place[k] >> 1] + (place[k] & 1);
        right[unknown] += lambda[s] * value[k];
        force[unknown] += (mismatch[s] / soft[s]) * value[k];
      }
    });
    const solution = solver.solve(right).real;
    const direction = new Float64Array(2 * pattern.vertexUnknown.length);
    for (let i = 0; i < blocks.size; i++) {
      direction[2 * pattern.unknownVertex[i >> 1] + (i & 1)] = -solution[i];
      slope -= (target.gradient[i] + force[i]) * solution[i];
    }
    return direction;
  });
  return { directions, slope };
}

/** λ of (C H⁻¹ Cᵀ + D) λ = c − C H⁻¹ g. */
function solveCouplings(parts: readonly PatchPart[], mismatch: F64, softness: F64): F64 {
  const count = mismatch.length;
  if (count === 0) return new Float64Array(0);
  const row: number[] = [];
  const column: number[] = [];
  const value: number[] = [];
  const right = Float64Array.from(mismatch);
  for (let s = 0; s < count; s++) {
    row.push(s);
    column.push(s);
    value.push(softness[s]);
  }
  for (const { couplings, compliance, freeMove } of parts) {
    for (let i = 0; i < couplings.length; i++) {
      right[couplings[i]] -= freeMove[i];
      for (let k = 0; k <= i; k++) {
        row.push(couplings[i]);
        column.push(couplings[k]);
        value.push((compliance[i * couplings.length + k] + compliance[k * couplings.length + i]) / 2);
      }
    }
  }
  const matrix = sumEntries(prepareAssembly(count, Uint32Array.from(row), Uint32Array.from(column)), Float64Array.from(value));
  const solver = prepareSolverNow(matrix);
  solver.factorNow(matrix);
  return solver.solve(right).real;
}
