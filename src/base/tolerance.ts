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

/** Cut lines that a file must hold as straight pieces stay within this of the curve. */
export const curveMm = 0.002;

/** A pushed surface may come this much nearer to the body than asked before it counts as crowded (0.2 mm is what a standoff is judged by). */
export const pushSlackMm = 0.15;
