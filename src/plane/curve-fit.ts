/*
 * Fair curves through dense polylines: chains of cubic Béziers by least squares with given end tangents and reparametrisation [schneider1990],
 * fitted to several polylines at once so that all have their knots at the same fractions (the two mates of a seam, their cut lines and bevels).
 * We depart from the source in three places: all targets share the knots; where a piece ends in a corner its control point is free instead of
 * guessed from a tangent; tangents at smooth knots are the slope of a least-squares line over a stated window, so that they see past noise.
 * Points 2·n, mm. A chain is 2·(3·m + 1) numbers: knot, control, control, knot, …
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { distanceToSegment, locate } from './polyline.ts';

/** A dense polyline with the fraction of its seam at each point (ascending); its ends need not be 0 and 1. */
export interface FitTarget {
  readonly points: F64;
  readonly fractions: F64;
  /** The polyline closes smoothly: first and last point agree and are no corner. */
  readonly closed?: boolean;
}

export interface FitOptions {
  /** Largest distance between a point and its curve, mm. */
  readonly toleranceMm: number;
  /** Half the window over which a tangent is taken, mm. */
  readonly tangentMm: number;
  /** Pieces are not split below this length, mm. */
  readonly leastPieceMm: number;
  /** Knots to start from, ascending fractions strictly between 0 and 1. */
  readonly knots: readonly number[];
  /** Knots at which the tangent may jump; a subset of `knots`. */
  readonly corners: readonly number[];
}

export const fitDefaults: FitOptions = { toleranceMm: 0.05, tangentMm: 5, leastPieceMm: 0.5, knots: [], corners: [] };

export interface ChainFit {
  /** Fraction at each knot of the chain; shape m + 1. */
  readonly knots: F64;
  readonly chain: F64;
  /** Largest distance between a point and its curve, mm. */
  readonly errorMm: number;
}

/** Direction at an end of a piece; absent: free. */
type Tangent = Vec2 | undefined;

interface Piece {
  readonly control: Float64Array;
  readonly errorMm: number;
  /** Fraction where the error is largest. */
  readonly worst: number;
}

/**
 * Chains of cubics, one a target, with common knots.
 * @returns in the order of the targets. A target whose own range starts or ends between two common knots gets an extra knot there.
 * @source [schneider1990] pp. 612–626. Cost: points × pieces in the worst case, points × log pieces as a rule.
 */
export function fitTogether(targets: readonly FitTarget[], options: Partial<FitOptions> = {}): ChainFit[] {
  const wanted: FitOptions = { ...fitDefaults, ...options };
  const first = Math.min(...targets.map(({ fractions }) => fractions[0]));
  const last = Math.max(...targets.map(({ fractions }) => fractions[fractions.length - 1]));
  const stops = [first, ...wanted.knots.filter((knot) => knot > first && knot < last), last];
  const inner: number[] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    splitUntilFair(targets, stops[i], stops[i + 1], wanted, inner, 0);
    if (i + 2 < stops.length) inner.push(stops[i + 1]);
  }
  return targets.map((target) => fitAt(target, inner, wanted));
}

/** Knots strictly between `from` and `to` that bring every target within tolerance, appended in order. */
function splitUntilFair(
  targets: readonly FitTarget[],
  from: number,
  to: number,
  options: FitOptions,
  knotsInto: number[],
  depth: number,
): void {
  let worst = { errorMm: options.toleranceMm, at: -1 };
  for (const target of targets) {
    const start = Math.max(from, target.fractions[0]);
    const end = Math.min(to, target.fractions[target.fractions.length - 1]);
    if (!(end > start)) continue;
    const points = cutOut(target, start, end);
    if (lengthOf(points.points) < 2 * options.leastPieceMm) continue;
    const piece = fitPiece(points, tangentAt(target, start, options), tangentAt(target, end, options));
    if (piece.errorMm > worst.errorMm)
      worst = { errorMm: piece.errorMm, at: Math.min(0.75, Math.max(0.25, (piece.worst - from) / (to - from))) };
  }
  if (worst.at < 0 || depth > 12) return;
  const middle = from + worst.at * (to - from);
  splitUntilFair(targets, from, middle, options, knotsInto, depth + 1);
  knotsInto.push(middle);
  splitUntilFair(targets, middle, to, options, knotsInto, depth + 1);
}

