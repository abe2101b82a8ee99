/*
 * Paths become edges. Each node of a path becomes a vertex of the refinement, then each stretch between two nodes inside one face below
 * becomes a chain of edges: where it meets an earlier cut both are given one common vertex, elsewhere the edges in its way are flipped
 * aside. Which side a vertex lies on is decided by exact signs of grid coordinates, so crossings, tees, overlaps and stretches along
 * edges need no special cases. Near misses within `pathSnapShare` are led through the vertex, which keeps slivers out.
 * @source [sloan1993] recovering an edge by flips
 */
import { pathSnapShare } from '../base/tolerance.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { PathNode, SurfacePath } from '../mesh/surface-point.ts';
import { commonFace, pointOf, weightsIn } from '../lines/surface-path.ts';
import { orientation } from '../plane/predicates.ts';
import type { Refinement } from './refinement.ts';
import { onGrid } from './refinement.ts';

/**
 * Makes a path run along edges and marks them with the cut's name.
 * @param refinement is changed: it belongs to the caller, who made it for this
 * @returns the vertices of the path's nodes, in order
 */
export function imprintPath(refinement: Refinement, path: SurfacePath, cut: string): number[] {
  const nodes = path.closed ? [...path.nodes, path.nodes[0]] : path.nodes;
  const vertices = nodes.map((node) => insertNode(refinement, node));
  for (let i = 1; i < nodes.length; i++) {
    const f = commonFace(refinement.base, nodes[i - 1], nodes[i]);
    if (f === -1) throw new RangeError(`nodes ${i - 1} and ${i} of a path share no face`);
    imprintStretch(refinement, f, vertices[i - 1], vertices[i], cut);
  }
  return vertices;
}

/** The vertex at a node: an existing one within `pathSnapShare`, or a new one. */
export function insertNode(refinement: Refinement, node: PathNode): number {
  if (node.on === 'vertex') return node.vertex;
  if (node.on === 'edge') return insertOnEdge(refinement, node.halfEdge, onGrid(node.t));
  const small = node.weights.map((w) => w < pathSnapShare);
  const large = [0, 1, 2].filter((i) => !small[i]);
  if (large.length === 1) return refinement.base.faces[3 * node.face + large[0]];
  if (large.length === 2) {
    const i = large[1] === nextHalfEdge(large[0]) ? large[0] : large[1];
    const j = nextHalfEdge(i);
    return insertOnEdge(refinement, 3 * node.face + i, onGrid(node.weights[j] / (node.weights[i] + node.weights[j])));
  }
  return insertInFace(refinement, node.face, onGrid(node.weights[1]), onGrid(node.weights[2]));
}

function insertOnEdge(refinement: Refinement, h: number, t: number): number {
  const { base } = refinement;
  const chain = [{ t: 0, vertex: base.faces[h] }, ...refinement.alongBaseEdge(h), { t: 1, vertex: base.faces[nextHalfEdge(h)] }];
  const after = Math.max(
    1,
    chain.findIndex((entry) => entry.t >= t),
  );
  const [low, high] = [chain[after - 1], chain[after]];
  if (t - low.t < pathSnapShare && t - low.t <= high.t - t) return low.vertex;
  if (high.t - t < pathSnapShare) return high.vertex;
  return refinement.splitEdge(halfEdgeBetween(refinement, low.vertex, high.vertex, Math.floor(h / 3)), { on: 'edge', halfEdge: h, t });
}

/** The half-edge from a to b whose face lies in the given face below; −1 if there is none. */
function halfEdgeBetween(refinement: Refinement, a: number, b: number, baseFace: number): number {
  const { corner, origin } = refinement;
  return refinement.around(a).find((h) => corner[nextHalfEdge(h)] === b && origin[Math.floor(h / 3)] === baseFace) ?? -1;
}

/** All faces of the refinement inside one face below. */
export function facesInside(refinement: Refinement, baseFace: number): number[] {
  const { origin, twin } = refinement;
  const found = [baseFace];
  const seen = new Set(found);
  for (let i = 0; i < found.length; i++) {
    for (let h = 3 * found[i]; h < 3 * found[i] + 3; h++) {
      const f = twin[h] === -1 ? -1 : Math.floor(twin[h] / 3);
      if (f === -1 || origin[f] !== baseFace || seen.has(f)) continue;
      seen.add(f);
      found.push(f);
    }
  }
  return found;
}

