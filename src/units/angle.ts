/*
 * Angles are radians inside; degrees only on screen, in files and on the command line.
 */

/** Degrees of an angle in radians. */
export const toDegrees = (radians: number): number => (radians * 180) / Math.PI;

/** Radians of an angle in degrees. */
export const toRadians = (degrees: number): number => (degrees * Math.PI) / 180;
