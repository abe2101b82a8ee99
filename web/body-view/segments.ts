/*
 * Polylines as pairs of points, as thick lines want them.
 */

/** A polyline as pairs of points. @param points x0 y0 z0 x1 … */
export function segmentsOf(points: ArrayLike<number>, isClosed = false): Float32Array {
  const total = points.length / 3;
  const pairs = isClosed ? total : total - 1;
  if (pairs < 1) return new Float32Array();
  const segments = new Float32Array(6 * pairs);
  for (let i = 0; i < pairs; i++) {
    const next = (i + 1) % total;
    for (let k = 0; k < 3; k++) {
      segments[6 * i + k] = points[3 * i + k];
      segments[6 * i + 3 + k] = points[3 * next + k];
    }
  }
  return segments;
}

export function joined(lists: readonly Float32Array[]): Float32Array {
  const all = new Float32Array(lists.reduce((sum, list) => sum + list.length, 0));
  let at = 0;
  for (const list of lists) {
    all.set(list, at);
    at += list.length;
  }
  return all;
}
