/*
 * Light questions that the page asks between runs: a line's path, a stroke's reach, a tape measure, proposed cuts.
 */
