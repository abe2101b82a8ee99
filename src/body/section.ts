/*
 * The section of a mesh with a plane, as polygons in the plane. A vertex exactly on the plane counts as above it, so each face that is cut has
 * one edge that rises through the plane and one that falls through it; the walk enters by the falling edge and leaves by the rising one, which
 * runs counter-clockwise about the plane's normal around solid matter. Both faces of an edge compute its point from the same two numbers.
 */
import type { F64, U32, Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Plane } from './body.ts';

/** One closed or open line of a section. */
export interface SectionLoop {
  /** Points in the plane, x along `frame.u`, y along `frame.w`, origin at the plane's point; shape 2·n, mm. */
  readonly points: F64;
  /** The same points in space; shape 3·n. */
  readonly positions: F64;
  /** The rising half-edge on which each point lies (the falling one for the first point of an open line). */
  readonly halfEdges: U32;
  readonly closed: boolean;
  /** Length along the line (with the closing side), mm. */
  readonly length: number;
}

/** Two unit vectors that span a plane, u × w = normal. */
export interface PlaneFrame {
  readonly u: Vec3;
  readonly w: Vec3;
  readonly normal: Vec3;
}

/**
 * A frame of a plane, steady under small turns of the normal.
 * @param normal any length above 0
 */
export function frameOf(normal: Vec3): PlaneFrame {
  const length = Math.hypot(normal[0], normal[1], normal[2]);
  const n: Vec3 = [normal[0] / length, normal[1] / length, normal[2] / length];
  const least = Math.abs(n[0]) <= Math.abs(n[1]) && Math.abs(n[0]) <= Math.abs(n[2]) ? 0 : Math.abs(n[1]) <= Math.abs(n[2]) ? 1 : 2;
  const away = [0, 0, 0];
  away[least] = 1;
  const along = n[least];
  const raw = [away[0] - along * n[0], away[1] - along * n[1], away[2] - along * n[2]];
  const size = Math.hypot(raw[0], raw[1], raw[2]);
  const u: Vec3 = [raw[0] / size, raw[1] / size, raw[2] / size];
  return { u, w: [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]], normal: n };
}

/**
 * All lines in which a plane cuts the mesh, the longest first.
 * @returns lines that run through open borders are open. Cost: linear in the faces.
 */
export function sectionOf(mesh: HalfEdgeMesh, plane: Plane): SectionLoop[] {
  const frame = frameOf(plane.normal);
  const height = heightsOver(mesh.positions, plane.point, frame.normal);
  const { rising, falling } = cutEdges(mesh, height);
  const seen = new Uint8Array(mesh.faces.length / 3);
  const loops: SectionLoop[] = [];
  for (const onlyStarts of [true, false]) {
    for (let f = 0; f < seen.length; f++) {
      if (seen[f] === 1 || rising[f] === -1) continue;
      if (onlyStarts && mesh.twin[falling[f]] !== -1) continue;
      const halfEdges = walk(mesh, f, rising, seen);
      loops.push(makeLoop(mesh, height, plane.point, frame, onlyStarts ? [falling[f], ...halfEdges] : halfEdges, !onlyStarts));
    }
  }
  return loops.sort((a, b) => b.length - a.length);
}

function heightsOver(positions: F64, point: Vec3, normal: Vec3): Float64Array {
  const height = new Float64Array(positions.length / 3);
  for (let v = 0; v < height.length; v++)
    height[v] =
      (positions[3 * v] - point[0]) * normal[0] +
      (positions[3 * v + 1] - point[1]) * normal[1] +
      (positions[3 * v + 2] - point[2]) * normal[2];
  return height;
}

/** The half-edge of each cut face that rises through the plane, and the one that falls; −1 where the face is not cut. */
function cutEdges(mesh: HalfEdgeMesh, height: Float64Array): { rising: Int32Array; falling: Int32Array } {
  const rising = new Int32Array(mesh.faces.length / 3).fill(-1);
  const falling = new Int32Array(mesh.faces.length / 3).fill(-1);
  for (let h = 0; h < mesh.faces.length; h++) {
    const startsAbove = height[mesh.faces[h]] >= 0;
    const endsAbove = height[mesh.faces[nextHalfEdge(h)]] >= 0;
    if (startsAbove === endsAbove) continue;
    if (endsAbove) rising[Math.floor(h / 3)] = h;
    else falling[Math.floor(h / 3)] = h;
  }
  return { rising, falling };
}

/** Rising half-edges from face to face until an open border or the first face comes. */
function walk(mesh: HalfEdgeMesh, first: number, rising: Int32Array, seen: Uint8Array): number[] {
  const halfEdges: number[] = [];
  let f = first;
  while (seen[f] === 0) {
    seen[f] = 1;
    halfEdges.push(rising[f]);
    const across = mesh.twin[rising[f]];
    if (across === -1) break;
    f = Math.floor(across / 3);
  }
  return halfEdges;
}

function makeLoop(
  mesh: HalfEdgeMesh,
  height: Float64Array,
  origin: Vec3,
  frame: PlaneFrame,
  halfEdges: readonly number[],
  closed: boolean,
): SectionLoop {
  const count = halfEdges.length;
  const positions = new Float64Array(3 * count);
  const points = new Float64Array(2 * count);
  halfEdges.forEach((h, i) => {
    const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
    const [low, high] = height[a] < height[b] ? [a, b] : [b, a];
    const t = height[low] / (height[low] - height[high]);
    for (let k = 0; k < 3; k++) {
      const value = mesh.positions[3 * low + k] + t * (mesh.positions[3 * high + k] - mesh.positions[3 * low + k]);
      positions[3 * i + k] = value;
      points[2 * i] += (value - origin[k]) * frame.u[k];
      points[2 * i + 1] += (value - origin[k]) * frame.w[k];
    }
  });
  let length = 0;
  for (let i = closed ? 0 : 1; i < count; i++) {
    const j = (i + count - 1) % count;
    length += Math.hypot(points[2 * i] - points[2 * j], points[2 * i + 1] - points[2 * j + 1]);
  }
  return { points, positions, halfEdges: Uint32Array.from(halfEdges), closed, length };
}

/**
 * Convex hull of points in the plane, counter-clockwise from the leftmost one; corners only. A monotone chain [andrew1979].
 * @param points shape 2·n
 */
export function convexHull(points: F64): Float64Array {
  const total = points.length / 2;
  const order = Array.from({ length: total }, (_, i) => i).sort(
    (i, j) => points[2 * i] - points[2 * j] || points[2 * i + 1] - points[2 * j + 1] || i - j,
  );
  const chain = (indices: readonly number[]): number[] => {
    const kept: number[] = [];
    for (const i of indices) {
      while (kept.length > 1 && turn(points, kept[kept.length - 2], kept[kept.length - 1], i) <= 0) kept.pop();
      kept.push(i);
    }
    kept.pop();
    return kept;
  };
  const hull = total < 3 ? order : [...chain(order), ...chain([...order].reverse())];
  return Float64Array.from(hull.flatMap((i) => [points[2 * i], points[2 * i + 1]]));
}

/** Twice the signed area of three points. */
function turn(points: F64, i: number, j: number, k: number): number {
  return (
    (points[2 * j] - points[2 * i]) * (points[2 * k + 1] - points[2 * i + 1]) -
    (points[2 * j + 1] - points[2 * i + 1]) * (points[2 * k] - points[2 * i])
  );
}
