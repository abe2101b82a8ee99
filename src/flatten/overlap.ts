/*
 * Whether a plane map is one-to-one. Faces: exact orientation. Borders: exact segment tests over a grid, then inclusion of whole borders.
 * A flip-free map whose borders neither cross nor include each other wrongly is one-to-one.
 * Two borders may lie on each other without overlapping (the legs of a cut in a developable part); rounding then makes them "cross" by
 * 1e-13. Such a touch (an end within `touchShare` of the other edge) counts only if the parts overlap beside it: the winding number of the
 * whole border about a point is the number of times that a flip-free map covers it, so 2 or more beside the touch is an overlap.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { touchShare, besideShare } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../mesh/navigate.ts';
import { orientation, segmentsMeet } from '../plane/predicates.ts';
import { forEachClosePair } from '../plane/segment-grid.ts';

export interface OverlapReport {
  /** Pairs of border edges that cross, touches that overlap, and borders that lie where they should not; 0 means one-to-one. */
  readonly count: number;
  /** The crossing border edges as pairs of half-edges, h0 g0 h1 g1 …, at most 200 pairs. */
  readonly pairs: U32;
}

const pairLimit = 200;

/** Faces whose plane orientation is not positive, by exact predicates; ascending. */
export function flippedFaces(mesh: Pick<HalfEdgeMesh, 'faces'>, plane: F64): number[] {
  const { faces } = mesh;
  const flipped: number[] = [];
  for (let f = 0; f < faces.length / 3; f++) {
    const a = 2 * faces[3 * f];
    const b = 2 * faces[3 * f + 1];
    const c = 2 * faces[3 * f + 2];
    if (!(orientation(plane[a], plane[a + 1], plane[b], plane[b + 1], plane[c], plane[c + 1]) > 0)) flipped.push(f);
  }
  return flipped;
}

/** Border edges in the plane: x0 y0 x1 y1 an edge, with their half-edges and loops. */
export interface BorderEdges {
  readonly halfEdge: Uint32Array;
  readonly ends: Float64Array;
  /** Vertices at both ends, for adjacency. */
  readonly vertices: Uint32Array;
  /** First edge of each loop, and the total at the end. */
  readonly loopStart: readonly number[];
}

/**
 * Overlap of the borders of a map.
 * @param plane plane positions, shape 2·n
 * Cost: near linear in the border edges for borders with edges of like length.
 */
export function borderOverlaps(mesh: HalfEdgeMesh, plane: F64): OverlapReport {
  const edges = borderEdges(mesh, plane);
  const found: number[] = [];
  let count = 0;
  const touches: number[] = [];
  const tolerance = touchShare * diagonal(edges.ends);
  forEachClosePair(edges.ends, 0, (e, g) => {
    const meeting = meet(edges, e, g, tolerance);
    if (meeting === 'apart') return;
    if (meeting === 'touch') {
      touches.push(e, g);
      return;
    }
    count++;
    if (found.length < 2 * pairLimit) found.push(edges.halfEdge[e], edges.halfEdge[g]);
  });
  for (let i = 0; i < touches.length; i += 2) {
    if (!coversTwice(edges, touches[i], tolerance) && !coversTwice(edges, touches[i + 1], tolerance)) continue;
    count++;
    if (found.length < 2 * pairLimit) found.push(edges.halfEdge[touches[i]], edges.halfEdge[touches[i + 1]]);
  }
  if (count === 0) count = wrongInclusions(edges);
  return { count, pairs: Uint32Array.from(found) };
}

export function borderEdges(mesh: HalfEdgeMesh, plane: F64): BorderEdges {
  const loops = boundaryLoops(mesh);
  const total = loops.reduce((sum, loop) => sum + loop.length, 0);
  const halfEdge = new Uint32Array(total);
  const ends = new Float64Array(4 * total);
  const vertices = new Uint32Array(2 * total);
  const loopStart = [0];
  let e = 0;
  for (const loop of loops) {
    for (const h of loop) {
      const a = mesh.faces[h];
      const b = mesh.faces[h % 3 === 2 ? h - 2 : h + 1];
      halfEdge[e] = h;
      ends[4 * e] = plane[2 * a];
      ends[4 * e + 1] = plane[2 * a + 1];
      ends[4 * e + 2] = plane[2 * b];
      ends[4 * e + 3] = plane[2 * b + 1];
      vertices[2 * e] = a;
      vertices[2 * e + 1] = b;
      e++;
    }
    loopStart.push(e);
  }
  return { halfEdge, ends, vertices, loopStart };
}

function diagonal(ends: F64): number {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ends.length; i += 2) {
    minX = Math.min(minX, ends[i]);
    maxX = Math.max(maxX, ends[i]);
    minY = Math.min(minY, ends[i + 1]);
    maxY = Math.max(maxY, ends[i + 1]);
  }
  return Math.sqrt((maxX - minX) * (maxX - minX) + (maxY - minY) * (maxY - minY));
}

