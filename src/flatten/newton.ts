/*
 * Newton's method on a stretch energy of one patch, never leaving the maps without flips.
 * Each step solves (H + εI) d = −g by one sparse factorisation of 2n real unknowns, goes at most 0.9 of the way to the first flip, and
 * halves until the energy has fallen by a fair share of what the slope promises [nocedal2006 §3.1]. Near the optimum the exact Hessian is
 * tried (quadratic convergence); where it is not positive definite the projected one takes its place.
 * ε is 1e-11 of the mean diagonal: H has the three rigid motions in its kernel, g is at right angles to them, so they stay out of d.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { newtonTolerance } from '../base/tolerance.ts';
import type { PreparedSolver } from '../linalg/cholesky.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import type { BlockPattern } from '../mesh/block-pattern.ts';
import { blockPattern } from '../mesh/block-pattern.ts';
import type { EdgePattern } from '../mesh/cotangent.ts';
import { edgePattern } from '../mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { unknownPositions } from './conformal.ts';
import { faceFrames, frameArea } from './face-frames.ts';
import { stepLimit } from './step-limit.ts';
import type { Density, EnergyTarget } from './stretch-energy.ts';
import { assembleEnergyInto, stretchEnergy } from './stretch-energy.ts';

/** A patch prepared for Newton steps: pattern, frames, analysed solver, and scratch that the steps write into. */
export interface NewtonSystem {
  readonly faces: U32;
  readonly frames: F64;
  readonly pattern: EdgePattern;
  readonly blocks: BlockPattern;
  readonly solver: PreparedSolver;
  readonly target: EnergyTarget;
  /** Surface area, squared unit of the mesh: energies are judged relative to it. */
  readonly area: number;
}

