/*
 * Coordinates for a graph without positions: distances in edges from vertices that lie far apart. Good enough to cut by, since a
 * separator is looked for in a band anyway.
 */
import type { Graph } from './graph.ts';

/**
 * Coordinates (d_a − d_b, d_c − d_d, 0) of each vertex: a and b are far apart, c is far from both, d far from c. Components of the graph
 * stand side by side along the first axis. Cost linear: four breadth-first walks.
 * @returns shape 3·vertexCount.
 */
export function distanceCoordinates(graph: Graph): Float64Array {
  const n = graph.vertexCount;
  const coordinates = new Float64Array(3 * n);
  const queue = new Int32Array(n);
  const walks = [0, 1, 2, 3].map(() => new Int32Array(n).fill(-1));
  const [fromA, fromB, fromC, fromD] = walks;
  const seen = new Int32Array(n).fill(-1);
  let offset = 0;
  for (let root = 0; root < n; root++) {
    if (seen[root] >= 0) continue;
    const count = walk(graph, root, seen, queue);
    const a = queue[count - 1];
    walk(graph, a, fromA, queue);
    const b = queue[count - 1];
    walk(graph, b, fromB, queue);
    let c = a;
    for (let k = 0; k < count; k++) {
      const v = queue[k];
      if (Math.min(fromA[v], fromB[v]) > Math.min(fromA[c], fromB[c])) c = v;
    }
    walk(graph, c, fromC, queue);
    walk(graph, queue[count - 1], fromD, queue);
    const length = fromA[b];
    for (let k = 0; k < count; k++) {
      const v = queue[k];
      coordinates[3 * v] = offset + fromA[v] - fromB[v];
      coordinates[3 * v + 1] = fromC[v] - fromD[v];
    }
    offset += 2 * length + 2;
  }
  return coordinates;
}

/** Distances from a vertex over its component; `queue` then holds the component, the farthest last. @returns its size. */
function walk(graph: Graph, root: number, distance: Int32Array, queue: Int32Array): number {
  const { start, neighbour } = graph;
  distance[root] = 0;
  queue[0] = root;
  let count = 1;
  for (let k = 0; k < count; k++) {
    const v = queue[k];
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = neighbour[q];
      if (distance[u] >= 0) continue;
      distance[u] = distance[v] + 1;
      queue[count++] = u;
    }
  }
  return count;
}
