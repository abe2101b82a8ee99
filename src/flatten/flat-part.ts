/*
 * A flattened patch and the account of what the sheet must take. σ₁ ≥ σ₂ are the singular values of the map from the surface to the
 * plane; the sheet's strain is 1/σ − 1 (positive: the sheet must stretch).
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';

/** An area-weighted distribution (contract: DIST). */
export interface Distribution {
  readonly min: number;
  readonly median: number;
  readonly p95: number;
  readonly p99: number;
  readonly max: number;
}

export type Verdict = 'cold' | 'hot' | 'needs-seam';

/** Seconds are measured by the caller's clock, so they stay out of this value: same input, same bits. */
export interface FlatSummary {
  readonly method: string;
  readonly iterations: number;
  readonly converged: boolean;
  /** Faces whose plane orientation is not positive, by exact predicates. */
  readonly flips: number;
  /** Pairs of boundary edges that cross, and inclusions; 0 means globally one-to-one. */
  readonly overlaps: number;
  readonly surfaceAreaMm2: number;
  readonly flatAreaMm2: number;
  readonly areaRatio: { readonly min: number; readonly mean: number; readonly max: number };
  readonly sigma1: Distribution;
  readonly sigma2: Distribution;
  /** max(0, 1/σ₂ − 1) a face: how much the sheet must stretch. Faces at the tips of cuts are left out, as in the verdict. */
  readonly stretch: Distribution;
  /** max(0, 1 − 1/σ₁) a face: how much the sheet must be squeezed. Faces at the tips of cuts are left out. */
  readonly squeeze: Distribution;
  /** Largest strains at the tips of cuts, where every map is singular; absent where no cut ends inside the patch. */
  readonly atTips?: { readonly stretch: number; readonly squeeze: number };
  /** Where on the surface the strain is worst, mm. */
  readonly worstAt: Vec3;
  /** ½ Σ A (σ₁ − σ₂)², σ₂ signed, mm². */
  readonly conformalEnergy: number;
  /** Σ A (σ₁² + σ₂² + σ₁⁻² + σ₂⁻²) / Σ A; 4 is isometric. */
  readonly symmetricDirichlet: number;
  /** Lower bound of (largest scale)/(smallest scale) over all maps of this patch; 1 for a developable one. */
  readonly bestRatio: number;
}

export interface FlatPart {
  /** Id of the patch. */
  readonly patch: string;
  /** Plane positions of the patch's vertices, x right, y up, mm; shape 2·n. */
  readonly positions: F64;
  /** Larger singular value a face. */
  readonly sigma1: F64;
  /** Smaller singular value a face, signed by orientation. */
  readonly sigma2: F64;
  readonly summary: FlatSummary;
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
}
