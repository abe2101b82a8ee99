/*
 * A scale from tape values: the factor s that minimises Σ w_i (s·m_i − t_i)², m from the mesh, t from the tape, so s = Σ w m t / Σ w m². The weight is
 * 1/(soft·allowed)²: bones do not give, so heights and lengths count with their allowed difference, girths with three times theirs
 * [common practice, no source]. The factor is proposed, never applied.
 *
 * What the numbers say: where the scale alone brings every value inside its allowed difference, the scan has a scale error; where values disagree by
 * different per cent, it is posture, breath or clothing, and no scale mends that.
 */
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { MeasureResult } from './body.ts';

export interface ScaleFit {
  /** Factor that the tape values ask for, on top of the present scale. */
  readonly scale: number;
  /** 'fits': nothing to do; 'scale': the same per cent everywhere; 'shape': posture, clothing or a wrong point; 'unsure': one value alone. */
  readonly verdict: 'fits' | 'scale' | 'shape' | 'unsure';
  /** Difference s·mesh − tape of each value after scaling, mm, in the order of the measures. */
  readonly residualsMm: readonly number[];
}

/** How much softer than bone a measure is. */
const softness: Readonly<Record<MeasureResult['kind'], number>> = { girth: 3, length: 1, distance: 1, height: 1 };

/** A scale this near to 1 is not worth proposing. */
const leastChange = 0.002;

/**
 * The scale that the tape values ask for.
 * @param measures results with a tape value; those without one (tapeMm ≤ 0) are passed over
 * @returns undefined where no measure has a tape value
 */
export function fitScale(measures: readonly MeasureResult[]): ScaleFit | undefined {
  const typed = measures.filter((measure) => measure.tapeMm > 0 && measure.meshMm > 0);
  if (typed.length === 0) return undefined;
  let [above, below] = [0, 0];
  for (const { kind, tapeMm, meshMm, allowedMm } of typed) {
    const spread = softness[kind] * allowedMm;
    above += (meshMm * tapeMm) / (spread * spread);
    below += (meshMm * meshMm) / (spread * spread);
  }
  const scale = above / below;
  const residualsMm = typed.map((measure) => scale * measure.meshMm - measure.tapeMm);
  return { scale, verdict: verdictOf(typed, scale, residualsMm), residualsMm };
}

function verdictOf(typed: readonly MeasureResult[], scale: number, residualsMm: readonly number[]): ScaleFit['verdict'] {
  if (typed.every((measure) => Math.abs(measure.meshMm - measure.tapeMm) <= measure.allowedMm)) return 'fits';
  if (typed.length === 1) return 'unsure';
  const isScaled = typed.every((measure, i) => Math.abs(residualsMm[i]) <= measure.allowedMm);
  return isScaled && Math.abs(scale - 1) >= leastChange ? 'scale' : 'shape';
}

/** What a maker is told about the fit; nothing where everything fits. */
export function scaleFindings(measures: readonly MeasureResult[], fit: ScaleFit): Finding[] {
  const typed = measures.filter((measure) => measure.tapeMm > 0 && measure.meshMm > 0);
  const perCent = `${Math.abs((fit.scale - 1) * 100).toFixed(1)} % too ${fit.scale > 1 ? 'small' : 'large'}`;
  const list = (values: readonly string[]): string => values.join(', ');
  const where = { stage: 'body' };
  switch (fit.verdict) {
    case 'fits':
      return [];
    case 'scale':
      return [
        finding(
          'warning',
          'body/scale-error',
          `All ${typed.length} tape values differ by the same per cent: the scan is ${perCent}.`,
          where,
          `Take the proposed scale ${fit.scale.toFixed(4)}.`,
        ),
      ];
    case 'unsure':
      return [
        finding(
          'warning',
          'body/one-tape-value',
          `By its one tape value ("${typed[0].name}") the scan is ${perCent}; one value cannot tell scale from posture.`,
          where,
          'Type a second value, best a length or a height, before you take the scale.',
        ),
      ];
    case 'shape': {
      const off = typed
        .map((measure, i) => ({ measure, residual: fit.residualsMm[i] }))
        .filter(({ measure, residual }) => Math.abs(residual) > measure.allowedMm)
        .sort((a, b) => Math.abs(b.residual) / b.measure.allowedMm - Math.abs(a.residual) / a.measure.allowedMm);
      const named = off.slice(0, 4).map(({ measure, residual }) => `"${measure.name}" by ${residual.toFixed(0)} mm`);
      return [
        finding(
          'warning',
          'body/tape-differs',
          `The tape values do not differ by the same per cent; after the best scale (${fit.scale.toFixed(4)}) these are still off: ${list(named)}.`,
          where,
          'That is posture, breath, clothing or a point picked at another place, not scale: measure again, or pick the points again.',
        ),
      ];
    }
    default:
      return fit.verdict satisfies never;
  }
}
