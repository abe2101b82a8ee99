/*
 * Between which points of a line a place on its path lies.
 */
import type { LineMark } from '../../src/lines/line.ts';

/** Which of the line's points follows node `node` of its path: the points are found in order along the path. */
export function segmentOf(line: Pick<LineMark, 'points'>, positions: ArrayLike<number>, node: number): number {
  let from = 0;
  for (let index = 1; index < line.points.length; index++) {
    const p = line.points[index];
    let best = from;
    let least = Infinity;
    for (let i = from; 3 * i < positions.length; i++) {
      const d = Math.hypot(positions[3 * i] - p[0], positions[3 * i + 1] - p[1], positions[3 * i + 2] - p[2]);
      if (d < least) {
        least = d;
        best = i;
      }
    }
    if (node <= best) return index;
    from = best;
  }
  return line.points.length;
}
