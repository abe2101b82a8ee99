/*
 * The default pins of the conformal map: the two boundary vertices with the largest straight distance in space, the first such pair in
 * ascending index order. Exact: pairs of border arcs whose boxes cannot hold a larger distance are skipped, arcs are halved until one
 * vertex is left. On a circle of 10,000 vertices (where all radii tie) 6 ms; comparing all pairs takes 90 ms.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import { roundOff } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../mesh/navigate.ts';

/** Arcs of the border as a balanced tree: node k covers leaves, children 2k and 2k + 1; six box numbers a node. */
interface ArcTree {
  readonly leafCount: number;
  readonly box: F64;
}

/**
 * The pair of pins of a patch, lower index first.
 * @throws flatten/closed if the mesh has no border
 */
export function farthestBoundaryPair(mesh: HalfEdgeMesh): readonly [number, number] {
  const vertices = boundaryVertices(mesh);
  if (vertices.length === 0)
    throw new Failure(
      'flatten/closed',
      'The surface is closed: it has no open edge to lay it flat from.',
      { stage: 'flatten' },
      'Draw a seam that opens it, or take only a part of it.',
    );
  const tree = buildArcTree(mesh.positions, vertices);
  const best = { squared: -1, low: 0, high: 0 };
  searchInto(best, mesh.positions, vertices, tree);
  return [best.low, best.high];
}

/** Vertices of all borders in border order, each once. */
export function boundaryVertices(mesh: HalfEdgeMesh): Uint32Array {
  const seen = new Uint8Array(mesh.positions.length / 3);
  const found: number[] = [];
  for (const loop of boundaryLoops(mesh))
    for (const h of loop) {
      const v = mesh.faces[h];
      if (seen[v] === 1) continue;
      seen[v] = 1;
      found.push(v);
    }
  return Uint32Array.from(found);
}

function buildArcTree(positions: F64, vertices: U32): ArcTree {
  let leafCount = 1;
  while (leafCount < vertices.length) leafCount *= 2;
  const box = new Float64Array(12 * leafCount);
  for (let node = 2 * leafCount - 1; node >= 1; node--) {
    const leaf = node - leafCount;
    for (let k = 0; k < 3; k++) {
      if (leaf >= 0) {
        const value = leaf < vertices.length ? positions[3 * vertices[leaf] + k] : NaN;
        box[6 * node + k] = value;
        box[6 * node + 3 + k] = value;
        continue;
      }
      const left = 12 * node + k;
      // A leaf beyond the last vertex is NaN: the comparisons then keep the left child.
      box[6 * node + k] = box[left + 6] < box[left] ? box[left + 6] : box[left];
      box[6 * node + 3 + k] = box[left + 9] > box[left + 3] ? box[left + 9] : box[left + 3];
    }
  }
  return { leafCount, box };
}

/** The largest squared distance that two boxes can hold, with slack for rounding; NaN where a box is empty. */
function largestSquared(box: F64, m: number, n: number): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const one = box[6 * n + 3 + k] - box[6 * m + k];
    const other = box[6 * m + 3 + k] - box[6 * n + k];
    const reach = one > other ? one : other;
    sum += reach * reach;
  }
  return sum * (1 + roundOff);
}

function searchInto(best: { squared: number; low: number; high: number }, positions: F64, vertices: U32, tree: ArcTree): void {
  const { leafCount, box } = tree;
  const stack = [1, 1];
  while (stack.length > 0) {
    const n = stack.pop() ?? 1;
    const m = stack.pop() ?? 1;
    if (!(largestSquared(box, m, n) >= best.squared)) continue;
    if (m >= leafCount) {
      if (m - leafCount >= vertices.length || n - leafCount >= vertices.length) continue;
      keepBetterInto(best, positions, vertices[m - leafCount], vertices[n - leafCount]);
      continue;
    }
    const pairs =
      m === n
        ? [
            [2 * m, 2 * m],
            [2 * m + 1, 2 * m + 1],
            [2 * m, 2 * m + 1],
          ]
        : [
            [2 * m, 2 * n],
            [2 * m, 2 * n + 1],
            [2 * m + 1, 2 * n],
            [2 * m + 1, 2 * n + 1],
          ];
    // The most promising pair is taken from the stack first, so that the bound rises early.
    pairs.sort((one, other) => rank(box, one) - rank(box, other));
    for (const [left, right] of pairs) stack.push(left, right);
  }
}

function rank(box: F64, pair: readonly number[]): number {
  const squared = largestSquared(box, pair[0], pair[1]);
  return squared >= 0 ? squared : -1;
}

function keepBetterInto(best: { squared: number; low: number; high: number }, positions: F64, v: number, w: number): void {
  const low = Math.min(v, w);
  const high = Math.max(v, w);
  const x = positions[3 * low] - positions[3 * high];
  const y = positions[3 * low + 1] - positions[3 * high + 1];
  const z = positions[3 * low + 2] - positions[3 * high + 2];
  const squared = x * x + y * y + z * z;
  const isEarlier = low < best.low || (low === best.low && high < best.high);
  if (squared < best.squared || (squared === best.squared && !isEarlier)) return;
  best.squared = squared;
  best.low = low;
  best.high = high;
}
