/*
 * Half-edges of any triangles gathered by the edge that they run along, whatever their number and direction. The step before a mesh is a
 * mesh: counting sort by the lower vertex, then by the higher one.
 */
import type { U32 } from '../base/arrays.ts';

export interface EdgeGroups {
  /** Half-edges, edge by edge; ascending inside an edge. */
  readonly halfEdges: Uint32Array;
  /** Where each edge's half-edges start in `halfEdges`; one more entry than edges. */
  readonly start: Uint32Array;
}

/** Gathers half-edges by edge. Cost: linear for meshes of bounded valence. */
export function groupEdges(faces: U32, vertexTotal: number): EdgeGroups {
  const total = faces.length;
  const end = (h: number): number => faces[h % 3 === 2 ? h - 2 : h + 1];
  const bucket = new Uint32Array(vertexTotal + 1);
  for (let h = 0; h < total; h++) bucket[Math.min(faces[h], end(h)) + 1]++;
  for (let v = 0; v < vertexTotal; v++) bucket[v + 1] += bucket[v];
  const fill = bucket.slice(0, vertexTotal);
  const halfEdges = new Uint32Array(total);
  const high = new Uint32Array(total);
  for (let h = 0; h < total; h++) {
    const place = fill[Math.min(faces[h], end(h))]++;
    halfEdges[place] = h;
    high[place] = Math.max(faces[h], end(h));
  }
  const start = new Uint32Array(total + 1);
  let edges = 0;
  for (let v = 0; v < vertexTotal; v++) {
    sortBucketInto(halfEdges, high, bucket[v], bucket[v + 1]);
    for (let i = bucket[v]; i < bucket[v + 1]; i++) if (i === bucket[v] || high[i] !== high[i - 1]) start[edges++] = i;
  }
  start[edges] = total;
  return { halfEdges, start: start.slice(0, edges + 1) };
}

/** Insertion sort: buckets hold about six entries. Long ones (a fan of thousands) go through the engine's sort. */
function sortBucketInto(halfEdges: Uint32Array, high: Uint32Array, from: number, to: number): void {
  if (to - from > 64) {
    const order = Array.from({ length: to - from }, (_, i) => from + i).sort((a, b) => high[a] - high[b] || halfEdges[a] - halfEdges[b]);
    const sortedHalfEdges = order.map((i) => halfEdges[i]);
    const sortedHigh = order.map((i) => high[i]);
    halfEdges.set(sortedHalfEdges, from);
    high.set(sortedHigh, from);
    return;
  }
  for (let i = from + 1; i < to; i++) {
    const [h, key] = [halfEdges[i], high[i]];
    let j = i - 1;
    for (; j >= from && high[j] > key; j--) {
      high[j + 1] = high[j];
      halfEdges[j + 1] = halfEdges[j];
    }
    high[j + 1] = key;
    halfEdges[j + 1] = h;
  }
}