function fitAt(target: FitTarget, inner: readonly number[], options: FitOptions): ChainFit {
  const first = target.fractions[0];
  const last = target.fractions[target.fractions.length - 1];
  const knots = [first, ...inner.filter((knot) => knot > first && knot < last), last];
  const chain = new Float64Array(2 * (3 * (knots.length - 1) + 1));
  let errorMm = 0;
  for (let i = 0; i + 1 < knots.length; i++) {
    const piece = fitPiece(
      cutOut(target, knots[i], knots[i + 1]),
      tangentAt(target, knots[i], options),
      tangentAt(target, knots[i + 1], options),
    );
    chain.set(piece.control, 6 * i);
    errorMm = Math.max(errorMm, piece.errorMm);
  }
  return { knots: Float64Array.from(knots), chain, errorMm };
}

/** The part of a target between two fractions, ends interpolated. */
function cutOut(target: FitTarget, from: number, to: number): { readonly points: Float64Array; readonly fractions: Float64Array } {
  const { points, fractions } = target;
  const kept: number[] = [];
  const at: number[] = [];
  const push = (fraction: number): void => {
    const { index: i, share } = locate(fractions, fraction);
    kept.push(
      points[2 * i] + share * (points[2 * i + 2] - points[2 * i]),
      points[2 * i + 1] + share * (points[2 * i + 3] - points[2 * i + 1]),
    );
    at.push(fraction);
  };
  push(from);
  for (let i = locate(fractions, from).index; i < fractions.length && fractions[i] < to; i++) {
    if (fractions[i] <= from) continue;
    kept.push(points[2 * i], points[2 * i + 1]);
    at.push(fractions[i]);
  }
  push(to);
  return { points: Float64Array.from(kept), fractions: Float64Array.from(at) };
}

function lengthOf(points: F64): number {
  let sum = 0;
  for (let i = 2; i < points.length; i += 2) sum += Math.hypot(points[i] - points[i - 2], points[i + 1] - points[i - 1]);
  return sum;
}

/** Direction at a fraction; free at corners and at the ends of an open target. */
function tangentAt(target: FitTarget, fraction: number, options: FitOptions): Tangent {
  const { points, fractions } = target;
  const last = fractions.length - 1;
  const atEnd = fraction <= fractions[0] || fraction >= fractions[last];
  if (atEnd && target.closed !== true) return undefined;
  if (options.corners.includes(fraction)) return undefined;
  const { index, share } = locate(fractions, fraction);
  const x0 = points[2 * index] + share * (points[2 * index + 2] - points[2 * index]);
  const y0 = points[2 * index + 1] + share * (points[2 * index + 3] - points[2 * index + 1]);
  const { corners } = options;
  const low = Math.max(-Infinity, ...corners.filter((corner) => corner < fraction));
  const high = Math.min(Infinity, ...corners.filter((corner) => corner > fraction));
  const along: number[] = [0];
  const around: number[] = [x0, y0];
  const walk = (start: number, step: 1 | -1): void => {
    let [x, y, s] = [x0, y0, 0];
    for (let k = 0, i = start; k <= last && s < options.tangentMm; k++, i += step) {
      if (i < 0 || i > last) {
        if (target.closed !== true) return;
        i = i < 0 ? last - 1 : 1;
      }
      if (!atEnd && (fractions[i] < low || fractions[i] > high)) return;
      const length = Math.hypot(points[2 * i] - x, points[2 * i + 1] - y);
      // The window ends exactly at its width, inside an edge where need be, so that both halves weigh alike.
      const share = Math.min(1, (options.tangentMm - s) / Math.max(length, Number.MIN_VALUE));
      x += share * (points[2 * i] - x);
      y += share * (points[2 * i + 1] - y);
      s += share * length;
      along.push(step * s);
      around.push(x, y);
    }
  };
  walk(index + 1, 1);
  walk(share > 0 ? index : index - 1, -1);
  return slopeOf(along, around);
}

