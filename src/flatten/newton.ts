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
  /** Two unknown vertices far apart in space, where rigid motions are held. */
  readonly anchors: readonly [number, number];
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
  return { faces: mesh.faces, frames, pattern, blocks, solver, target, anchors: farApart(positions), area: frameArea(frames) };
}

/** Two points far apart: the farthest from the first, and the farthest from that. */
function farApart(positions: F64): readonly [number, number] {
  const farthestFrom = (i: number): number => {
    let [best, largest] = [0, -1];
    for (let j = 0; j < positions.length; j += 3) {
      const x = positions[j] - positions[3 * i];
      const y = positions[j + 1] - positions[3 * i + 1];
      const z = positions[j + 2] - positions[3 * i + 2];
      const squared = x * x + y * y + z * z;
      if (squared > largest) [best, largest] = [j / 3, squared];
    }
    return best;
  };
  const one = farthestFrom(0);
  return [one, farthestFrom(one)];
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
  let exactBelow: number = newtonTolerance.exactFrom;
  let energy = stretchEnergy(faces, frames, plane, density);
  if (!(energy < Infinity)) throw flippedStart();
  for (let iterations = 0; iterations < limit; iterations++) {
    await run.breathe();
    const hasTriedExact = !isProjected;
    isProjected = await assembleAndFactor(system, plane, density, isProjected, run);
    const decrement = solveInto(direction, system);
    // An exact Hessian that failed is not tried again before the decrement has fallen to a quarter.
    if (hasTriedExact && isProjected) exactBelow = decrement / 4 / (4 * area);
    if (!isProjected) removeTurnInto(direction, plane);
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
    isProjected = decrement > exactBelow * scale;
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
    if (!isProjected) holdTurnInto(target.hessian, system, plane);
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

/**
 * Stiffens the exact Hessian against rigid motions, at two vertices far apart. It needs that: off the optimum the curvature along a turn iz is
 * Re z̄·g, negative as often as not, though no step wants to go that way. A stiffness that a rigid motion can satisfy changes no step but by
 * one.
 */
function holdTurnInto(hessian: Float64Array, system: NewtonSystem, plane: F64): void {
  const { pattern, blocks, anchors } = system;
  const stiffness = meanDiagonal(system);
  const [a, b] = anchors.map((i) => pattern.unknownVertex[i]);
  const x = plane[2 * b] - plane[2 * a];
  const y = plane[2 * b + 1] - plane[2 * a + 1];
  const square = x * x + y * y;
  const first = pattern.columnStart[anchors[0]];
  hessian[blocks.first[first]] += stiffness;
  hessian[blocks.second[first]] += stiffness;
  const second = pattern.columnStart[anchors[1]];
  hessian[blocks.first[second]] += (stiffness * y * y) / square;
  hessian[blocks.first[second] + 1] -= (stiffness * x * y) / square;
  hessian[blocks.second[second]] += (stiffness * x * x) / square;
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

/** Takes the mean motion and the mean turn about the middle out of a direction: neither changes the energy. */
function removeTurnInto(direction: Float64Array, plane: F64): void {
  const n = plane.length / 2;
  let [px, py, dx, dy] = [0, 0, 0, 0];
  for (let i = 0; i < plane.length; i += 2) {
    px += plane[i] / n;
    py += plane[i + 1] / n;
    dx += direction[i] / n;
    dy += direction[i + 1] / n;
  }
  let [turn, size] = [0, 0];
  for (let i = 0; i < plane.length; i += 2) {
    const [x, y] = [plane[i] - px, plane[i + 1] - py];
    turn += x * (direction[i + 1] - dy) - y * (direction[i] - dx);
    size += x * x + y * y;
  }
  for (let i = 0; i < plane.length; i += 2) {
    direction[i] -= dx - (turn / size) * (plane[i + 1] - py);
    direction[i + 1] -= dy + (turn / size) * (plane[i] - px);
  }
}

/** Share of the fall that the slope promises which a step must reach. */
const sufficientFall = 1 / 10000;
/** A full step that leaves less than this share of the energy is lengthened. */
const farFall = 0.7;

interface SearchState {
  readonly plane: F64;
  readonly direction: F64;
  readonly energy: number;
  readonly decrement: number;
  readonly scale: number;
}

/**
 * The line search; writes the map found into `trial`. Length 0: no fall within rounding.
 * Backtracking from 1, or from 0.9 of the way to the first flip. Where a full step leaves less than 0.7 of the energy the map is still far
 * squeezed together (σ⁻² falls by 1.77 a step, however far off it is): the step is then doubled for as long as that helps.
 */
function searchInto(
  trial: Float64Array,
  system: NewtonSystem,
  state: SearchState,
  density: Density,
): { readonly length: number; readonly energy: number } {
  const { faces, frames } = system;
  const { plane, direction, energy, decrement, scale } = state;
  const energyAt = (length: number): number => {
    for (let i = 0; i < trial.length; i++) trial[i] = plane[i] + length * direction[i];
    return stretchEnergy(faces, frames, trial, density);
  };
  const limit = 0.9 * stepLimit(faces, plane, direction);
  let length = Math.min(1, limit);
  for (let halvings = 0; halvings < 40; halvings++) {
    const reached = energyAt(length);
    if (reached <= energy - sufficientFall * length * decrement) {
      if (length === 1 && reached < farFall * energy && decrement > newtonTolerance.exactFrom * scale)
        return lengthen(energyAt, length, reached, limit);
      return { length, energy: reached };
    }
    // Within rounding of the optimum a full step may not show a fall; it is taken if it shows no rise either.
    if (length === 1 && decrement <= newtonTolerance.stalled * scale && reached <= energy + newtonTolerance.stalled * scale)
      return { length, energy: Math.min(energy, reached) };
    length /= 2;
  }
  return { length: 0, energy };
}

/** Doubles a step while the energy falls; leaves the best map in the trial of `energyAt`. */
function lengthen(
  energyAt: (length: number) => number,
  first: number,
  reached: number,
  limit: number,
): { readonly length: number; readonly energy: number } {
  let [length, best] = [first, reached];
  while (2 * length <= limit) {
    const next = energyAt(2 * length);
    if (!(next < best)) break;
    length *= 2;
    best = next;
  }
  energyAt(length);
  return { length, energy: best };
}
