/*
 * The prepared solver: A = L Lᴴ of a sparse symmetric or Hermitian positive definite matrix, analysed once, factored as often as the
 * numbers change, solved as often as right-hand sides come.
 */
import type { F64 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import { quietRun } from '../base/run.ts';
import type { Run } from '../base/run.ts';
import type { OwnVector, SparseMatrix, Vector } from './sparse.ts';

/** What helps the analysis. */
export interface SolverOptions {
  /** Positions of the vertices, shape dimension · size / blockSize; only their neighbourhoods matter, not their unit. */
  readonly positions?: F64;
  /** Coordinates a position; default 3. */
  readonly dimension?: 2 | 3;
  /** Unknowns a vertex, interleaved (x0 y0 x1 y1 …); default 1. */
  readonly blockSize?: 1 | 2;
}

/** What the analysis found. */
export interface SolverFacts {
  readonly size: number;
  /** Entries of L, explicit noughts included; a complex entry counts once. */
  readonly nonzeros: number;
  /** Real multiplications and additions of one factorisation. */
  readonly flops: number;
  /** Memory that the factor takes, bytes. */
  readonly bytes: number;
}

/**
 * Analyses the pattern of a matrix: ordering, elimination tree, room for the factor. No number of the matrix but its zeros is used.
 * @param pattern lower triangle; every later matrix has the same columns and rows.
 * @throws linalg/too-large, run/stopped
 */
export async function prepareSolver(pattern: SparseMatrix, options: SolverOptions = {}, run: Run = quietRun): Promise<PreparedSolver> {
  run.checkStopped();
  return prepareSolverNow(pattern, options);
}

/** The same without a breath, for small systems. */
export function prepareSolverNow(pattern: SparseMatrix, options: SolverOptions = {}): PreparedSolver {
  return new PreparedSolver(analyse(pattern, options));
}

/** A matrix analysed, and once `factor` has run, ready to solve. */
export class PreparedSolver {
  readonly facts: SolverFacts;
  readonly #analysis: Analysis;
  #factor: { readonly real: Float64Array; readonly imaginary: Float64Array } | undefined;

  constructor(analysis: Analysis) {
    this.#analysis = analysis;
    this.facts = analysis.facts;
  }

  /**
   * Factors a matrix of the analysed pattern.
   * @throws linalg/not-positive-definite naming the unknown in `where.item`; run/stopped. After either the solver holds no factor.
   */
  async factor(matrix: SparseMatrix, run: Run = quietRun): Promise<void> {
    run.checkStopped();
    this.factorNow(matrix);
  }

  /** The same without a breath. */
  factorNow(matrix: SparseMatrix): void {
    this.#factor = undefined;
    this.#factor = factorise(this.#analysis, matrix);
  }

  /**
   * Solves A x = b. Of a real matrix, `real` and `imaginary` are two right-hand sides solved at once.
   * @param real shape size. @param imaginary shape size; left out, nought.
   */
  solve(real: F64, imaginary?: F64): OwnVector {
    const target = { real: new Float64Array(this.facts.size), imaginary: new Float64Array(this.facts.size) };
    this.solveInto(target, imaginary === undefined ? { real } : { real, imaginary });
    return target;
  }

  /** Solves A x = b into arrays that the caller owns; `target` may hold the arrays of `source`. */
  solveInto(target: { readonly real: Float64Array; readonly imaginary: Float64Array }, source: Vector): void {
    if (this.#factor === undefined) throw new TypeError('The solver was asked to solve before it held a factor.');
    solveFactored(this.#analysis, this.#factor, target, source);
  }

  /** Solves for several right-hand sides, one after another. */
  solveMany(sources: readonly Vector[]): OwnVector[] {
    return sources.map((source) => this.solve(source.real, source.imaginary));
  }

  /** Lets the factor's memory go; the solver may factor again. */
  dispose(): void {
    this.#factor = undefined;
  }
}

/** Order, tree and room of one pattern. */
export interface Analysis {
  readonly facts: SolverFacts;
  readonly newToOld: Uint32Array;
  readonly oldToNew: Uint32Array;
  readonly parent: Int32Array;
  readonly columnStart: Float64Array;
  readonly row: Uint32Array;
  /** Upper triangle of the renumbered pattern: for each column, sources in the given matrix; negative ones (~q) are conjugated. */
  readonly upperStart: Uint32Array;
  readonly upperRow: Uint32Array;
  readonly upperSource: Int32Array;
}

function analyse(pattern: SparseMatrix, options: SolverOptions): Analysis {
  const { size } = pattern;
  const newToOld = orderUnknowns(pattern, options);
  const oldToNew = new Uint32Array(size);
  for (let i = 0; i < size; i++) oldToNew[newToOld[i]] = i;
  const upperStart = new Uint32Array(size + 1);
  for (let j = 0; j < size; j++) {
    for (let q = pattern.columnStart[j]; q < pattern.columnStart[j + 1]; q++)
      upperStart[Math.max(oldToNew[j], oldToNew[pattern.row[q]]) + 1]++;
  }
  for (let j = 0; j < size; j++) upperStart[j + 1] += upperStart[j];
  const next = upperStart.slice();
  const upperRow = new Uint32Array(pattern.row.length);
  const upperSource = new Int32Array(pattern.row.length);
  for (let j = 0; j < size; j++) {
    for (let q = pattern.columnStart[j]; q < pattern.columnStart[j + 1]; q++) {
      const a = oldToNew[pattern.row[q]];
      const b = oldToNew[j];
      const place = next[Math.max(a, b)]++;
      upperRow[place] = Math.min(a, b);
      upperSource[place] = a > b ? ~q : q;
    }
  }
  const { parent, counts } = treeAndCounts(size, upperStart, upperRow);
  const columnStart = new Float64Array(size + 1);
  let flops = 0;
  for (let j = 0; j < size; j++) {
    columnStart[j + 1] = columnStart[j] + counts[j];
    flops += counts[j] * counts[j];
  }
  const nonzeros = columnStart[size];
  const facts = { size, nonzeros, flops, bytes: nonzeros * 20 };
  return { facts, newToOld, oldToNew, parent, columnStart, row: new Uint32Array(nonzeros), upperStart, upperRow, upperSource };
}

function treeAndCounts(size: number, upperStart: Uint32Array, upperRow: Uint32Array): { parent: Int32Array; counts: Uint32Array } {
  const parent = new Int32Array(size).fill(-1);
  const mark = new Int32Array(size).fill(-1);
  const counts = new Uint32Array(size).fill(1);
  for (let k = 0; k < size; k++) {
    mark[k] = k;
    for (let q = upperStart[k]; q < upperStart[k + 1]; q++) {
      for (let i = upperRow[q]; mark[i] !== k; i = parent[i]) {
        if (parent[i] === -1) parent[i] = k;
        counts[i]++;
        mark[i] = k;
      }
    }
  }
  return { parent, counts };
}

/** Row after row of L (up-looking): row k solves L[0…k) lₖᴴ = aₖ over the reach of its entries in the elimination tree. */
function factorise(analysis: Analysis, matrix: SparseMatrix): { real: Float64Array; imaginary: Float64Array } {
  const { facts, parent, columnStart, row, upperStart, upperRow, upperSource, newToOld } = analysis;
  const size = facts.size;
  const real = new Float64Array(row.length);
  const imaginary = new Float64Array(row.length);
  const next = columnStart.slice();
  const mark = new Int32Array(size).fill(-1);
  const reach = new Uint32Array(size);
  const path = new Uint32Array(size);
  const xr = new Float64Array(size);
  const xi = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    let top = size;
    mark[k] = k;
    for (let q = upperStart[k]; q < upperStart[k + 1]; q++) {
      const source = upperSource[q];
      const i = upperRow[q];
      xr[i] = matrix.real[source < 0 ? ~source : source];
      const b = matrix.imaginary === undefined || i === k ? 0 : matrix.imaginary[source < 0 ? ~source : source];
      xi[i] = source < 0 ? -b : b;
      let length = 0;
      for (let u = i; mark[u] !== k; u = parent[u]) {
        path[length++] = u;
        mark[u] = k;
      }
      while (length > 0) reach[--top] = path[--length];
    }
    let pivot = xr[k];
    xr[k] = xi[k] = 0;
    for (; top < size; top++) {
      const i = reach[top];
      const start = columnStart[i];
      const inverse = 1 / real[start];
      const lr = xr[i] * inverse;
      const li = xi[i] * inverse;
      xr[i] = xi[i] = 0;
      const end = next[i];
      for (let q = start + 1; q < end; q++) {
        const u = row[q];
        xr[u] -= real[q] * lr - imaginary[q] * li;
        xi[u] -= real[q] * li + imaginary[q] * lr;
      }
      pivot -= lr * lr + li * li;
      row[end] = k;
      real[end] = lr;
      imaginary[end] = -li;
      next[i] = end + 1;
    }
    if (!(pivot > 0)) throw notPositiveDefinite(newToOld[k], pivot);
    row[next[k]] = k;
    real[next[k]++] = Math.sqrt(pivot);
  }
  return { real, imaginary };
}

function notPositiveDefinite(unknown: number, pivot: number): Failure {
  return new Failure(
    'linalg/not-positive-definite',
    `The system is not positive definite: its pivot at unknown ${unknown} is ${pivot}.`,
    { item: String(unknown) },
    'Look for faces without area, for a piece that nothing pins, or for a vertex that no face uses.',
  );
}

function solveFactored(
  analysis: Analysis,
  factor: { readonly real: Float64Array; readonly imaginary: Float64Array },
  target: { readonly real: Float64Array; readonly imaginary: Float64Array },
  source: Vector,
): void {
  const { facts, columnStart, row, newToOld } = analysis;
  const { real, imaginary } = factor;
  const xr = Float64Array.from(newToOld, (i) => source.real[i]);
  const xi = Float64Array.from(newToOld, (i) => (source.imaginary === undefined ? 0 : source.imaginary[i]));
  for (let j = 0; j < facts.size; j++) {
    xr[j] /= real[columnStart[j]];
    xi[j] /= real[columnStart[j]];
    for (let q = columnStart[j] + 1; q < columnStart[j + 1]; q++) {
      xr[row[q]] -= real[q] * xr[j] - imaginary[q] * xi[j];
      xi[row[q]] -= real[q] * xi[j] + imaginary[q] * xr[j];
    }
  }
  for (let j = facts.size - 1; j >= 0; j--) {
    for (let q = columnStart[j] + 1; q < columnStart[j + 1]; q++) {
      xr[j] -= real[q] * xr[row[q]] + imaginary[q] * xi[row[q]];
      xi[j] -= real[q] * xi[row[q]] - imaginary[q] * xr[row[q]];
    }
    xr[j] /= real[columnStart[j]];
    xi[j] /= real[columnStart[j]];
  }
  for (let i = 0; i < facts.size; i++) {
    target.real[newToOld[i]] = xr[i];
    target.imaginary[newToOld[i]] = xi[i];
  }
}

/** Recursive halving by position (or by distance from two far vertices), the cut's left bank last. */
function orderUnknowns(pattern: SparseMatrix, options: SolverOptions): Uint32Array {
  const { size, columnStart, row } = pattern;
  const block = options.blockSize ?? 1;
  const dimension = options.dimension ?? 3;
  const neighbours: number[][] = Array.from({ length: size }, () => []);
  for (let j = 0; j < size; j++) {
    for (let q = columnStart[j] + 1; q < columnStart[j + 1]; q++) {
      neighbours[j].push(row[q]);
      neighbours[row[q]].push(j);
    }
  }
  const key: (i: number, axis: number) => number =
    options.positions === undefined
      ? (
          (near) => (i: number) =>
            near[i]
        )(distances(neighbours))
      : (
          (positions) => (i: number, axis: number) =>
            positions[dimension * Math.floor(i / block) + axis]
        )(options.positions);
  const order: number[] = [];
  const side = new Int32Array(size);
  let stamp = 0;
  const divide = (items: number[]): void => {
    if (items.length <= 24) {
      order.push(...items);
      return;
    }
    let axis = 0;
    let widest = -1;
    for (let a = 0; a < (options.positions === undefined ? 1 : dimension); a++) {
      let low = Infinity;
      let high = -Infinity;
      for (const i of items) {
        low = Math.min(low, key(i, a));
        high = Math.max(high, key(i, a));
      }
      if (high - low > widest) {
        widest = high - low;
        axis = a;
      }
    }
    items.sort((p, q) => key(p, axis) - key(q, axis) || p - q);
    const middle = items.length >> 1;
    const mark = ++stamp;
    for (let k = middle; k < items.length; k++) side[items[k]] = mark;
    const left: number[] = [];
    const bank: number[] = [];
    for (let k = 0; k < middle; k++) (neighbours[items[k]].some((u) => side[u] === mark) ? bank : left).push(items[k]);
    divide(left);
    divide(items.slice(middle));
    order.push(...bank);
  };
  divide(Array.from({ length: size }, (_, i) => i));
  return Uint32Array.from(order);
}

function distances(neighbours: readonly (readonly number[])[]): Float64Array {
  const distance = new Float64Array(neighbours.length).fill(-1);
  let base = 0;
  for (let start = 0; start < neighbours.length; start++) {
    if (distance[start] >= 0) continue;
    let ring = [start];
    distance[start] = base;
    while (ring.length > 0) {
      base++;
      const outer: number[] = [];
      for (const i of ring) {
        for (const u of neighbours[i]) {
          if (distance[u] >= 0) continue;
          distance[u] = base;
          outer.push(u);
        }
      }
      ring = outer;
    }
  }
  return distance;
}
