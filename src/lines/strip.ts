/*
 * A strip of faces laid flat, and the shortest path inside it: the funnel. The path is straight in the flat strip except at corners, which
 * are vertices of the strip's border. Portals are half-edges of the faces being left: portal h runs from its right end (start of h) to its
 * left end, seen along the way.
 * @source [lee1984] funnel in a sleeve of triangles
 */
import type { Vec2 } from '../base/arrays.ts';
import { roundOff, straightAngle } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { SurfacePoint } from '../mesh/surface-point.ts';

export interface Strip {
  readonly source: SurfacePoint;
  readonly target: SurfacePoint;
  /** Portals from the source's face to the target's face. */
  readonly portals: readonly number[];
}

/** The strip's portals in one plane. */
export interface FlatStrip {
  readonly source: Vec2;
  readonly target: Vec2;
  /** Right and left end of each portal, shape 2·portals. */
  readonly right: Float64Array;
  readonly left: Float64Array;
  readonly rightVertex: Uint32Array;
  readonly leftVertex: Uint32Array;
}

/** Where the shortest path in a strip bends. */
export interface StripCorner {
  readonly vertex: number;
  readonly onLeft: boolean;
  /** First and last portal that end at the vertex around the bend. */
  readonly first: number;
  readonly last: number;
}

/**
 * The same strip without portals whose edge holds the source or the target, and without steps back through the portal just passed:
 * the shortest path does not change, and the source never is an end of the first portal.
 */
export function trimStrip(mesh: HalfEdgeMesh, strip: Strip): Strip {
  const portals: number[] = [];
  for (const h of strip.portals) {
    if (portals.length > 0 && portals[portals.length - 1] === mesh.twin[h]) portals.pop();
    else portals.push(h);
  }
  let { source, target } = strip;
  let from = 0;
  while (from < portals.length && source.weights[previousHalfEdge(portals[from]) % 3] <= roundOff)
    source = acrossPortal(mesh, source, portals[from++]);
  let to = portals.length;
  while (to > from && target.weights[previousHalfEdge(mesh.twin[portals[to - 1]]) % 3] <= roundOff)
    target = acrossPortal(mesh, target, mesh.twin[portals[--to]]);
  return { source, target, portals: portals.slice(from, to) };
}

/** A point on the edge of half-edge h, seen from the face on its other side. */
function acrossPortal(mesh: HalfEdgeMesh, point: SurfacePoint, h: number): SurfacePoint {
  const g = mesh.twin[h];
  const t = point.weights[nextHalfEdge(h) % 3];
  const weights: [number, number, number] = [0, 0, 0];
  weights[g % 3] = t;
  weights[nextHalfEdge(g) % 3] = 1 - t;
  return { face: Math.floor(g / 3), weights };
}

/**
 * Lays the faces of a strip into the plane, one after another about their portals.
 * The corner c beyond portal ab comes to a + ((c−a)·e) e + |(c−a)×e| e⊥, e = (b−a)/|b−a|, e⊥ turned away from the face left.
 */
export function layStrip(mesh: HalfEdgeMesh, strip: Strip): FlatStrip {
  const count = strip.portals.length;
  const [right, left] = [new Float64Array(2 * count), new Float64Array(2 * count)];
  const [rightVertex, leftVertex] = [new Uint32Array(count), new Uint32Array(count)];
  // Coordinates of the current face's corners, by corner number.
  let flat = layFace(mesh, strip.source.face);
  const source = weighted(flat, strip.source);
  for (const [k, h] of strip.portals.entries()) {
    const [i, j] = [2 * (h % 3), 2 * (nextHalfEdge(h) % 3)];
    right.set([flat[i], flat[i + 1]], 2 * k);
    left.set([flat[j], flat[j + 1]], 2 * k);
    rightVertex[k] = mesh.faces[h];
    leftVertex[k] = mesh.faces[nextHalfEdge(h)];
    flat = layAcross(mesh, h, flat[i], flat[i + 1], flat[j], flat[j + 1]);
  }
  return { source, target: weighted(flat, strip.target), right, left, rightVertex, leftVertex };
}

function weighted(flat: Float64Array, point: SurfacePoint): Vec2 {
  const [u, v, w] = point.weights;
  return [u * flat[0] + v * flat[2] + w * flat[4], u * flat[1] + v * flat[3] + w * flat[5]];
}

