/*
 * Arc length and direction along chains of cubics (see `curve-fit.ts`): 2·(3·m + 1) numbers, mm.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import type { ChainFit } from './curve-fit.ts';
import { cubicAt, cubicDirection } from './curve-fit.ts';
import { arcLengths, locate } from './polyline.ts';

/** A chain sampled so densely that its arc length is known: a table from arc length to piece and parameter. */
export interface MeasuredChain {
  readonly chain: F64;
  /** Arc length at each sample, mm. */
  readonly lengths: F64;
  /** Piece + parameter at each sample. */
  readonly places: F64;
  /** Share of the seam (knots of the fit) at each sample. */
  readonly fractions: F64;
  readonly lengthMm: number;
}

/** Steps a piece; chords of a cubic arc of up to 90° are then short by less than 1e-5 of their length, which Richardson's step removes. */
const stepsPerPiece = 32;

/**
 * Measures a chain. Lengths of each step come from chords of the step and of its halves, extrapolated: L ≈ (4·L(h/2) − L(h))/3.
 */
export function measureChain({ chain, knots }: Pick<ChainFit, 'chain' | 'knots'>): MeasuredChain {
  const pieces = knots.length - 1;
  const count = pieces * stepsPerPiece + 1;
  const lengths = new Float64Array(count);
  const places = new Float64Array(count);
  const fractions = new Float64Array(count);
  fractions[0] = knots[0];
  for (let piece = 0; piece < pieces; piece++)
    for (let i = 1; i <= stepsPerPiece; i++) {
      const at = piece * stepsPerPiece + i;
      const half = arcLengths(Float64Array.from([0, 0.5, 1].flatMap((part) => [...cubicAt(chain, piece, (i - 1 + part) / stepsPerPiece)])));
      const [a, b] = [cubicAt(chain, piece, (i - 1) / stepsPerPiece), cubicAt(chain, piece, i / stepsPerPiece)];
      lengths[at] = lengths[at - 1] + (4 * half[2] - Math.hypot(b[0] - a[0], b[1] - a[1])) / 3;
      places[at] = piece + i / stepsPerPiece;
      fractions[at] = knots[piece] + (i / stepsPerPiece) * (knots[piece + 1] - knots[piece]);
    }
  return { chain, lengths, places, fractions, lengthMm: lengths[count - 1] };
}

/** Point, unit direction and seam fraction at an arc length, clamped to the ends. */
export function alongChain(
  measured: MeasuredChain,
  along: number,
): { readonly at: Vec2; readonly direction: Vec2; readonly fraction: number } {
  const { index, share } = locate(measured.lengths, along);
  const place = measured.places[index] + share * (measured.places[index + 1] - measured.places[index]);
  const pieces = (measured.chain.length / 2 - 1) / 3;
  const whole = Math.min(Math.floor(place), pieces - 1);
  const t = place - whole;
  return {
    at: cubicAt(measured.chain, whole, t),
    direction: cubicDirection(measured.chain, whole, t),
    fraction: measured.fractions[index] + share * (measured.fractions[index + 1] - measured.fractions[index]),
  };
}

/** The same chain, run the other way; knots become 1 − knot. */
export function reverseChain(fit: ChainFit): ChainFit {
  const n = fit.chain.length;
  const chain = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    chain[i] = fit.chain[n - 2 - i];
    chain[i + 1] = fit.chain[n - 1 - i];
  }
  return { knots: Float64Array.from([...fit.knots].reverse(), (knot) => 1 - knot), chain, errorMm: fit.errorMm };
}