/** Unit slope of the least-squares line through points at arc lengths. */
function slopeOf(along: readonly number[], points: readonly number[]): Tangent {
  const n = along.length;
  let [sumS, sumX, sumY] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    sumS += along[i];
    sumX += points[2 * i];
    sumY += points[2 * i + 1];
  }
  let [dx, dy] = [0, 0];
  for (let i = 0; i < n; i++) {
    dx += (along[i] - sumS / n) * (points[2 * i] - sumX / n);
    dy += (along[i] - sumS / n) * (points[2 * i + 1] - sumY / n);
  }
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dx / length, dy / length] : undefined;
}

/**
 * One cubic with fixed ends: minimises Σ |B(tᵢ) − xᵢ|², B(t) = Σ_j B_j³(t) P_j. Unknown are α₁, α₂ of P₁ = P₀ + α₁·t̂₁, P₂ = P₃ − α₂·t̂₂ where the
 * tangents are given, or P₁, P₂ themselves where they are free. Parameters start as chord lengths and take Newton steps towards the nearest
 * points: t ← t − ((B − x)·B′)/(B′·B′ + (B − x)·B″).
 */
function fitPiece(target: { readonly points: F64; readonly fractions: F64 }, startTangent: Tangent, endTangent: Tangent): Piece {
  const { points, fractions } = target;
  const n = points.length / 2;
  const parameters = new Float64Array(n);
  for (let i = 1; i < n; i++)
    parameters[i] = parameters[i - 1] + Math.hypot(points[2 * i] - points[2 * i - 2], points[2 * i + 1] - points[2 * i - 1]);
  const length = parameters[n - 1];
  for (let i = 1; i < n; i++) parameters[i] = length > 0 ? parameters[i] / length : i / (n - 1);
  let control = solveControl(points, parameters, startTangent, endTangent, length);
  let judged = judge(points, parameters, control);
  let best = { control, ...judged };
  for (let round = 0; round < mostRounds && n > 3; round++) {
    parameters.set(nearerParameters(points, parameters, control));
    control = solveControl(points, parameters, startTangent, endTangent, length);
    const before = judged.squares;
    judged = judge(points, parameters, control);
    if (judged.errorMm < best.errorMm) best = { control, ...judged };
    if (!(judged.squares < leastGain * before)) break;
  }
  return { control: best.control, errorMm: best.errorMm, worst: fractions[best.worst] };
}

/** Alternating fit and reparametrisation converges linearly: rounds at most, and the share of the squares that a round must get below. */
const mostRounds = 40;
const leastGain = 0.95;