function layFace(mesh: HalfEdgeMesh, f: number): Float64Array {
  const [along, height, base] = apexOver(mesh, 3 * f, 3 * f + 1, 3 * f + 2);
  return Float64Array.of(0, 0, base, 0, along, height);
}

function layAcross(mesh: HalfEdgeMesh, h: number, ax: number, ay: number, bx: number, by: number): Float64Array {
  const g = mesh.twin[h];
  const [along, height, base] = apexOver(mesh, nextHalfEdge(g), g, previousHalfEdge(g));
  const [ex, ey] = [(bx - ax) / base, (by - ay) / base];
  const flat = new Float64Array(6);
  flat.set([bx, by], 2 * (g % 3));
  flat.set([ax, ay], 2 * (nextHalfEdge(g) % 3));
  flat.set([ax + along * ex + height * ey, ay + along * ey - height * ex], 2 * (previousHalfEdge(g) % 3));
  return flat;
}

/** For corners a, b, c: how far c lies along ab, how far from it, and |ab|. */
function apexOver(mesh: HalfEdgeMesh, ha: number, hb: number, hc: number): readonly [number, number, number] {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[ha], 3 * mesh.faces[hb], 3 * mesh.faces[hc]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const base = Math.sqrt(ux * ux + uy * uy + uz * uz);
  const cross = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  return [(ux * vx + uy * vy + uz * vz) / base, cross / base, base];
}

const cross = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

/** True if c lies to the left of the ray ab, or on it: a path that just touches a vertex counts as bending there, so that its other side is looked at. */
const passes = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): boolean =>
  cross(ax, ay, bx, by, cx, cy) >= -straightAngle * Math.hypot(bx - ax, by - ay) * Math.hypot(cx - ax, cy - ay);

/**
 * Corners of the shortest path in a flat strip, in order.
 * Cost: linear in the usual case, quadratic at worst.
 */
export function pullString(flat: FlatStrip): StripCorner[] {
  const count = flat.rightVertex.length;
  const corners: StripCorner[] = [];
  let [ax, ay] = flat.source;
  let apexVertex = -1;
  // The funnel's two ends: portal numbers, −1 while an end is still at the apex.
  let [leftAt, rightAt] = [-1, -1];
  const turn = (i: number, onLeft: boolean): number => {
    corners.push(cornerAt(flat, i, onLeft));
    const at = onLeft ? flat.left : flat.right;
    [ax, ay] = [at[2 * i], at[2 * i + 1]];
    apexVertex = onLeft ? flat.leftVertex[i] : flat.rightVertex[i];
    [leftAt, rightAt] = [-1, -1];
    return corners[corners.length - 1].last;
  };
  for (let i = 0; i <= count; i++) {
    const isEnd = i === count;
    const [rx, ry] = isEnd ? flat.target : [flat.right[2 * i], flat.right[2 * i + 1]];
    const [lx, ly] = isEnd ? flat.target : [flat.left[2 * i], flat.left[2 * i + 1]];
    if (isEnd || flat.rightVertex[i] !== apexVertex) {
      const narrows = rightAt === -1 || cross(ax, ay, flat.right[2 * rightAt], flat.right[2 * rightAt + 1], rx, ry) >= 0;
      if (narrows) {
        if (leftAt !== -1 && passes(ax, ay, flat.left[2 * leftAt], flat.left[2 * leftAt + 1], rx, ry)) {
          i = turn(leftAt, true);
          continue;
        }
        if (!isEnd) rightAt = i;
      }
    }
    if (isEnd || flat.leftVertex[i] !== apexVertex) {
      const narrows = leftAt === -1 || cross(ax, ay, flat.left[2 * leftAt], flat.left[2 * leftAt + 1], lx, ly) <= 0;
      if (narrows) {
        if (rightAt !== -1 && passes(ax, ay, lx, ly, flat.right[2 * rightAt], flat.right[2 * rightAt + 1])) {
          i = turn(rightAt, false);
          continue;
        }
        if (!isEnd) leftAt = i;
      }
    }
  }
  return corners;
}

function cornerAt(flat: FlatStrip, i: number, onLeft: boolean): StripCorner {
  const ends = onLeft ? flat.leftVertex : flat.rightVertex;
  let [first, last] = [i, i];
  while (first > 0 && ends[first - 1] === ends[i]) first--;
  while (last + 1 < ends.length && ends[last + 1] === ends[i]) last++;
  return { vertex: ends[i], onLeft, first, last };
}
