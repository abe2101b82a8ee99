/*
 * Cutting a mesh by a plane. What lies on the side to which the normal points goes: all of it, or only the part whose cut runs nearest to the
 * plane's point (an arm, without the hip that the same plane would touch). Faces are cut exactly along the plane; a vertex nearer to the cut than
 * `snapShare` of an edge slides along that edge onto the plane, so that no sliver arises.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { buildMesh } from '../mesh/build.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Plane } from './body.ts';
import { frameOf } from './section.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

export interface PlaneCut {
  readonly triangles: Triangles;
  /** Area that was cut off, mm². */
  readonly removedMm2: number;
  /** Longest way of a vertex that slid onto the plane, mm. */
  readonly largestMm: number;
}

/** Share of an edge within which a vertex slides onto the plane. */
const snapShare = 0.1;

/**
 * Cuts oriented, manifold triangles by a plane.
 * @param plane the normal points to what goes
 * @param extent 'all' that lies there, or the 'part' nearest to the plane's point
 */
export function cutByPlane(triangles: Triangles, plane: Plane, extent: 'all' | 'part'): PlaneCut {
  const { normal } = frameOf(plane.normal);
  const height = new Float64Array(triangles.positions.length / 3);
  for (let v = 0; v < height.length; v++)
    for (let k = 0; k < 3; k++) height[v] += (triangles.positions[3 * v + k] - plane.point[k]) * normal[k];
  return cutByHeight(triangles, height, plane.point, extent);
}

/**
 * Cuts oriented, manifold triangles where a function of the place is 0; what lies above 0 goes.
 * @param values the function at each vertex, about as steep as a distance in mm; the cut is linear along edges
 * @param near the part whose cut comes nearest to this point is the one that 'part' means
 */
export function cutByHeight(triangles: Triangles, values: F64, near: Vec3, extent: 'all' | 'part'): PlaneCut {
  const mesh = buildMesh(triangles.positions, triangles.faces);
  const height = Float64Array.from(values);
  const isChosen = chooseFaces(mesh, height, near, extent);
  const positions = Float64Array.from(mesh.positions);
  const largestMm = snapInto(positions, height, mesh, isChosen);
  return { ...splitFaces(mesh, positions, height, isChosen), largestMm };
}

/** Faces that reach above the plane: all, or those of the connected part whose faces across the plane come nearest to the point. */
function chooseFaces(mesh: HalfEdgeMesh, height: Float64Array, point: Vec3, extent: 'all' | 'part'): Uint8Array {
  const isAbove = (v: number): boolean => height[v] > 0;
  const faceTotal = mesh.faces.length / 3;
  const part = new Int32Array(faceTotal).fill(-1);
  const isChosen = new Uint8Array(faceTotal);
  let nearestPart = -1;
  let nearest = Infinity;
  const stack: number[] = [];
  let parts = 0;
  for (let seed = 0; seed < faceTotal; seed++) {
    if (part[seed] !== -1 || ![0, 1, 2].some((i) => isAbove(mesh.faces[3 * seed + i]))) continue;
    stack.push(seed);
    part[seed] = parts;
    for (let f = stack.pop(); f !== undefined; f = stack.pop()) {
      isChosen[f] = 1;
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
        if (isAbove(a) !== isAbove(b)) {
          const distance = distanceTo(mesh.positions, a, b, height, point);
          if (distance < nearest) [nearest, nearestPart] = [distance, parts];
        }
        if (mesh.twin[h] === -1 || !(isAbove(a) || isAbove(b))) continue;
        const other = Math.floor(mesh.twin[h] / 3);
        if (part[other] !== -1) continue;
        part[other] = parts;
        stack.push(other);
      }
    }
    parts++;
  }
  if (extent === 'part') for (let f = 0; f < faceTotal; f++) if (part[f] !== nearestPart) isChosen[f] = 0;
  return isChosen;
}

/** Distance from a point to where edge a b crosses the plane. */
function distanceTo(positions: F64, a: number, b: number, height: Float64Array, point: Vec3): number {
  const t = height[a] / (height[a] - height[b]);
  return Math.hypot(...[0, 1, 2].map((k) => positions[3 * a + k] + t * (positions[3 * b + k] - positions[3 * a + k]) - point[k]));
}

