/*
 * In which order to eliminate: nested dissection by position, or by distances in the graph where no positions are given; minimum degree for
 * small systems and wherever a dissection costs more than meshes should.
 */
import type { F64 } from '../base/arrays.ts';
import { dissect } from './dissection.ts';
import { distanceCoordinates } from './graph-coordinates.ts';
import { graphOf, inverseOf, mortonOrder } from './graph.ts';
import type { Graph } from './graph.ts';
import { minimumDegree } from './minimum-degree.ts';
import type { SparseMatrix } from './sparse.ts';
import { countColumns } from './supernodes.ts';
import type { CountedOrder } from './supernodes.ts';

/** A graph with an order of elimination. */
export interface OrderedGraph {
  readonly graph: Graph;
  /** Vertex of the pattern for each vertex of the graph. */
  readonly vertexOf: Int32Array;
  /** Order of elimination of the graph's vertices, with what it costs. */
  readonly order: CountedOrder;
  readonly method: 'dissection' | 'minimum-degree';
}

/** Graphs up to this size go by minimum degree alone when they have no positions. */
const smallGraph = 500;
/** Multiplications that a dissection of a surface mesh needs at most, in units of n^1.5; meshes need 15 to 30. */
const meshWork = 60;

/**
 * Orders the unknowns of a pattern.
 * @param blockSize unknowns a vertex. @param positions shape dimension · size / blockSize.
 */
export function* orderPattern(
  pattern: SparseMatrix,
  blockSize: 1 | 2,
  positions: F64 | undefined,
  dimension: 2 | 3,
): Generator<void, OrderedGraph> {
  const n = pattern.size / blockSize;
  let vertexOf: Int32Array = Int32Array.from({ length: n }, (_, v) => v);
  let graph: Graph;
  let places: Float64Array;
  if (positions === undefined) {
    graph = graphOf(pattern, blockSize, vertexOf, vertexOf);
    if (n <= smallGraph)
      return { graph, vertexOf, order: yield* countColumns(graph, yield* minimumDegree(graph)), method: 'minimum-degree' };
    places = distanceCoordinates(graph);
  } else {
    const spatial = inSpace(positions, n, dimension);
    vertexOf = mortonOrder(spatial);
    graph = graphOf(pattern, blockSize, vertexOf, inverseOf(vertexOf));
    places = new Float64Array(3 * n);
    for (let k = 0; k < n; k++) for (let d = 0; d < 3; d++) places[3 * k + d] = spatial[3 * vertexOf[k] + d];
  }
  yield;
  const order = yield* countColumns(graph, yield* dissect(graph, places));
  yield;
  if (order.work <= meshWork * n * Math.sqrt(n)) return { graph, vertexOf, order, method: 'dissection' };
  const other = yield* countColumns(graph, yield* minimumDegree(graph));
  if (other.work >= order.work) return { graph, vertexOf, order, method: 'dissection' };
  return { graph, vertexOf, order: other, method: 'minimum-degree' };
}

/** Positions with three coordinates. */
function inSpace(positions: F64, count: number, dimension: 2 | 3): F64 {
  if (positions.length !== dimension * count) {
    throw new RangeError(`${positions.length} coordinates do not make ${count} positions of ${dimension}`);
  }
  if (dimension === 3) return positions;
  const spatial = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    spatial[3 * v] = positions[2 * v];
    spatial[3 * v + 1] = positions[2 * v + 1];
  }
  return spatial;
}
