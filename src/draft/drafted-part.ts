/*
 * A part as it will be cut: its drawing, and the same facts as data for the report, the sheets and the build sheet.
 */
import type { F64, Vec2, Vec3 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import type { BodySide } from '../patches/patch.ts';
import type { Distribution, FlatSummary, Verdict } from '../flatten/flat-part.ts';
import type { Drawing } from './drawing.ts';

export interface DraftedSide {
  /** A1, A2 …: the part's letter and the side's place along the border. */
  readonly id: string;
  /** Id of the seam, absent on finished edges and openings. */
  readonly seam?: string;
  readonly kind: 'seam' | 'dart' | 'opening' | 'border';
  /** Length of the seam line (the neutral plane's edge) in the plane, mm. */
  readonly lengthMm: number;
  readonly allowanceMm: number;
  /** The seam line in the plane, before allowance and bevel: polyline, 2·n, mm. */
  readonly seamLine: F64;
}

export interface DraftedNotch {
  readonly seam: string;
  /** Place on the seam line, mm. */
  readonly at: Vec2;
  /** Arc length from the start of the seam's first side, mm. */
  readonly alongMm: number;
  /** The whole seam's code, such as 2-1. */
  readonly code: string;
  /** Ticks at this notch. */
  readonly ticks: number;
}

/** A true-size cut through a part's inner face, to be cut from card. */
export interface CurveTemplate {
  /** Such as "A T1". */
  readonly name: string;
  /** The cutting plane in the body's axes, mm. */
  readonly point: Vec3;
  readonly normal: Vec3;
  /** The cut itself in the body's axes, 3·n, mm. */
  readonly section: F64;
  readonly drawing: Drawing;
}

/** A stretch of a side whose edge is cut at an angle. */
export interface DraftedBevel {
  /** Id of the side, A1. */
  readonly side: string;
  readonly seam: string;
  /** Arc lengths from the start of the side, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Least and largest angle from square, degrees, positive where the fold is convex. */
  readonly leastDeg: number;
  readonly mostDeg: number;
  /** The face that loses foam. */
  readonly loses: 'inner' | 'outer';
}

export interface DraftedPart {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  readonly side: BodySide;
  readonly pair?: string;
  readonly area: string;
  readonly layer: number;
  readonly material: string;
  readonly count: number;
  readonly faces: number;
  /** Area within the cut line, mm². */
  readonly areaMm2: number;
  readonly surfaceAreaMm2: number;
  readonly summary: FlatSummary;
  readonly strain: {
    readonly stretch: Distribution;
    readonly squeeze: Distribution;
    readonly worstAt: Vec3;
    /** Largest strains at the tips of darts, which the distributions leave out. */
    readonly atTips?: { readonly stretch: number; readonly squeeze: number };
  };
  readonly verdict: Verdict;
  readonly forming: 'bent' | 'domed';
  /** Cut line as a counter-clockwise polygon within `outlineMm` of the curve on CUT, 2·n, mm. */
  readonly outline: F64;
  /** Clockwise polygons. */
  readonly holes: readonly F64[];
  readonly sides: readonly DraftedSide[];
  readonly notches: readonly DraftedNotch[];
  readonly bevels: readonly DraftedBevel[];
  readonly drawing: Drawing;
  readonly templates: readonly CurveTemplate[];
  /** True when the drawing was mirrored to show the inner face. */
  readonly mirrored: boolean;
  /** Letters that change when, and only when, something about the part's shape or marks changes. */
  readonly version: string;
  /** Id of the part that this one mirrors so closely that one drawing serves both ("cut one left, one right"). */
  readonly mirrorOf?: string;
  readonly findings: readonly Finding[];
}

/** One row of the table of matching edges. */
export interface DraftedSeam {
  readonly id: string;
  readonly kind: 'seam' | 'dart';
  readonly line: string;
  readonly sides: readonly [string, string];
  readonly parts: readonly [string, string];
  readonly lengthsMm: readonly [number, number];
  readonly differenceMm: number;
  readonly surfaceMm: number;
  readonly bevelDeg: { readonly min: number; readonly max: number };
  readonly code: string;
  /** Lengths between notches on both sides, from the start of the first side, mm. */
  readonly stretchesMm: readonly (readonly [number, number])[];
  /** The sides differ by more than the seam rule allows (contract: Seams meet). */
  readonly refused: boolean;
}