/** Slides vertices near the plane onto it along the edge on which they are nearest. Returns the longest way. */
function snapInto(positions: Float64Array, height: Float64Array, mesh: HalfEdgeMesh, isChosen: Uint8Array): number {
  const way = new Float64Array(height.length).fill(Infinity);
  const along = new Int32Array(height.length).fill(-1);
  for (let h = 0; h < mesh.faces.length; h++) {
    const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
    if (isChosen[Math.floor(h / 3)] === 0 || height[a] > 0 === height[b] > 0) continue;
    const t = height[a] / (height[a] - height[b]);
    const length = Math.hypot(...[0, 1, 2].map((k) => mesh.positions[3 * b + k] - mesh.positions[3 * a + k]));
    for (const [from, to, share] of [
      [a, b, t],
      [b, a, 1 - t],
    ]) {
      if (share > snapShare || share * length >= way[from]) continue;
      way[from] = share * length;
      along[from] = to;
    }
  }
  let largest = 0;
  const snapped: number[] = [];
  for (let v = 0; v < height.length; v++) {
    const u = along[v];
    // An edge whose both ends want to slide keeps the one with the shorter way.
    if (u === -1 || (along[u] === v && (way[u] < way[v] || (way[u] === way[v] && u < v)))) continue;
    const t = height[v] / (height[v] - height[u]);
    for (let k = 0; k < 3; k++)
      positions[3 * v + k] = mesh.positions[3 * v + k] + t * (mesh.positions[3 * u + k] - mesh.positions[3 * v + k]);
    largest = Math.max(largest, way[v]);
    snapped.push(v);
  }
  for (const v of snapped) height[v] = 0;
  return largest;
}

/** Keeps what is below the plane, cutting the chosen faces that cross it. */
function splitFaces(mesh: HalfEdgeMesh, positions: Float64Array, height: Float64Array, isChosen: Uint8Array): Omit<PlaneCut, 'largestMm'> {
  const faces: number[] = [];
  const added: number[] = [];
  const newVertex = new Map<number, number>();
  let removedMm2 = 0;
  const crossing = (h: number): number => {
    const owner = mesh.twin[h] === -1 || h < mesh.twin[h] ? h : mesh.twin[h];
    const known = newVertex.get(owner);
    if (known !== undefined) return known;
    const [a, b] = [mesh.faces[owner], mesh.faces[nextHalfEdge(owner)]];
    const t = height[a] / (height[a] - height[b]);
    for (let k = 0; k < 3; k++) added.push(positions[3 * a + k] + t * (positions[3 * b + k] - positions[3 * a + k]));
    const vertex = positions.length / 3 + added.length / 3 - 1;
    newVertex.set(owner, vertex);
    return vertex;
  };
  for (let f = 0; f < isChosen.length; f++) {
    if (isChosen[f] === 0) {
      faces.push(mesh.faces[3 * f], mesh.faces[3 * f + 1], mesh.faces[3 * f + 2]);
      continue;
    }
    const kept: number[] = [];
    const gone: number[] = [];
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
      if (height[a] <= 0) kept.push(a);
      if (height[a] >= 0) gone.push(a);
      if (height[a] * height[b] >= 0) continue;
      const vertex = crossing(h);
      kept.push(vertex);
      gone.push(vertex);
    }
    if (gone.some((v) => v < height.length && height[v] > 0)) removedMm2 += polygonArea(positions, added, gone);
    if (kept.some((v) => v < height.length && height[v] < 0)) pushPolygonInto(faces, kept, positions, added);
  }
  const whole = new Float64Array(positions.length + added.length);
  whole.set(positions);
  whole.set(added, positions.length);
  return { triangles: compactTriangles({ positions: whole, faces: Uint32Array.from(faces) }), removedMm2 };
}

function placeOf(positions: F64, added: readonly number[], v: number): Vec3 {
  const at = 3 * v - positions.length;
  if (at < 0) return [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
  return [added[at], added[at + 1], added[at + 2]];
}

/** A triangle or a quad; the quad along its shorter diagonal. */
function pushPolygonInto(faces: number[], polygon: readonly number[], positions: F64, added: readonly number[]): void {
  if (polygon.length === 3) {
    faces.push(...polygon);
    return;
  }
  const [a, b, c, d] = polygon.map((v) => placeOf(positions, added, v));
  const apart = (p: Vec3, q: Vec3): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
  const [p, q, r, s] = polygon;
  if (apart(a, c) <= apart(b, d)) faces.push(p, q, r, p, r, s);
  else faces.push(q, r, s, q, s, p);
}

function polygonArea(positions: F64, added: readonly number[], polygon: readonly number[]): number {
  const points = polygon.map((v) => placeOf(positions, added, v));
  let twice = 0;
  for (let i = 1; i + 1 < points.length; i++) {
    const [ux, uy, uz] = [0, 1, 2].map((k) => points[i][k] - points[0][k]);
    const [vx, vy, vz] = [0, 1, 2].map((k) => points[i + 1][k] - points[0][k]);
    twice += Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  }
  return twice / 2;
}

/** The plane through three points, its normal by the right-hand rule. Unit normal; undefined where they lie on a line. */
export function planeOfPoints(a: Vec3, b: Vec3, c: Vec3): Plane | undefined {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const cross: Vec3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(...cross);
  return length > 0 ? { point: a, normal: [cross[0] / length, cross[1] / length, cross[2] / length] } : undefined;
}
