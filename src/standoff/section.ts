/*
 * Plane sections of a mesh and their girths: along the skin, and as a tape lies, around the section's convex hull.
 * A vertex exactly on the plane counts as above it, so that every crossed face gives one segment and loops close by shared edges.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Plane } from '../body/body.ts';
import { faceCount, nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';

/** One line of a section: points x y z, mm, in order; a closed one does not repeat its first point. */
export interface SectionLine {
  readonly points: readonly Vec3[];
  readonly closed: boolean;
}

/** All lines in which a plane cuts the mesh, the longest first. Linear. */
export function cutByPlane(mesh: HalfEdgeMesh, plane: Plane): SectionLine[] {
  const height = heights(mesh, plane);
  const isAbove = (h: number): boolean => height[mesh.faces[h]] >= 0;
  // Of the crossed half-edges of a face one runs up and one runs down: the line enters by the one and leaves by the other.
  const rising = new Int32Array(faceCount(mesh)).fill(-1);
  const falling = new Int32Array(faceCount(mesh)).fill(-1);
  for (let h = 0; h < mesh.faces.length; h++) {
    const start = isAbove(h);
    if (start === isAbove(nextHalfEdge(h))) continue;
    (start ? falling : rising)[Math.floor(h / 3)] = h;
  }
  const seen = new Uint8Array(faceCount(mesh));
  const lines: SectionLine[] = [];
  for (let f = 0; f < seen.length; f++) {
    if (rising[f] === -1 || seen[f] === 1) continue;
    lines.push(followSection(mesh, height, f, rising, falling, seen));
  }
  return lines.sort((a, b) => lineLength(b) - lineLength(a));
}

function heights(mesh: HalfEdgeMesh, plane: Plane): Float64Array {
  const [nx, ny, nz] = plane.normal;
  const offset = nx * plane.point[0] + ny * plane.point[1] + nz * plane.point[2];
  const p = mesh.positions;
  const height = new Float64Array(p.length / 3);
  for (let v = 0; v < height.length; v++) height[v] = nx * p[3 * v] + ny * p[3 * v + 1] + nz * p[3 * v + 2] - offset;
  return height;
}

function followSection(
  mesh: HalfEdgeMesh,
  height: Float64Array,
  first: number,
  rising: Int32Array,
  falling: Int32Array,
  seen: Uint8Array,
): SectionLine {
  // Back to an open end first, if there is one, so that an open line is one line.
  let start = first;
  for (;;) {
    const before = mesh.twin[rising[start]];
    if (before === -1) break;
    start = Math.floor(before / 3);
    if (start === first) break;
  }
  const points: Vec3[] = [];
  let f = start;
  for (;;) {
    seen[f] = 1;
    points.push(crossing(mesh, height, rising[f]));
    const across = mesh.twin[falling[f]];
    if (across === -1) {
      points.push(crossing(mesh, height, falling[f]));
      return { points, closed: false };
    }
    f = Math.floor(across / 3);
    if (f === start) return { points, closed: true };
  }
}

function crossing(mesh: HalfEdgeMesh, height: Float64Array, h: number): Vec3 {
  const a = mesh.faces[h];
  const b = mesh.faces[nextHalfEdge(h)];
  const t = height[a] / (height[a] - height[b]);
  const p = mesh.positions;
  return [0, 1, 2].map((k) => p[3 * a + k] + t * (p[3 * b + k] - p[3 * a + k])) as unknown as Vec3;
}

/** Length of a section line along the skin, mm. */
export function lineLength(line: SectionLine): number {
  let sum = 0;
  const count = line.points.length;
  for (let i = line.closed ? 0 : 1; i < count; i++) {
    const a = line.points[(i + count - 1) % count];
    const b = line.points[i];
    sum += Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  }
  return sum;
}

/**
 * Length of a tape drawn tight around a section line: the perimeter of its convex hull in the plane, mm.
 * Cost: n log n.
 */
export function tapeLength(line: SectionLine, normal: Vec3): number {
  const [u, v] = planeAxes(normal);
  const flat = line.points.map((p): readonly [number, number] => [dot(p, u), dot(p, v)]);
  flat.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const hull = [...halfHull(flat), ...halfHull([...flat].reverse())];
  let sum = 0;
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i];
    const b = hull[(i + 1) % hull.length];
    sum += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  return sum;
}

/** Lower hull of points in ascending order, without its last point (monotone chain). */
function halfHull(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const hull: (readonly [number, number])[] = [];
  for (const p of points) {
    while (hull.length >= 2) {
      const a = hull[hull.length - 2];
      const b = hull[hull.length - 1];
      if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
      hull.pop();
    }
    hull.push(p);
  }
  return hull.slice(0, -1);
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Two unit vectors that span the plane of a unit normal. */
function planeAxes(n: Vec3): readonly [Vec3, Vec3] {
  const other: Vec3 = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const along = dot(other, n);
  const raw: Vec3 = [other[0] - along * n[0], other[1] - along * n[1], other[2] - along * n[2]];
  const size = Math.hypot(...raw);
  const u: Vec3 = [raw[0] / size, raw[1] / size, raw[2] / size];
  return [u, [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]]];
}

/** Distance from a point to the nearest vertex of a section line, mm. */
export function distanceToLine(line: SectionLine, point: Vec3): number {
  let least = Infinity;
  for (const p of line.points) least = Math.min(least, Math.hypot(p[0] - point[0], p[1] - point[1], p[2] - point[2]));
  return least;
}
