/*
 * Length over the surface between picked points: what a tape laid straight over the skin reads. Three steps:
 * 1. A shortest way through a graph whose nodes are three points on each edge, joined across each face, searched towards the target [hart1968].
 * 2. The same with eleven points an edge, in the faces near the first way.
 * 3. Its nodes slide along their edges until the line is straight across each: for neighbours at distances d_a, d_b from an edge's line, abreast of
 *    it at a and b, the shortest crossing is t = (a·d_b + b·d_a)/(d_a + d_b). Swept to and fro until nothing moves.
 * The result is an upper bound; on planes, spheres, cones and cylinders of 4 mm edges it is within 0.15 % of the exact distance. Seams are
 * drawn by the exact method on the floor of lines; a tape does not need it.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { outgoing } from '../mesh/navigate.ts';
import type { SpatialIndex, NearestHit } from '../mesh/spatial.ts';

export interface SurfaceLength {
  readonly lengthMm: number;
  /** The line in space; shape 3·n. */
  readonly line: F64;
}

/** Nodes an edge in steps 1 and 2. */
const coarse = 3;
const fine = 11;
/** Rings of faces around the first way that step 2 may use. */
const nearRings = 2;
/** Sweeps of step 3: it starts near the end, so few are needed. */
const mostSweeps = 40;

/**
 * Length over the surface through points in their order.
 * @param index of the same mesh
 * @param points two or more, in space; each is taken to the nearest point of the surface
 * @throws body/no-way where two points lie on parts that are not joined
 */
export function measureLength(mesh: HalfEdgeMesh, index: SpatialIndex, points: readonly Vec3[], name = 'length'): SurfaceLength {
  const hits = points.map((point) => index.nearest(point)).filter((hit) => hit !== undefined);
  const line: number[] = hits.length > 0 ? [...hits[0].at] : [];
  let lengthMm = 0;
  for (let i = 0; i + 1 < hits.length; i++) {
    const part = shortestWay(mesh, hits[i], hits[i + 1], name);
    for (let j = 3; j < part.length; j += 3) {
      lengthMm += Math.hypot(part[j] - part[j - 3], part[j + 1] - part[j - 2], part[j + 2] - part[j - 1]);
      line.push(part[j], part[j + 1], part[j + 2]);
    }
  }
  return { lengthMm, line: Float64Array.from(line) };
}

/** A crossing of an edge: the half-edge with the lower number of the two, and the share of the way along it. */
interface Crossing {
  readonly halfEdge: number;
  t: number;
}

function shortestWay(mesh: HalfEdgeMesh, from: NearestHit, to: NearestHit, name: string): number[] {
  if (from.face === to.face) return [...from.at, ...to.at];
  const first = searchCrossings(mesh, from, to, coarse);
  if (first === undefined)
    throw new Failure(
      'body/no-way',
      `"${name}": its points lie on parts of the body that are not joined.`,
      { stage: 'body', item: name, at: [...from.at] },
      'Pick both points on the same part.',
    );
  const near = facesNear(mesh, [from.face, to.face, ...first.map((crossing) => Math.floor(crossing.halfEdge / 3))]);
  const crossings = searchCrossings(mesh, from, to, fine, near) ?? first;
  slideInto(crossings, mesh, from.at, to.at);
  return [...from.at, ...crossings.flatMap((crossing) => [...placeOn(mesh, crossing.halfEdge, crossing.t)]), ...to.at];
}

const ownerOf = (mesh: HalfEdgeMesh, h: number): number => (mesh.twin[h] === -1 || h < mesh.twin[h] ? h : mesh.twin[h]);

function placeOn(mesh: HalfEdgeMesh, h: number, t: number): Vec3 {
  const p = mesh.positions;
  const [a, b] = [3 * mesh.faces[h], 3 * mesh.faces[nextHalfEdge(h)]];
  return [p[a] + t * (p[b] - p[a]), p[a + 1] + t * (p[b + 1] - p[a + 1]), p[a + 2] + t * (p[b + 2] - p[a + 2])];
}

const apart = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** The faces and `nearRings` rings of faces around them. */
function facesNear(mesh: HalfEdgeMesh, seeds: readonly number[]): ReadonlySet<number> {
  const near = new Set(seeds);
  let rim = [...near];
  for (let ring = 0; ring < nearRings; ring++) {
    const next: number[] = [];
    for (const face of rim)
      for (let i = 0; i < 3; i++)
        for (const h of outgoing(mesh, mesh.faces[3 * face + i])) {
          const other = Math.floor(h / 3);
          if (near.has(other)) continue;
          near.add(other);
          next.push(other);
        }
    rim = next;
  }
  return near;
}

