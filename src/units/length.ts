/*
 * Length units that mesh files are met in, and their size in millimetres. The inch is exact since the 1959 international yard and pound agreement.
 */
import { Failure } from '../base/failure.ts';

/** Millimetres in one unit. */
export const unitMm = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;

export type LengthUnit = keyof typeof unitMm;

export const lengthUnits = Object.keys(unitMm) as readonly LengthUnit[];

/**
 * The unit that a word names.
 * @throws units/unknown-unit
 */
export function parseUnit(word: string): LengthUnit {
  const unit = lengthUnits.find((known) => known === word);
  if (unit === undefined)
    throw new Failure('units/unknown-unit', `"${word}" is not a unit that Plastron knows.`, {}, `Use one of ${lengthUnits.join(', ')}.`);
  return unit;
}
