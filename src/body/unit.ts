/*
 * The unit of a scan: given by the maker, fixed by the format, or guessed from its size. The guess takes the unit in which the longest side
 * of the mesh is as long as something that is worn on a body: a head, a bust, a torso, a whole person.
 */
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import { lengthUnits, unitMm } from '../units/length.ts';
import type { LengthUnit } from '../units/length.ts';

export interface ChosenUnit {
  readonly unit: LengthUnit;
  readonly from: 'given' | 'file' | 'guess';
  readonly findings: readonly Finding[];
}

/** Longest side of a bust … of the tallest people with arms stretched up, mm. */
const bodySize = { leastMm: 250, mostMm: 2500 } as const;
/** A mask or a head alone is smaller than a bust; a fit here counts only where no unit gives a body. */
const faceMm = 150;
/** Beyond these a longest side cannot be a body or a part of one, whatever the format says. */
const possible = { leastMm: 60, mostMm: 6000 } as const;
/** Units that mesh files are often in; inches are proposed last. */
const usual: readonly LengthUnit[] = ['m', 'mm', 'cm'];

/**
 * Chooses the unit.
 * @param longest longest side of the box around the mesh, file units
 * @param given the maker's choice
 * @param fromFile what the format fixes
 */
export function chooseUnit(longest: number, given: LengthUnit | undefined, fromFile: LengthUnit | 'unknown', scale = 1): ChosenUnit {
  const sizeIn = (unit: LengthUnit): number => longest * unitMm[unit] * scale;
  const isPossible = (unit: LengthUnit): boolean => sizeIn(unit) >= possible.leastMm && sizeIn(unit) <= possible.mostMm;
  if (given !== undefined) return { unit: given, from: 'given', findings: isPossible(given) ? [] : [impossible(sizeIn, given)] };
  if (fromFile !== 'unknown' && isPossible(fromFile)) return { unit: fromFile, from: 'file', findings: [] };
  const unit = guess(sizeIn);
  const fits = lengthUnits.filter((other) => sizeIn(other) >= bodySize.leastMm && sizeIn(other) <= bodySize.mostMm);
  const said =
    fromFile === 'unknown' ? 'The file does not say its unit.' : `The file says ${fromFile}, but then it would be ${mm(sizeIn(fromFile))}.`;
  const certain = fits.length === 1 ? '' : fits.length === 0 ? ' No unit gives the size of a body.' : ` (${fits.join(' or ')} would fit.)`;
  const what = `${said} It was taken as ${unit}: the longest side is then ${mm(sizeIn(unit))}.${certain}`;
  const mend = 'Choose the unit, or type one tape measurement, before you trust any size.';
  return {
    unit,
    from: 'guess',
    findings: [finding(fits.length === 0 ? 'severe' : 'warning', 'body/guessed-unit', what, { stage: 'body' }, mend)],
  };
}

/** The first usual unit that gives the size of a body, then of a face; then inches; where none does, what comes nearest in proportion. */
function guess(sizeIn: (unit: LengthUnit) => number): LengthUnit {
  const fits = (unit: LengthUnit, least: number): boolean => sizeIn(unit) >= least && sizeIn(unit) <= bodySize.mostMm;
  const fitting =
    usual.find((unit) => fits(unit, bodySize.leastMm)) ??
    usual.find((unit) => fits(unit, faceMm)) ??
    (fits('in', bodySize.leastMm) ? 'in' : undefined);
  if (fitting !== undefined) return fitting;
  const misfit = (unit: LengthUnit): number => Math.max(bodySize.leastMm / sizeIn(unit), sizeIn(unit) / bodySize.mostMm);
  let best: LengthUnit = 'm';
  for (const unit of lengthUnits) if (misfit(unit) < misfit(best)) best = unit;
  return best;
}

function impossible(sizeIn: (unit: LengthUnit) => number, given: LengthUnit): Finding {
  const better = lengthUnits.filter((unit) => sizeIn(unit) >= bodySize.leastMm && sizeIn(unit) <= bodySize.mostMm);
  const what = `Taken as ${given}, the longest side of this mesh is ${mm(sizeIn(given))}: no body is of that size.`;
  const mend =
    better.length > 0
      ? `Choose ${better.map((unit) => `${unit} (${mm(sizeIn(unit))})`).join(' or ')} instead.`
      : 'Check the file, or type one tape measurement and take the scale that it proposes.';
  return finding('severe', 'body/impossible-size', what, { stage: 'body' }, mend);
}

/** A length as a maker reads it. */
function mm(length: number): string {
  return length >= 10_000 ? `${Number((length / 1000).toPrecision(3))} m` : `${Number(length.toPrecision(4))} mm`;
}