/** Steps 1 and 2. Node `count`·h + j is place (j + ½)/count on the owning half-edge h. */
function searchCrossings(
  mesh: HalfEdgeMesh,
  from: NearestHit,
  to: NearestHit,
  count: number,
  allowed?: ReadonlySet<number>,
): Crossing[] | undefined {
  const cost = new Map<number, number>();
  const before = new Map<number, number>();
  const settled = new Set<number>();
  const heap: { key: number; node: number }[] = [];
  const relaxFace = (face: number, at: Vec3, soFar: number, last: number): void => {
    if (allowed !== undefined && !allowed.has(face)) return;
    for (let h = 3 * face; h < 3 * face + 3; h++) {
      const owner = ownerOf(mesh, h);
      for (let j = 0; j < count; j++) {
        const node = count * owner + j;
        if (settled.has(node)) continue;
        const place = placeOn(mesh, owner, (j + 0.5) / count);
        const total = soFar + apart(at, place);
        if (total >= (cost.get(node) ?? Infinity)) continue;
        cost.set(node, total);
        before.set(node, last);
        pushInto(heap, total + apart(place, to.at), node);
      }
    }
  };
  relaxFace(from.face, from.at, 0, -1);
  for (let top = popFrom(heap); top !== undefined; top = popFrom(heap)) {
    if (settled.has(top.node)) continue;
    settled.add(top.node);
    const owner = Math.floor(top.node / count);
    const faces = [Math.floor(owner / 3), mesh.twin[owner] === -1 ? -1 : Math.floor(mesh.twin[owner] / 3)];
    if (faces.includes(to.face)) return trace(before, top.node, count);
    const place = placeOn(mesh, owner, ((top.node % count) + 0.5) / count);
    for (const face of faces) if (face !== -1) relaxFace(face, place, cost.get(top.node) ?? 0, top.node);
  }
  return undefined;
}

function trace(before: ReadonlyMap<number, number>, last: number, count: number): Crossing[] {
  const crossings: Crossing[] = [];
  for (let node = last; node !== -1; node = before.get(node) ?? -1)
    crossings.push({ halfEdge: Math.floor(node / count), t: ((node % count) + 0.5) / count });
  return crossings.reverse();
}

/** Step 3. */
function slideInto(crossings: Crossing[], mesh: HalfEdgeMesh, from: Vec3, to: Vec3): void {
  const placeAt = (i: number): Vec3 => (i < 0 ? from : i >= crossings.length ? to : placeOn(mesh, crossings[i].halfEdge, crossings[i].t));
  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    let largest = 0;
    for (let step = 0; step < crossings.length; step++) {
      const i = sweep % 2 === 0 ? step : crossings.length - 1 - step;
      const t = straightCrossing(mesh, crossings[i].halfEdge, placeAt(i - 1), placeAt(i + 1));
      largest = Math.max(largest, Math.abs(t - crossings[i].t));
      crossings[i].t = t;
    }
    if (largest < 1 / 4096) break;
  }
}

function straightCrossing(mesh: HalfEdgeMesh, h: number, before: Vec3, after: Vec3): number {
  const start = placeOn(mesh, h, 0);
  const end = placeOn(mesh, h, 1);
  const length = apart(start, end);
  if (length === 0) return 0;
  const edge = [0, 1, 2].map((k) => (end[k] - start[k]) / length);
  const measure = (p: Vec3): { along: number; off: number } => {
    const along = (p[0] - start[0]) * edge[0] + (p[1] - start[1]) * edge[1] + (p[2] - start[2]) * edge[2];
    return { along, off: Math.hypot(...[0, 1, 2].map((k) => p[k] - start[k] - along * edge[k])) };
  };
  const [a, b] = [measure(before), measure(after)];
  const sum = a.off + b.off;
  const along = sum > 0 ? (a.along * b.off + b.along * a.off) / sum : (a.along + b.along) / 2;
  return Math.max(0, Math.min(1, along / length));
}

function pushInto(heap: { key: number; node: number }[], key: number, node: number): void {
  let i = heap.length;
  heap.push({ key, node });
  while (i > 0) {
    const parent = (i - 1) >> 1;
    if (heap[parent].key <= key) break;
    heap[i] = heap[parent];
    i = parent;
  }
  heap[i] = { key, node };
}

function popFrom(heap: { key: number; node: number }[]): { key: number; node: number } | undefined {
  const top = heap[0] as { key: number; node: number } | undefined;
  const last = heap.pop();
  if (top === undefined || last === undefined || heap.length === 0) return top;
  let i = 0;
  for (;;) {
    let child = 2 * i + 1;
    if (child >= heap.length) break;
    if (child + 1 < heap.length && heap[child + 1].key < heap[child].key) child++;
    if (heap[child].key >= last.key) break;
    heap[i] = heap[child];
    i = child;
  }
  heap[i] = last;
  return top;
}