function solveControl(points: F64, parameters: F64, startTangent: Tangent, endTangent: Tangent, length: number): Float64Array {
  const n = parameters.length;
  const [x0, y0, x3, y3] = [points[0], points[1], points[2 * n - 2], points[2 * n - 1]];
  // Each unknown k moves P₁ or P₂ along a direction; a free end has two of them, the axes.
  const directions: { readonly onFirst: boolean; readonly x: number; readonly y: number }[] = [];
  const free = (onFirst: boolean): void => void directions.push({ onFirst, x: 1, y: 0 }, { onFirst, x: 0, y: 1 });
  if (startTangent === undefined) free(true);
  else directions.push({ onFirst: true, x: startTangent[0], y: startTangent[1] });
  if (endTangent === undefined) free(false);
  else directions.push({ onFirst: false, x: -endTangent[0], y: -endTangent[1] });
  // Base control points: a free end starts from the third of the chord, a tangent end from the end point itself.
  const base1: Vec2 = startTangent === undefined ? [x0 + (x3 - x0) / 3, y0 + (y3 - y0) / 3] : [x0, y0];
  const base2: Vec2 = endTangent === undefined ? [x3 - (x3 - x0) / 3, y3 - (y3 - y0) / 3] : [x3, y3];
  const size = directions.length;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 1; i + 1 < n; i++) {
    const t = parameters[i];
    const s = 1 - t;
    const [b0, b1, b2, b3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
    const restX = points[2 * i] - (b0 * x0 + b1 * base1[0] + b2 * base2[0] + b3 * x3);
    const restY = points[2 * i + 1] - (b0 * y0 + b1 * base1[1] + b2 * base2[1] + b3 * y3);
    for (let a = 0; a < size; a++) {
      const wa = directions[a].onFirst ? b1 : b2;
      right[a] += wa * (directions[a].x * restX + directions[a].y * restY);
      for (let c = 0; c < size; c++) {
        const wc = directions[c].onFirst ? b1 : b2;
        matrix[a * size + c] += wa * wc * (directions[a].x * directions[c].x + directions[a].y * directions[c].y);
      }
    }
  }
  // A whisper of regularisation settles the solution when there are too few points.
  for (let a = 0; a < size; a++) matrix[a * size + a] += regularisation;
  const solution = solveSmall(matrix, right, size);
  const control = Float64Array.of(x0, y0, base1[0], base1[1], base2[0], base2[1], x3, y3);
  for (let a = 0; a < size; a++) {
    const { onFirst, x, y } = directions[a];
    const tangent = onFirst ? startTangent : endTangent;
    // A handle that runs backwards or past the piece is replaced by a third of the length [schneider1990].
    const value = tangent !== undefined && !(solution[a] > 0.01 * length && solution[a] < length) ? length / 3 : solution[a];
    control[onFirst ? 2 : 4] += value * x;
    control[onFirst ? 3 : 5] += value * y;
  }
  return control;
}

/** Weight, in points, with which unknowns are drawn to their base values. */
const regularisation = 1 / 1024 / 1024;

/** Gaussian elimination with row pivots for at most four unknowns. */
function solveSmall(matrix: Float64Array, right: Float64Array, size: number): Float64Array {
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let r = column + 1; r < size; r++) if (Math.abs(matrix[r * size + column]) > Math.abs(matrix[pivot * size + column])) pivot = r;
    for (let c = 0; c < size; c++)
      [matrix[column * size + c], matrix[pivot * size + c]] = [matrix[pivot * size + c], matrix[column * size + c]];
    [right[column], right[pivot]] = [right[pivot], right[column]];
    for (let r = column + 1; r < size; r++) {
      const factor = matrix[r * size + column] / matrix[column * size + column];
      for (let c = column; c < size; c++) matrix[r * size + c] -= factor * matrix[column * size + c];
      right[r] -= factor * right[column];
    }
  }
  const solution = new Float64Array(size);
  for (let r = size - 1; r >= 0; r--) {
    let rest = right[r];
    for (let c = r + 1; c < size; c++) rest -= matrix[r * size + c] * solution[c];
    solution[r] = rest / matrix[r * size + r];
  }
  return solution;
}

/**
 * How far a piece strays: points from the curve at their parameters, and the curve, half-way between two points' parameters, from the polyline there
 * (or it could bulge where points are sparse).
 */
function judge(points: F64, parameters: F64, control: F64): { readonly errorMm: number; readonly worst: number; readonly squares: number } {
  let [errorMm, worst, squares] = [0, 0, 0];
  for (let i = 0; i < parameters.length; i++) {
    const [x, y] = cubicAt(control, 0, parameters[i]);
    let error = Math.hypot(x - points[2 * i], y - points[2 * i + 1]);
    squares += error * error;
    if (i > 0) {
      const [u, v] = cubicAt(control, 0, (parameters[i - 1] + parameters[i]) / 2);
      error = Math.max(error, distanceToSegment(u, v, points[2 * i - 2], points[2 * i - 1], points[2 * i], points[2 * i + 1]));
    }
    if (error > errorMm) [errorMm, worst] = [error, i];
  }
  return { errorMm, worst, squares };
}