function insertInFace(refinement: Refinement, baseFace: number, u: number, v: number): number {
  const { corner } = refinement;
  let best = { f: -1, least: -Infinity, weights: [0, 0, 0] as readonly number[] };
  for (const f of facesInside(refinement, baseFace)) {
    const weights = localWeights(refinement, baseFace, f, u, v);
    const least = Math.min(...weights);
    if (least > best.least) best = { f, least, weights };
  }
  const { f, weights } = best;
  const ends = [0, 1, 2].map((i) => refinement.weightsIn(corner[3 * f + i], baseFace));
  for (let i = 0; i < 3; i++) if (Math.hypot(ends[i][1] - u, ends[i][2] - v) < pathSnapShare) return corner[3 * f + i];
  for (let i = 0; i < 3; i++) {
    const [a, b, c] = [ends[i], ends[nextHalfEdge(i)], ends[previousHalfEdge(i)]];
    const length = Math.hypot(b[1] - a[1], b[2] - a[2]);
    const height = Math.abs((b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1])) / length;
    if (weights[previousHalfEdge(i)] * height >= pathSnapShare) continue;
    const share = ((u - a[1]) * (b[1] - a[1]) + (v - a[2]) * (b[2] - a[2])) / (length * length);
    return splitSafely(refinement, 3 * f + i, share);
  }
  return refinement.splitFace(f, { on: 'face', face: baseFace, weights: [1 - u - v, u, v] });
}

/** Barycentric weights of (u, v) in a face of the refinement, by areas in the face below; negative outside. */
export function localWeights(refinement: Refinement, baseFace: number, f: number, u: number, v: number): readonly number[] {
  const ends = [0, 1, 2].map((i) => refinement.weightsIn(refinement.corner[3 * f + i], baseFace));
  const part = (i: number): number => {
    const [b, c] = [ends[nextHalfEdge(i)], ends[previousHalfEdge(i)]];
    return (b[1] - u) * (c[2] - v) - (b[2] - v) * (c[1] - u);
  };
  const parts = [part(0), part(1), part(2)];
  const sum = parts[0] + parts[1] + parts[2];
  return parts.map((x) => x / sum);
}

/** Splits an edge at a share of it, or gives the nearer end where a new vertex would turn a face over. */
function splitSafely(refinement: Refinement, h: number, share: number): number {
  const { corner, twin, origin } = refinement;
  const node = refinement.placeAlong(h, Math.max(0, Math.min(1, share)));
  const f = origin[Math.floor(h / 3)];
  const [a, b] = [corner[h], corner[nextHalfEdge(h)]];
  const nearer = share <= 0.5 ? a : b;
  if (node.on === 'edge') return insertOnEdge(refinement, node.halfEdge, node.t);
  if (node.on !== 'face') return nearer;
  const [, u, v] = node.weights;
  const around = [corner[previousHalfEdge(h)], corner[previousHalfEdge(twin[h])]];
  const [p, q] = [refinement.weightsIn(a, f), refinement.weightsIn(b, f)];
  // The two ends, then the corner on either side: all four new faces must turn the right way.
  const turns = around.map((c, side) => {
    const r = refinement.weightsIn(c, f);
    const sign = side === 0 ? 1 : -1;
    const first = sign * orientation(p[1], p[2], u, v, r[1], r[2]);
    const second = sign * orientation(u, v, q[1], q[2], r[1], r[2]);
    return first > 0 && second > 0;
  });
  return turns.every(Boolean) ? refinement.splitEdge(h, node) : nearer;
}

/** No stretch inside one face meets this many cuts. */
const stepLimit = 100_000;

/** Makes the straight stretch between two vertices that touch a face below run along edges. */
function imprintStretch(refinement: Refinement, f: number, from: number, to: number, cut: string): void {
  let at = from;
  for (let steps = 0; at !== to; steps++) {
    if (steps > stepLimit) throw new RangeError('a stretch does not reach its end');
    const next = nextStop(refinement, f, at, to);
    const h = connect(refinement, f, at, next);
    refinement.addCut(h, cut);
    at = next;
  }
}

type Ahead =
  | { readonly kind: 'vertex'; readonly vertex: number }
  /** Half-edge h of the face being left, crossed at share s of it. */
  | { readonly kind: 'edge'; readonly h: number; readonly s: number };

/** The vertex or edge that the ray from `at` to `to` meets first. */
function firstAhead(refinement: Refinement, f: number, at: number, to: number): Ahead {
  const { corner, origin } = refinement;
  for (const h of refinement.around(at)) {
    if (origin[Math.floor(h / 3)] !== f) continue;
    const opposite = nextHalfEdge(h);
    const [x, y] = [corner[opposite], corner[previousHalfEdge(h)]];
    if (x === to || y === to) return { kind: 'vertex', vertex: to };
    const right = refinement.orient(f, at, x, to);
    const left = refinement.orient(f, at, y, to);
    if (right < 0 || left > 0) continue;
    if (right === 0) return { kind: 'vertex', vertex: x };
    if (left === 0) return { kind: 'vertex', vertex: y };
    return crossingOf(refinement, f, at, to, opposite);
  }
  throw new RangeError('a stretch leaves the face that it lies in');
}

/** How the segment from `at` to `to` crosses half-edge h. */
function crossingOf(refinement: Refinement, f: number, at: number, to: number, h: number): Ahead {
  const [x, y] = [refinement.corner[h], refinement.corner[nextHalfEdge(h)]];
  const right = Math.abs(refinement.orient(f, at, to, x));
  const left = Math.abs(refinement.orient(f, at, to, y));
  return { kind: 'edge', h, s: right / (right + left) };
}

