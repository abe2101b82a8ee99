/*
 * Every tolerance of the project, by name and derived from a stated length. No other file in `src` holds a bare 1e-something.
 * Lengths in mm.
 */

/** Relative slack of double-precision sums over a few thousand terms. */
export const roundOff = 1e-12;

/** Vertices closer than this share of the mesh's diagonal are one vertex when a maker asks for a weld without naming a distance. */
export const weldShare = 1e-7;

/** A face whose height is below this share of its longest edge counts as degenerate. */
export const sliverShare = 1e-9;

/** A stored mark further from the body than this is a finding (contract). */
export const markReachMm = 25;

/** Outline polylines and fitted curves stay within this of the flattened border (contract of drafting). */
export const outlineMm = 0.1;