function nearerParameters(points: F64, parameters: F64, control: F64): Float64Array {
  const n = parameters.length;
  const better = Float64Array.from(parameters);
  for (let i = 1; i + 1 < n; i++) {
    const t = parameters[i];
    const s = 1 - t;
    let [value, first, second] = [0, 0, 0];
    for (let k = 0; k < 2; k++) {
      const [p0, p1, p2, p3] = [control[k], control[k + 2], control[k + 4], control[k + 6]];
      const off = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3 - points[2 * i + k];
      const speed = 3 * (s * s * (p1 - p0) + 2 * s * t * (p2 - p1) + t * t * (p3 - p2));
      const turn = 6 * (s * (p2 - 2 * p1 + p0) + t * (p3 - 2 * p2 + p1));
      value += off * speed;
      first += speed * speed;
      second += off * turn;
    }
    const slope = first + second;
    if (slope > 0) better[i] = Math.min(1, Math.max(0, t - value / slope));
  }
  // Parameters stay in order, or the curve would fold.
  for (let i = 1; i < n; i++) better[i] = Math.max(better[i], better[i - 1]);
  return better;
}

/** The point of piece `piece` of a chain at parameter t in 0…1. */
export function cubicAt(chain: F64, piece: number, t: number): Vec2 {
  const k = 6 * piece;
  const s = 1 - t;
  const [b0, b1, b2, b3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  return [
    b0 * chain[k] + b1 * chain[k + 2] + b2 * chain[k + 4] + b3 * chain[k + 6],
    b0 * chain[k + 1] + b1 * chain[k + 3] + b2 * chain[k + 5] + b3 * chain[k + 7],
  ];
}

/** Unit direction of piece `piece` of a chain at parameter t; where the speed is nought, the direction of the nearest control point. */
export function cubicDirection(chain: F64, piece: number, t: number): Vec2 {
  const k = 6 * piece;
  const s = 1 - t;
  let dx = s * s * (chain[k + 2] - chain[k]) + 2 * s * t * (chain[k + 4] - chain[k + 2]) + t * t * (chain[k + 6] - chain[k + 4]);
  let dy = s * s * (chain[k + 3] - chain[k + 1]) + 2 * s * t * (chain[k + 5] - chain[k + 3]) + t * t * (chain[k + 7] - chain[k + 5]);
  if (dx === 0 && dy === 0) [dx, dy] = [chain[k + 6] - chain[k], chain[k + 7] - chain[k + 1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dx / length, dy / length] : [1, 0];
}

/** The chain with extra knots at given fractions: same curve, more pieces (de Casteljau). */
export function refineChain(fit: ChainFit, fractions: readonly number[]): ChainFit {
  const knots = [...fit.knots];
  const pieces: number[][] = [];
  for (let i = 0; i + 1 < fit.knots.length; i++) pieces.push([...Array(8).keys()].map((k) => fit.chain[6 * i + k]));
  for (const fraction of fractions) {
    const i = knots.findIndex((knot, at) => knot < fraction && at + 1 < knots.length && fraction < knots[at + 1]);
    if (i < 0) continue;
    const t = (fraction - knots[i]) / (knots[i + 1] - knots[i]);
    pieces.splice(i, 1, ...splitCubic(pieces[i], t));
    knots.splice(i + 1, 0, fraction);
  }
  const chain = new Float64Array(2 * (3 * pieces.length + 1));
  pieces.forEach((piece, i) => chain.set(piece, 6 * i));
  return { knots: Float64Array.from(knots), chain, errorMm: fit.errorMm };
}

function splitCubic(piece: readonly number[], t: number): [number[], number[]] {
  const left: number[] = new Array<number>(8).fill(0);
  const right: number[] = new Array<number>(8).fill(0);
  for (let k = 0; k < 2; k++) {
    const p = [piece[k], piece[k + 2], piece[k + 4], piece[k + 6]];
    for (let level = 0; level < 4; level++) {
      left[2 * level + k] = p[0];
      right[2 * (3 - level) + k] = p[3 - level];
      for (let j = 0; j < 3 - level; j++) p[j] += t * (p[j + 1] - p[j]);
    }
  }
  return [left, right];
}
