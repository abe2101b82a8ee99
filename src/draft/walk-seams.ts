/*
 * Walking a seam: rolling one edge along its mate on the seam line and stating how they differ, as a whole and between notches (contract: Seams meet).
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';

export interface SeamWalk {
  readonly lengthsMm: readonly [number, number];
  /** First less second. */
  readonly differenceMm: number;
  /** Length of each stretch between notches on both sides, from the start of the first side. */
  readonly stretches: readonly (readonly [number, number])[];
}

export interface WalkedSeam {
  readonly id: string;
  readonly sides: readonly [string, string];
  readonly walk: SeamWalk;
  /** Difference that the maker declared as ease, mm. */
  readonly easeMm: number;
}

/** Limits of the seam rule, mm. */
export const seamLimits = { aimMm: 0.5, aimShare: 0.002, aimStretchMm: 0.3, warnStretchMm: 1, warnSeamMm: 2, refuseMm: 3 } as const;

/**
 * Walks a seam whose notches stand at given arc lengths on either side.
 * @param notches pairs of arc lengths from the start of the first side (on the second side: from its end), ascending
 */
export function walkSeam(lengthsMm: readonly [number, number], notches: readonly (readonly [number, number])[]): SeamWalk {
  const stops = [[0, 0] as const, ...notches, lengthsMm];
  const stretches = stops.slice(1).map(([a, b], i) => [a - stops[i][0], b - stops[i][1]] as const);
  return { lengthsMm, differenceMm: lengthsMm[0] - lengthsMm[1], stretches };
}

/** What the seam rule says about a walked seam. Nothing when it meets the aim. */
export function judgeSeam({ id, sides, walk, easeMm }: WalkedSeam): Finding[] {
  const difference = Math.max(0, Math.abs(walk.differenceMm) - easeMm);
  const easeShare = walk.differenceMm === 0 ? 0 : Math.min(1, easeMm / Math.abs(walk.differenceMm));
  const worst = Math.max(...walk.stretches.map(([a, b]) => Math.abs(a - b) * (1 - easeShare)));
  const names = `${sides[0]} and ${sides[1]}`;
  const where = { stage: 'draft', item: id };
  const mm = (value: number): string => value.toFixed(1);
  if (difference > seamLimits.refuseMm)
    return [
      finding(
        'severe',
        'draft/sides-differ',
        `The matching edges ${names} differ by ${mm(difference)} mm: they cannot be glued flat.`,
        where,
        'Declare the difference as ease, move the seam, or lay the parts flat again.',
      ),
    ];
  if (difference > seamLimits.warnSeamMm || worst > seamLimits.warnStretchMm)
    return [
      finding(
        'warning',
        'draft/sides-differ',
        `The matching edges ${names} differ by ${mm(difference)} mm, up to ${mm(worst)} mm between two notches.`,
        where,
        'Glue from notch to notch and let the foam take up the difference, or move the seam.',
      ),
    ];
  const aim = Math.max(seamLimits.aimMm, seamLimits.aimShare * Math.max(...walk.lengthsMm));
  if (difference > aim || worst > seamLimits.aimStretchMm)
    return [
      finding(
        'note',
        'draft/sides-differ',
        `The matching edges ${names} differ by ${mm(difference)} mm.`,
        where,
        'Nothing need be done; start at the notches.',
      ),
    ];
  return [];
}
