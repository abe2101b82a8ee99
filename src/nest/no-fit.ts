/*
 * Where one shape may not lie beside another: A ⊕ (−B), the Minkowski sum of the fixed shape and the mirrored moving one. With B's origin at p
 * the two overlap exactly when p lies inside. Its depth at p, the distance to its border, is the shortest way out.
 * Sums of convex parts are merged by edge direction and united; a grid answers most depth queries without touching an edge.
 * @source [bennell-oliveira2008] §3; convex sums [de-berg2008] ch. 13
 */
import type { F64, U32 } from '../base/arrays.ts';
import { roundOff } from '../base/tolerance.ts';
import { combinePolygons } from '../plane/offset.ts';

export interface NoFit {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** x0 y0 x1 y1 of each border edge. */
  readonly edges: F64;
  /** Cells a row and a column of the grid over the box. */
  readonly cells: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
  /** For each cell: outside, inside, or crossed by the border. */
  readonly kind: Readonly<Uint8Array>;
  /** Depth at the grid's nodes, negative outside; (cells + 1)². */
  readonly nodeDepth: F64;
  /** For each crossed cell the edges that can be nearest to a point in it, and for each row the edges that a ray can cross: lists of edge offsets. */
  readonly nearStart: U32;
  readonly near: U32;
  readonly rowStart: U32;
  readonly rows: U32;
}

const outside = 0;
const inside = 1;
const crossed = 2;

/** Cells along one side of the grid. */
const gridCells = 24;

/**
 * @param fixed convex parts of A, counter-clockwise
 * @param moving convex parts of B, counter-clockwise
 */
export function makeNoFit(fixed: readonly F64[], moving: readonly F64[]): NoFit {
  const sums = fixed.flatMap((a) => moving.map((b) => convexDifference(a, b)));
  const rings = combinePolygons('union', sums, []);
  const edges = new Float64Array(rings.reduce((count, ring) => count + 2 * ring.length, 0));
  let [at, minX, minY, maxX, maxY] = [0, Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      edges.set([ring[i], ring[i + 1], ring[j], ring[j + 1]], at);
      at += 4;
      minX = Math.min(minX, ring[i]);
      maxX = Math.max(maxX, ring[i]);
      minY = Math.min(minY, ring[i + 1]);
      maxY = Math.max(maxY, ring[i + 1]);
    }
  }
  return { minX, minY, maxX, maxY, edges, ...makeGrid(edges, minX, minY, maxX, maxY) };
}

/** A ⊕ (−B) of convex polygons: edges of both in order of direction. */
function convexDifference(a: F64, b: F64): Float64Array {
  const mirrored = Float64Array.from(b, (x) => -x);
  const [p, q] = [fromLowest(a), fromLowest(mirrored)];
  const [n, m] = [p.length / 2, q.length / 2];
  const sum = new Float64Array(2 * (n + m));
  let [i, j] = [0, 0];
  for (let k = 0; k < n + m; k++) {
    sum[2 * k] = p[2 * (i % n)] + q[2 * (j % m)];
    sum[2 * k + 1] = p[2 * (i % n) + 1] + q[2 * (j % m) + 1];
    const cross = i >= n ? -1 : j >= m ? 1 : edgeCross(p, i, q, j);
    if (cross >= 0) i++;
    else j++;
  }
  return sum;
}

function edgeCross(p: F64, i: number, q: F64, j: number): number {
  const [i2, j2] = [(2 * i + 2) % p.length, (2 * j + 2) % q.length];
  return (p[i2] - p[2 * i]) * (q[j2 + 1] - q[2 * j + 1]) - (p[i2 + 1] - p[2 * i + 1]) * (q[j2] - q[2 * j]);
}

/** The ring started at its lowest, then leftmost vertex. */
function fromLowest(ring: F64): Float64Array {
  let start = 0;
  for (let i = 2; i < ring.length; i += 2)
    if (ring[i + 1] < ring[start + 1] || (ring[i + 1] === ring[start + 1] && ring[i] < ring[start])) start = i;
  return Float64Array.from(ring, (_, i) => ring[(start + i) % ring.length]);
}

