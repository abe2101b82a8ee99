/*
 * The prepared solver: A = L Lᴴ of a sparse symmetric or Hermitian positive definite matrix, analysed once, factored as often as the
 * numbers change, solved as often as right-hand sides come.
 *
 * Supernodal multifrontal factorisation over a nested dissection. What makes it fast is the form that it is given: a conformal system as one
 * complex unknown a vertex takes half the work of two real ones, and a front stays real until an imaginary entry (a rim edge) enters its
 * subtree. Same input, same bits, in every engine and with or without WebAssembly.
 */
import type { F64 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import { quietRun } from '../base/run.ts';
import type { Run } from '../base/run.ts';
import { pivotShare } from '../base/tolerance.ts';
import { frontRuns, frontTreeOf, layOut, planFronts, writeTablesInto } from './front-plan.ts';
import type { FrontPlan, FrontTree, Layout } from './front-plan.ts';
import { createKernelMemory, kernelWorkBytes, mostBytes } from './kernel-memory.ts';
import type { KernelMemory } from './kernel-memory.ts';
import { orderPattern } from './ordering.ts';
import type { OwnVector, SparseMatrix, Vector } from './sparse.ts';
import { finish, finishBreathing } from './steps.ts';
import { findSupernodes } from './supernodes.ts';

/** What helps the analysis. */
export interface SolverOptions {
  /** Positions of the vertices, shape dimension · size / blockSize; only their neighbourhoods matter, not their unit. */
  readonly positions?: F64;
  /** Coordinates a position; default 3. */
  readonly dimension?: 2 | 3;
  /** Unknowns a vertex, interleaved (x0 y0 x1 y1 …); default 1. */
  readonly blockSize?: 1 | 2;
  /** Kernels in WebAssembly (default, where there is any) or in plain arrays; the results are the same bits. */
  readonly kernel?: 'wasm' | 'plain';
  /** Most memory that a factorisation may take, bytes; default and at most 4 GiB. */
  readonly mostBytes?: number;
  /** A solver that is no longer needed: its memory is used again instead of new one, which saves the first touch of every page. */
  readonly successorOf?: PreparedSolver;
}

/** What the analysis found. */
export interface SolverFacts {
  readonly size: number;
  /** Entries of L, explicit noughts included; a complex entry counts once. */
  readonly nonzeros: number;
  /** Real multiplications and additions of one factorisation. */
  readonly flops: number;
  /** Memory of a factorisation, bytes: L, the update matrices at their most, tables and vectors. */
  readonly bytes: number;
  readonly fronts: number;
  readonly ordering: 'dissection' | 'minimum-degree';
}

/**
 * Analyses the pattern of a matrix: order, fronts, room for the factor. Of its numbers only the imaginary parts count, as nought or not:
 * they say which fronts are complex. (A later matrix with imaginary parts elsewhere is planned anew by itself.)
 * @param pattern lower triangle; every later matrix has the same columns and rows.
 * @throws linalg/too-large before any of the factor's memory is asked for; run/stopped
 */
export async function prepareSolver(pattern: SparseMatrix, options: SolverOptions = {}, run: Run = quietRun): Promise<PreparedSolver> {
  return finishBreathing(analyse(pattern, options), run);
}

/** The same without a breath, for small systems. */
export function prepareSolverNow(pattern: SparseMatrix, options: SolverOptions = {}): PreparedSolver {
  return finish(analyse(pattern, options));
}

function* analyse(pattern: SparseMatrix, options: SolverOptions): Generator<void, PreparedSolver> {
  const { positions, dimension = 3, blockSize = 1 } = options;
  if (pattern.size % blockSize !== 0) throw new RangeError(`${pattern.size} unknowns do not make blocks of ${blockSize}`);
  const { graph, vertexOf, order, method } = yield* orderPattern(pattern, blockSize, positions, dimension);
  const supernodes = yield* findSupernodes(graph, order);
  const tree = frontTreeOf(pattern, blockSize, supernodes, vertexOf);
  yield;
  return new PreparedSolver(tree, planRoom(tree, pattern.imaginary, options.mostBytes ?? mostBytes), method, options);
}

/** A plan with its layout. */
interface Room {
  readonly plan: FrontPlan;
  readonly layout: Layout;
  /** Where each run of fronts ends that is eliminated at once. */
  readonly ends: readonly number[];
  readonly limit: number;
}

function planRoom(tree: FrontTree, imaginary: F64 | undefined, limit: number): Room {
  const plan = planFronts(tree, imaginary);
  const { ends, mostEntries } = frontRuns(tree, plan);
  const layout = layOut(tree, plan, kernelWorkBytes, mostEntries);
  const most = Math.min(limit, mostBytes);
  if (layout.bytes > most) throw tooLarge(tree.size, layout.bytes, most);
  return { plan, layout, ends, limit };
}

/** Memory grows a little faster than the size (n log n); a tenth of margin covers it. */
function tooLarge(size: number, bytes: number, most: number): Failure {
  const fitting = Math.floor((0.9 * size * most) / bytes);
  let digits = 1;
  while (fitting >= 100 * digits) digits *= 10;
  return new Failure(
    'linalg/too-large',
    `A system of ${size} unknowns would take ${Math.ceil(bytes / 1e6)} MB; ${Math.floor(most / 1e6)} MB are to be had.`,
    { stage: 'linalg' },
    `Use a coarser mesh: about ${Math.floor(fitting / digits) * digits} unknowns would fit.`,
  );
}

/** A matrix analysed and, once `factor` has run, ready to solve. */
export class PreparedSolver {
  readonly #tree: FrontTree;
  readonly #ordering: SolverFacts['ordering'];
  readonly #kernelName: 'wasm' | 'plain';
  #room: Room;
  #memory: KernelMemory | undefined;
  #isFactored = false;

  /** Made by `prepareSolver`. */
  constructor(tree: FrontTree, room: Room, ordering: SolverFacts['ordering'], options: SolverOptions) {
    this.#tree = tree;
    this.#room = room;
    this.#ordering = ordering;
    this.#kernelName = options.kernel ?? 'wasm';
    const { successorOf } = options;
    if (successorOf !== undefined) this.#memory = successorOf.#release();
  }

  /** Facts of the plan in force. */
  get facts(): SolverFacts {
    const { plan, layout } = this.#room;
    const { size, count } = this.#tree;
    return { size, nonzeros: plan.nonzeros, flops: plan.flops, bytes: layout.bytes, fronts: count, ordering: this.#ordering };
  }

  /**
   * Factors a matrix of the analysed pattern. Left without an imaginary part, the matrix is factored as a real one in a quarter of the time.
   * @throws linalg/not-positive-definite naming the unknown in `where.item`; linalg/too-large; run/stopped. After any of these the solver
   * holds no factor.
   */
  async factor(matrix: SparseMatrix, run: Run = quietRun): Promise<void> {
    await finishBreathing(this.#eliminate(matrix), run);
  }

  /** The same without a breath. */
  factorNow(matrix: SparseMatrix): void {
    finish(this.#eliminate(matrix));
  }

  /**
   * Solves A x = b. Of a real matrix, `real` and `imaginary` are two right-hand sides solved at once.
   * @param real shape size. @param imaginary shape size; left out, nought.
   */
  solve(real: F64, imaginary?: F64): OwnVector {
    const target = { real: new Float64Array(this.#tree.size), imaginary: new Float64Array(this.#tree.size) };
    this.solveInto(target, imaginary === undefined ? { real } : { real, imaginary });
    return target;
  }

  /** Solves A x = b into arrays that the caller owns; `target` may hold the arrays of `source`. */
  solveInto(target: { readonly real: Float64Array; readonly imaginary: Float64Array }, source: Vector): void {
    const memory = this.#memory;
    if (!this.#isFactored || memory === undefined) throw new TypeError('The solver was asked to solve before it held a factor.');
    const { size, newToOld, count } = this.#tree;
    const { layout } = this.#room;
    const xReal = new Float64Array(memory.buffer, layout.xReal, size);
    const xImaginary = new Float64Array(memory.buffer, layout.xImaginary, size);
    const { real, imaginary } = source;
    for (let i = 0; i < size; i++) xReal[i] = real[newToOld[i]];
    if (imaginary === undefined) xImaginary.fill(0);
    else for (let i = 0; i < size; i++) xImaginary[i] = imaginary[newToOld[i]];
    memory.kernel.forward(layout.table, count);
    memory.kernel.backward(layout.table, count);
    for (let i = 0; i < size; i++) {
      target.real[newToOld[i]] = xReal[i];
      target.imaginary[newToOld[i]] = xImaginary[i];
    }
  }

  /** Solves for several right-hand sides. Of a real matrix, sides without an imaginary part go by two. */
  solveMany(sources: readonly Vector[]): OwnVector[] {
    const solutions: OwnVector[] = [];
    const isReal = !this.#room.plan.isComplex.includes(1);
    for (let k = 0; k < sources.length; k++) {
      const [one, two] = [sources[k], sources[k + 1] as Vector | undefined];
      if (!isReal || one.imaginary !== undefined || two === undefined || two.imaginary !== undefined) {
        solutions.push(this.solve(one.real, one.imaginary));
        continue;
      }
      const both = this.solve(one.real, two.real);
      solutions.push({ real: both.real, imaginary: new Float64Array(one.real.length) });
      solutions.push({ real: both.imaginary, imaginary: new Float64Array(one.real.length) });
      k++;
    }
    return solutions;
  }

  /** Lets the factor's memory go. The solver may factor again. */
  dispose(): void {
    this.#release();
  }

  #release(): KernelMemory | undefined {
    const memory = this.#memory;
    this.#memory = undefined;
    this.#isFactored = false;
    return memory;
  }

  *#eliminate(matrix: SparseMatrix): Generator<void, void> {
    const tree = this.#tree;
    if (matrix.row.length !== tree.entryRow.length) throw new RangeError('The matrix has another pattern than the one analysed.');
    this.#isFactored = false;
    const memory = this.#prepareMemory(matrix);
    const { layout, ends, plan } = this.#room;
    const { first, entryStart, entrySource } = tree;
    const real = new Float64Array(memory.buffer, layout.valuesReal);
    const imaginary = new Float64Array(memory.buffer, layout.valuesImaginary);
    let from = 0;
    for (const to of ends) {
      const base = entryStart[first[from]];
      gatherInto({ real, imaginary }, matrix, entrySource.subarray(base, entryStart[first[to]]));
      const fault = memory.kernel.eliminate(layout.table, from, to, base, pivotShare);
      if (fault >= 0) throw this.#notPositiveDefinite(fault, memory, plan);
      from = to;
      yield;
    }
    this.#isFactored = true;
  }

  /** Sees to it that plan and memory fit the matrix. */
  #prepareMemory(matrix: SparseMatrix): KernelMemory {
    const tree = this.#tree;
    let isFresh = false;
    if (!coversImaginary(tree, this.#room.plan, matrix.imaginary)) {
      this.#room = planRoom(tree, matrix.imaginary, this.#room.limit);
      isFresh = true;
    }
    const { plan, layout } = this.#room;
    let memory = this.#memory;
    if (memory === undefined || memory.buffer.byteLength < layout.bytes) {
      this.#memory = undefined;
      memory = createKernelMemory(layout.bytes, this.#kernelName);
      isFresh = true;
    }
    if (isFresh || this.#memory !== memory) writeTablesInto(memory.buffer, tree, plan, layout);
    this.#memory = memory;
    return memory;
  }

  #notPositiveDefinite(column: number, memory: KernelMemory, plan: FrontPlan): Failure {
    const { first, newToOld, rowStart } = this.#tree;
    let front = 0;
    while (first[front + 1] <= column) front++;
    const width = first[front + 1] - first[front];
    const height = width + ((rowStart[front + 1] - rowStart[front] + 3) & ~3);
    const j = column - first[front];
    const place = plan.panelPlace[front] + j * height + j;
    const pivot = new Float64Array(memory.buffer, this.#room.layout.panels)[place];
    return new Failure(
      'linalg/not-positive-definite',
      `The system is not positive definite: its pivot at unknown ${newToOld[column]} is ${pivot}.`,
      { stage: 'linalg', item: String(newToOld[column]) },
      'Look for faces without area, for a piece that nothing pins, or for a vertex that no face uses.',
    );
  }
}

/** Copies the numbers of some entries, conjugated where they changed sides of the diagonal. */
function gatherInto(target: { real: Float64Array; imaginary: Float64Array }, matrix: SparseMatrix, sources: Int32Array): void {
  const { real, imaginary } = matrix;
  const a = target.real;
  const b = target.imaginary;
  for (let k = 0; k < sources.length; k++) {
    const s = sources[k];
    a[k] = real[s < 0 ? ~s : s];
  }
  if (imaginary === undefined) return;
  for (let k = 0; k < sources.length; k++) {
    const s = sources[k];
    b[k] = s < 0 ? -imaginary[~s] : imaginary[s];
  }
}

/** Whether every imaginary entry lies in a complex front, and a real matrix has no complex one. */
function coversImaginary(tree: FrontTree, plan: FrontPlan, imaginary: F64 | undefined): boolean {
  if (imaginary === undefined) return !plan.isComplex.includes(1);
  const { count, first, entryStart, entrySource } = tree;
  for (let f = 0; f < count; f++) {
    if (plan.isComplex[f] === 1) continue;
    for (let q = entryStart[first[f]], stop = entryStart[first[f + 1]]; q < stop; q++) {
      const s = entrySource[q];
      if (imaginary[s < 0 ? ~s : s] !== 0) return false;
    }
  }
  return true;
}