export interface NewtonResult {
  readonly positions: Float64Array;
  /** Energy over the surface area; of the symmetric Dirichlet energy the excess over 4. */
  readonly energy: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/** Analyses a patch for Newton steps. */
export async function prepareNewton(mesh: HalfEdgeMesh, run: Run): Promise<NewtonSystem> {
  const pattern = edgePattern(mesh, mesh.positions.length / 3, []);
  const blocks = blockPattern(pattern);
  const hessian = new Float64Array(blocks.row.length);
  const { size, columnStart, row } = blocks;
  const positions = unknownPositions(mesh, pattern);
  const solver = await prepareSolver({ size, columnStart, row, real: hessian }, { positions, dimension: 3, blockSize: 2 }, run);
  const frames = faceFrames(mesh);
  const target = { hessian, gradient: new Float64Array(size) };
  return { faces: mesh.faces, frames, pattern, blocks, solver, target, area: frameArea(frames) };
}

/**
 * Newton steps to convergence.
 * @param start plane positions without flips, shape 2·n
 * @returns the last map; `converged` is false where `limit` steps were not enough
 * @throws flatten/flipped-start if the start has a flip
 */
export async function newtonSteps(system: NewtonSystem, start: F64, density: Density, limit: number, run: Run): Promise<NewtonResult> {
  const { faces, frames, area } = system;
  const plane = Float64Array.from(start);
  const direction = new Float64Array(plane.length);
  const trial = new Float64Array(plane.length);
  let isProjected = true;
  let energy = stretchEnergy(faces, frames, plane, density);
  if (!(energy < Infinity)) throw flippedStart();
  for (let iterations = 0; iterations < limit; iterations++) {
    await run.breathe();
    isProjected = await assembleAndFactor(system, plane, density, isProjected, run);
    const decrement = solveInto(direction, system);
    if (!(decrement > 0)) return { positions: plane, energy: energy / area, iterations, converged: true };
    // What tolerances are shares of: the whole symmetric Dirichlet energy, 4 a unit of area and more, or the exponential one.
    const scale = density.kind === 'symmetric-dirichlet' ? 4 * area + energy : energy;
    const step = searchInto(trial, system, { plane, direction, energy, decrement, scale }, density);
    if (step.length === 0)
      return { positions: plane, energy: energy / area, iterations, converged: decrement <= newtonTolerance.stalled * scale };
    plane.set(trial);
    energy = step.energy;
    const isSmall = decrement <= newtonTolerance.decrement * scale;
    if (isSmall && step.length === 1) return { positions: plane, energy: energy / area, iterations: iterations + 1, converged: true };
    isProjected = decrement > newtonTolerance.exactFrom * scale;
  }
  return { positions: plane, energy: energy / area, iterations: limit, converged: false };
}

function flippedStart(): Failure {
  return new Failure(
    'flatten/flipped-start',
    'The start has faces that are turned over.',
    { stage: 'flatten' },
    'Start without one: Plastron finds its own.',
  );
}

/**
 * Gradient and Hessian at a map, factored with a small shift. An exact Hessian that is not positive definite is assembled again, projected.
 * @returns whether the factored one is the projected one
 */
export async function assembleAndFactor(
  system: NewtonSystem,
  plane: F64,
  density: Density,
  isProjected: boolean,
  run: Run,
): Promise<boolean> {
  assembleEnergyInto(system.target, system, plane, density, isProjected);
  const { blocks, pattern, target, solver } = system;
  const { size, columnStart, row } = blocks;
  const matrix = { size, columnStart, row, real: target.hessian };
  let shift = newtonTolerance.shift * meanDiagonal(system);
  for (let attempt = 0; ; attempt++) {
    for (let j = 0; j < pattern.size; j++) {
      const q = pattern.columnStart[j];
      target.hessian[blocks.first[q]] += shift;
      target.hessian[blocks.second[q]] += shift;
    }
    try {
      await solver.factor(matrix, run);
      return isProjected;
    } catch (error) {
      if (!(error instanceof Failure) || error.code !== 'linalg/not-positive-definite' || attempt > 6) throw error;
      if (!isProjected) {
        isProjected = true;
        assembleEnergyInto(target, system, plane, density, true);
      } else shift *= 100;
    }
  }
}

function meanDiagonal(system: NewtonSystem): number {
  const { blocks, pattern, target } = system;
  let sum = 0;
  for (let j = 0; j < pattern.size; j++) {
    const q = pattern.columnStart[j];
    sum += target.hessian[blocks.first[q]] + target.hessian[blocks.second[q]];
  }
  return sum / blocks.size;
}

/** d = −H⁻¹ g into `direction` (by vertex); returns the squared Newton decrement −g·d. */
function solveInto(direction: Float64Array, system: NewtonSystem): number {
  const { pattern, target, solver } = system;
  const { gradient } = target;
  const solution = solver.solve(gradient).real;
  let decrement = 0;
  for (let i = 0; i < pattern.size; i++) {
    const v = pattern.unknownVertex[i];
    direction[2 * v] = -solution[2 * i];
    direction[2 * v + 1] = -solution[2 * i + 1];
    decrement += gradient[2 * i] * solution[2 * i] + gradient[2 * i + 1] * solution[2 * i + 1];
  }
  return decrement;
}

/** Share of the fall that the slope promises which a step must reach. */
const sufficientFall = 1 / 10000;

interface SearchState {
  readonly plane: F64;
  readonly direction: F64;
  readonly energy: number;
  readonly decrement: number;
  readonly scale: number;
}

/** Backtracking along the direction; writes the map found into `trial`. Length 0: no fall within rounding. */
function searchInto(
  trial: Float64Array,
  system: NewtonSystem,
  state: SearchState,
  density: Density,
): { readonly length: number; readonly energy: number } {
  const { faces, frames } = system;
  const { plane, direction, energy, decrement, scale } = state;
  let length = Math.min(1, 0.9 * stepLimit(faces, plane, direction));
  for (let halvings = 0; halvings < 40; halvings++) {
    for (let i = 0; i < trial.length; i++) trial[i] = plane[i] + length * direction[i];
    const reached = stretchEnergy(faces, frames, trial, density);
    if (reached <= energy - sufficientFall * length * decrement) return { length, energy: reached };
    // Within rounding of the optimum a full step may not show a fall; it is taken if it shows no rise either.
    if (length === 1 && decrement <= newtonTolerance.stalled * scale && reached <= energy + newtonTolerance.stalled * scale)
      return { length, energy: Math.min(energy, reached) };
    length /= 2;
  }
  return { length: 0, energy };
}