function meet(edges: BorderEdges, e: number, g: number, tolerance: number): 'apart' | 'touch' | 'cross' {
  const { ends: p, vertices } = edges;
  const [i, j] = [4 * e, 4 * g];
  const sharesEnd =
    vertices[2 * e] === vertices[2 * g] ||
    vertices[2 * e] === vertices[2 * g + 1] ||
    vertices[2 * e + 1] === vertices[2 * g] ||
    vertices[2 * e + 1] === vertices[2 * g + 1];
  if (sharesEnd) return folds(edges, e, g) ? 'touch' : 'apart';
  if (!segmentsMeet(p[i], p[i + 1], p[i + 2], p[i + 3], p[j], p[j + 1], p[j + 2], p[j + 3])) return 'apart';
  const nearest = Math.min(distanceToLine(p, i, j), distanceToLine(p, i + 2, j), distanceToLine(p, j, i), distanceToLine(p, j + 2, i));
  return nearest <= tolerance ? 'touch' : 'cross';
}

/** Neighbours along a border meet beyond their common end only if they lie on each other. */
function folds(edges: BorderEdges, e: number, g: number): boolean {
  const { ends: p, vertices } = edges;
  const common = vertices[2 * e + 1] === vertices[2 * g] || vertices[2 * e + 1] === vertices[2 * g + 1] ? 2 : 0;
  const at = 4 * e + common;
  const from = 4 * e + 2 - common;
  const to = vertices[2 * g] === vertices[2 * e + common / 2] ? 4 * g + 2 : 4 * g;
  if (orientation(p[from], p[from + 1], p[at], p[at + 1], p[to], p[to + 1]) !== 0) return false;
  return (p[from] - p[at]) * (p[to] - p[at]) + (p[from + 1] - p[at + 1]) * (p[to + 1] - p[at + 1]) > 0;
}

function distanceToLine(p: F64, point: number, line: number): number {
  const x = p[line + 2] - p[line];
  const y = p[line + 3] - p[line + 1];
  const length = Math.sqrt(x * x + y * y);
  return Math.abs(orientation(p[line], p[line + 1], p[line + 2], p[line + 3], p[point], p[point + 1])) / length;
}

/** Whether the map covers some point beside the middle of edge e twice. */
function coversTwice(edges: BorderEdges, e: number, tolerance: number): boolean {
  const p = edges.ends;
  const x = p[4 * e + 2] - p[4 * e];
  const y = p[4 * e + 3] - p[4 * e + 1];
  const length = Math.sqrt(x * x + y * y);
  if (length === 0) return false;
  const reach = Math.max(100 * tolerance, besideShare * length) / length;
  const midX = p[4 * e] + 0.5 * x;
  const midY = p[4 * e + 1] + 0.5 * y;
  return (
    windingNumber(p, 0, p.length / 4, midX - reach * y, midY + reach * x) > 1 ||
    windingNumber(p, 0, p.length / 4, midX + reach * y, midY - reach * x) > 1
  );
}

/** Signed turns of edges from…to about a point; exact sign tests, half-open rule at the ends. */
function windingNumber(p: F64, from: number, to: number, x: number, y: number): number {
  let turns = 0;
  for (let i = 4 * from; i < 4 * to; i += 4) {
    if (p[i + 1] <= y !== p[i + 3] <= y) {
      const side = orientation(p[i], p[i + 1], p[i + 2], p[i + 3], x, y);
      if (p[i + 3] > y && side > 0) turns++;
      else if (p[i + 3] <= y && side < 0) turns--;
    }
  }
  return turns;
}

/** Borders that cross nothing: one outer border must run counter-clockwise and hold all others, which run clockwise and hold none. */
function wrongInclusions(edges: BorderEdges): number {
  const { ends: p, loopStart } = edges;
  const loopCount = loopStart.length - 1;
  const area = (loop: number): number => {
    let twice = 0;
    for (let i = 4 * loopStart[loop]; i < 4 * loopStart[loop + 1]; i += 4) twice += p[i] * p[i + 3] - p[i + 1] * p[i + 2];
    return twice;
  };
  let outerCount = 0;
  let wrong = 0;
  for (let loop = 0; loop < loopCount; loop++) {
    const [x, y] = [p[4 * loopStart[loop]], p[4 * loopStart[loop] + 1]];
    let holders = 0;
    for (let other = 0; other < loopCount; other++)
      if (other !== loop && windingNumber(p, loopStart[other], loopStart[other + 1], x, y) !== 0) holders++;
    const isOuter = area(loop) > 0;
    if (isOuter) outerCount++;
    if (holders !== (isOuter ? 0 : 1)) wrong++;
  }
  return wrong + Math.abs(outerCount - 1);
}
