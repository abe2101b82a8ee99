/*
 * The fold along a seam: the angle between its two sheets as they will stand when glued, positive convex outward (contract: Fold).
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { atan2 } from '../base/elementary.ts';
import { interpolate } from '../plane/polyline.ts';
import type { BorderSide } from './border.ts';
import type { Sheet } from './sheet-normal.ts';
import { placeOnBorder, sheetNormal } from './sheet-normal.ts';

/** One side of a seam as drafting sees it. */
export interface SeamMember {
  readonly sheet: Sheet;
  readonly side: BorderSide;
}

/** Fold against the share of the seam's length, from the start of its first side. Radians. */
export interface FoldProfile {
  /** Ascending, from 0 to 1. */
  readonly fractions: F64;
  readonly folds: F64;
}

/** A fold of nought everywhere. */
export const flatFold: FoldProfile = { fractions: Float64Array.of(0, 1), folds: Float64Array.of(0, 0) };

/** Distance between two samples of the fold along a seam, mm. */
const sampleMm = 4;

/**
 * Fold along a seam. Samples lie inside the ends, where a sheet has a normal; the ends continue the last two samples in a straight line.
 * @param first side whose start is fraction 0; `second` runs against it.
 */
export function foldAlong(first: SeamMember, second: SeamMember): FoldProfile {
  const count = Math.min(200, Math.max(6, Math.ceil(first.side.lengthMm / sampleMm)));
  const fractions = new Float64Array(count + 2);
  const folds = new Float64Array(count + 2);
  for (let i = 1; i <= count; i++) {
    fractions[i] = (i - 0.5) / count;
    folds[i] = foldAt(first, second, fractions[i]);
  }
  fractions[count + 1] = 1;
  folds[0] = folds[1] + (folds[1] - folds[2]) / 2;
  folds[count + 1] = folds[count] + (folds[count] - folds[count - 1]) / 2;
  return { fractions, folds };
}

/**
 * Signed angle about the seam from the normal of the sheet on its left to the normal of the sheet on its right, both taken perpendicular to
 * the seam: atan2((n₁ × n₂)·t, n₁·n₂). The first side has its sheet on the left, so a ridge is positive.
 */
function foldAt(first: SeamMember, second: SeamMember, fraction: number): number {
  const along = placeOnBorder(first.sheet, first.side, fraction).spaceDirection;
  const left = across(sheetNormal(first.sheet, first.side, fraction), along);
  const right = across(sheetNormal(second.sheet, second.side, 1 - fraction), along);
  const turn =
    along[0] * (left[1] * right[2] - left[2] * right[1]) +
    along[1] * (left[2] * right[0] - left[0] * right[2]) +
    along[2] * (left[0] * right[1] - left[1] * right[0]);
  return atan2(turn, left[0] * right[0] + left[1] * right[1] + left[2] * right[2]);
}

/** The part of a vector that is perpendicular to a unit direction. */
function across(vector: Vec3, direction: Vec3): Vec3 {
  const along = vector[0] * direction[0] + vector[1] * direction[1] + vector[2] * direction[2];
  return [vector[0] - along * direction[0], vector[1] - along * direction[1], vector[2] - along * direction[2]];
}

/** The fold at a share of the seam's length, radians. */
export const foldAtFraction = (profile: FoldProfile, fraction: number): number => interpolate(profile.fractions, profile.folds, fraction);