function makeGrid(
  edges: F64,
  minX: number,
  minY: number,
  maxX: number,
  maxY: number,
): Omit<NoFit, 'minX' | 'minY' | 'maxX' | 'maxY' | 'edges'> {
  const cells = gridCells;
  const cellWidth = (maxX - minX) / cells;
  const cellHeight = (maxY - minY) / cells;
  const halfDiagonal = Math.hypot(cellWidth, cellHeight) / 2;
  const kind = new Uint8Array(cells * cells);
  const nodeDepth = new Float64Array((cells + 1) * (cells + 1));
  const nearStart = new Uint32Array(cells * cells + 1);
  const near: number[] = [];
  const rowStart = new Uint32Array(cells + 1);
  const rows: number[] = [];
  for (let row = 0; row <= cells; row++) {
    const bottom = minY + row * cellHeight;
    for (let column = 0; column <= cells; column++) {
      nodeDepth[row * (cells + 1) + column] = edgeDepth(edges, minX + column * cellWidth, bottom);
      if (row === cells || column === cells) continue;
      const cell = row * cells + column;
      const [x, y] = [minX + (column + 0.5) * cellWidth, bottom + cellHeight / 2];
      const middle = edgeDepth(edges, x, y);
      kind[cell] = middle > halfDiagonal ? inside : middle < -halfDiagonal ? outside : crossed;
      if (kind[cell] === crossed) nearEdgesInto(near, edges, x, y, Math.abs(middle) + 2 * halfDiagonal);
      nearStart[cell + 1] = near.length;
    }
    if (row === cells) continue;
    for (let e = 0; e < edges.length; e += 4) {
      const [low, high] = edges[e + 1] < edges[e + 3] ? [edges[e + 1], edges[e + 3]] : [edges[e + 3], edges[e + 1]];
      // A little wider than the row: a point on its rim may round into the neighbouring one.
      if (high >= bottom - cellHeight / 4 && low <= bottom + cellHeight * 1.25) rows.push(e);
    }
    rowStart[row + 1] = rows.length;
  }
  return { cells, cellWidth, cellHeight, kind, nodeDepth, nearStart, near: Uint32Array.from(near), rowStart, rows: Uint32Array.from(rows) };
}

/** Edges that come within a distance of a point. */
function nearEdgesInto(near: number[], edges: F64, x: number, y: number, distance: number): void {
  const square = distance * distance * (1 + roundOff);
  for (let e = 0; e < edges.length; e += 4) if (edgeSquare(edges, e, x, y) <= square) near.push(e);
}

/** Squared distance of a point from edge e. */
function edgeSquare(edges: F64, e: number, x: number, y: number): number {
  const ax = edges[e] - x;
  const ay = edges[e + 1] - y;
  const dx = edges[e + 2] - edges[e];
  const dy = edges[e + 3] - edges[e + 1];
  let t = -(ax * dx + ay * dy) / (dx * dx + dy * dy);
  t = t > 0 ? (t < 1 ? t : 1) : 0;
  const px = ax + t * dx;
  const py = ay + t * dy;
  return px * px + py * py;
}

/** True if a ray from the point to the right crosses edge e (half open, so that a corner counts once). */
function isCrossed(edges: F64, e: number, x: number, y: number): boolean {
  const ay = edges[e + 1] - y;
  const by = edges[e + 3] - y;
  if (ay > 0 === by > 0) return false;
  return (edges[e] - x) * by - (edges[e + 2] - x) * ay > 0 === by > ay;
}

/** Distance to the border, positive inside (by the parity of crossings). */
function edgeDepth(edges: F64, x: number, y: number): number {
  let isInside = false;
  let least = Infinity;
  for (let e = 0; e < edges.length; e += 4) {
    if (isCrossed(edges, e, x, y)) isInside = !isInside;
    const square = edgeSquare(edges, e, x, y);
    if (square < least) least = square;
  }
  const distance = Math.sqrt(least);
  return isInside ? distance : -distance;
}

/** How far p = (x, y) must move to come out; 0 where the shapes do not overlap. Exact near the border, interpolated deep inside. */
export function depthAt(noFit: NoFit, x: number, y: number): number {
  if (x <= noFit.minX || x >= noFit.maxX || y <= noFit.minY || y >= noFit.maxY) return 0;
  const gridX = (x - noFit.minX) / noFit.cellWidth;
  const gridY = (y - noFit.minY) / noFit.cellHeight;
  const column = Math.min(Math.floor(gridX), noFit.cells - 1);
  const row = Math.min(Math.floor(gridY), noFit.cells - 1);
  const cell = row * noFit.cells + column;
  const kind = noFit.kind[cell];
  if (kind === outside) return 0;
  if (kind === inside) {
    const [u, v] = [gridX - column, gridY - row];
    const node = cell + row;
    const depth = noFit.nodeDepth;
    const above = node + noFit.cells + 1;
    return (1 - v) * ((1 - u) * depth[node] + u * depth[node + 1]) + v * ((1 - u) * depth[above] + u * depth[above + 1]);
  }
  const { edges, rows, near } = noFit;
  let isInside = false;
  for (let k = noFit.rowStart[row]; k < noFit.rowStart[row + 1]; k++) if (isCrossed(edges, rows[k], x, y)) isInside = !isInside;
  if (!isInside) return 0;
  let least = Infinity;
  for (let k = noFit.nearStart[cell]; k < noFit.nearStart[cell + 1]; k++) {
    const square = edgeSquare(edges, near[k], x, y);
    if (square < least) least = square;
  }
  return Math.sqrt(least);
}