/** The next vertex of the chain from `at` towards `to`: one on the way, a new one on an earlier cut, or `to`. */
function nextStop(refinement: Refinement, f: number, at: number, to: number): number {
  const { corner, cut, twin } = refinement;
  let ahead = firstAhead(refinement, f, at, to);
  for (;;) {
    if (ahead.kind === 'vertex') return ahead.vertex;
    const { h, s } = ahead;
    const near = nearMiss(refinement, f, at, to, h, s);
    if (near !== -1) return near;
    if (cut[h] !== 0) return splitSafely(refinement, h, s);
    const beyond = corner[previousHalfEdge(twin[h])];
    if (beyond === to) return to;
    const side = refinement.orient(f, at, to, beyond);
    if (side === 0) return beyond;
    // The segment leaves the next face through the edge that lies across it.
    ahead = crossingOf(refinement, f, at, to, side > 0 ? nextHalfEdge(twin[h]) : previousHalfEdge(twin[h]));
  }
}

/** An end of edge h that the segment misses by less than `pathSnapShare`, provided it lies nearer to the goal; else −1. */
function nearMiss(refinement: Refinement, f: number, at: number, to: number, h: number, s: number): number {
  const [x, y] = [refinement.corner[h], refinement.corner[nextHalfEdge(h)]];
  const length = apart(refinement, f, x, y);
  const end = s * length < pathSnapShare ? x : (1 - s) * length < pathSnapShare ? y : -1;
  return end !== -1 && apart(refinement, f, end, to) < apart(refinement, f, at, to) ? end : -1;
}

function apart(refinement: Refinement, f: number, a: number, b: number): number {
  const [p, q] = [refinement.weightsIn(a, f), refinement.weightsIn(b, f)];
  return Math.hypot(p[1] - q[1], p[2] - q[2]);
}

/** The half-edge from a to b, after the uncut edges between them have been flipped out of the way. */
function connect(refinement: Refinement, f: number, a: number, b: number): number {
  const { corner, twin } = refinement;
  const known = halfEdgeInside(refinement, f, a, b);
  if (known !== -1) return known;
  const inTheWay: (readonly [number, number])[] = [];
  let ahead = firstAhead(refinement, f, a, b);
  while (ahead.kind === 'edge') {
    const g = twin[ahead.h];
    inTheWay.push([corner[ahead.h], corner[g]]);
    const beyond = corner[previousHalfEdge(g)];
    if (beyond === b) break;
    const side = refinement.orient(f, a, b, beyond);
    if (side === 0) throw new RangeError('a vertex lies on a stretch that should be free');
    ahead = crossingOf(refinement, f, a, b, side > 0 ? nextHalfEdge(g) : previousHalfEdge(g));
  }
  let patience = 4 * (inTheWay.length + 2) * (inTheWay.length + 2);
  while (inTheWay.length > 0 && patience-- > 0) {
    const [x, y] = inTheWay.shift() ?? [a, b];
    const h = halfEdgeInside(refinement, f, x, y);
    const [c, d] = [corner[previousHalfEdge(h)], corner[previousHalfEdge(twin[h])]];
    // Strictly convex quadrilateral x d y c: its other diagonal runs inside.
    if (!(refinement.orient(f, x, d, c) > 0 && refinement.orient(f, d, y, c) > 0)) {
      inTheWay.push([x, y]);
      continue;
    }
    refinement.flip(h);
    if (c === a || c === b || d === a || d === b) continue;
    if (Math.sign(refinement.orient(f, a, b, c)) !== Math.sign(refinement.orient(f, a, b, d))) inTheWay.push([c, d]);
  }
  const made = halfEdgeInside(refinement, f, a, b);
  if (made === -1) throw new RangeError('edges in the way of a stretch could not be flipped');
  return made;
}

function halfEdgeInside(refinement: Refinement, f: number, a: number, b: number): number {
  const own = halfEdgeBetween(refinement, a, b, f);
  if (own !== -1) return own;
  const back = halfEdgeBetween(refinement, b, a, f);
  return back === -1 ? -1 : refinement.twin[back] === -1 ? back : refinement.twin[back];
}

/** Where a node lies as a vertex or inside a face of the refinement: a face and weights there. */
export function locate(refinement: Refinement, node: PathNode): { readonly face: number; readonly weights: readonly number[] } {
  const point = pointOf(refinement.base, node);
  const [, u, v] = weightsIn(refinement.base, node, point.face);
  let best = { face: -1, weights: [1, 0, 0] as readonly number[], least: -Infinity };
  for (const face of facesInside(refinement, point.face)) {
    const weights = localWeights(refinement, point.face, face, u, v);
    const least = Math.min(...weights);
    if (least > best.least) best = { face, weights, least };
  }
  return best;
}
