/*
 * The nearest point of a mesh to a point in space, with its sign: a tree of boxes over the faces in flat arrays, because a standoff asks this
 * some hundred thousand times (general-purpose tree: 7 µs a query; this: see DEVELOPERS.md). The sign comes from the angle-weighted normal of
 * the nearest vertex, edge or face, which never errs on a closed mesh [baerentzen2005].
 */
import type { F64, I32, Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceNormals } from '../mesh/measure.ts';
import { angleNormals } from './angle-normals.ts';

/** The foot of a point on the mesh. */
export interface Foot {
  readonly face: number;
  readonly weights: Vec3;
  readonly at: Vec3;
  /** mm, negative inside a closed mesh. */
  readonly distance: number;
  /** True if the foot lies on an open border. */
  readonly onBorder: boolean;
}

export interface NearestFace {
  /** The foot of (x, y, z), or undefined if none lies within `within` mm. */
  readonly foot: (x: number, y: number, z: number, within?: number) => Foot | undefined;
}

/** Boxes of the tree, depth first: the left child of node i is i + 1. */
interface Tree {
  /** min xyz, max xyz; shape 6·nodes. */
  readonly box: F64;
  /** Right child, or −1 − first face position of a leaf. */
  readonly right: I32;
  /** Faces of a leaf; 0 inside. */
  readonly count: I32;
  readonly faces: I32;
}

const leafSize = 4;

/** Builds the tree: n log² n. */
export function createNearestFace(mesh: HalfEdgeMesh): NearestFace {
  const tree = buildTree(mesh);
  const normals = signNormals(mesh);
  const corners = cornerPositions(mesh);
  const stack = new Int32Array(64);
  const near = new Float64Array(8);
  const foot = (x: number, y: number, z: number, within = Infinity): Foot | undefined => {
    searchInto(near, stack, tree, corners, x, y, z, within * within);
    const face = near[0];
    if (face < 0) return undefined;
    const at: Vec3 = [near[2], near[3], near[4]];
    const weights: Vec3 = [near[5], near[6], near[7]];
    return { face, weights, at, ...signOf(mesh, normals, face, weights, x - at[0], y - at[1], z - at[2]) };
  };
  return { foot };
}

/** Corner positions a b c of each face in a row: one cache line or two a face. */
function cornerPositions(mesh: HalfEdgeMesh): Float64Array {
  const corners = new Float64Array(3 * mesh.faces.length);
  for (let h = 0; h < mesh.faces.length; h++) for (let k = 0; k < 3; k++) corners[3 * h + k] = mesh.positions[3 * mesh.faces[h] + k];
  return corners;
}

function buildTree(mesh: HalfEdgeMesh): Tree {
  const total = mesh.faces.length / 3;
  const centre = new Float64Array(3 * total);
  for (let h = 0; h < mesh.faces.length; h++)
    for (let k = 0; k < 3; k++) centre[3 * Math.floor(h / 3) + k] += mesh.positions[3 * mesh.faces[h] + k] / 3;
  const faces = Int32Array.from({ length: total }, (_, f) => f);
  const box: number[] = [];
  const right: number[] = [];
  const count: number[] = [];
  const grow = (start: number, end: number): void => {
    const node = right.length;
    const bounds = boundsOf(mesh, faces, start, end);
    box.push(...bounds);
    right.push(-1 - start);
    count.push(end - start);
    if (end - start <= leafSize) return;
    const size = [0, 1, 2].map((k) => bounds[3 + k] - bounds[k]);
    const axis = size[0] >= size[1] && size[0] >= size[2] ? 0 : size[1] >= size[2] ? 1 : 2;
    faces.subarray(start, end).sort((f, g) => centre[3 * f + axis] - centre[3 * g + axis] || f - g);
    const middle = (start + end) >> 1;
    count[node] = 0;
    grow(start, middle);
    right[node] = right.length;
    grow(middle, end);
  };
  grow(0, total);
  return { box: Float64Array.from(box), right: Int32Array.from(right), count: Int32Array.from(count), faces };
}

function boundsOf(mesh: HalfEdgeMesh, faces: I32, start: number, end: number): number[] {
  const bounds = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (let i = start; i < end; i++)
    for (let h = 3 * faces[i]; h < 3 * faces[i] + 3; h++)
      for (let k = 0; k < 3; k++) {
        const x = mesh.positions[3 * mesh.faces[h] + k];
        bounds[k] = Math.min(bounds[k], x);
        bounds[3 + k] = Math.max(bounds[3 + k], x);
      }
  return bounds;
}

/** near: face (−1: none), squared distance, foot x y z, weights (exactly 0 off an edge or corner). Nearer child first. */
function searchInto(near: Float64Array, stack: Int32Array, tree: Tree, corners: F64, x: number, y: number, z: number, limit: number): void {
  near[0] = -1;
  near[1] = limit;
  let top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const node = stack[--top];
    if (boxDistance(tree.box, node, x, y, z) >= near[1]) continue;
    const count = tree.count[node];
    if (count > 0) {
      const start = -1 - tree.right[node];
      for (let i = start; i < start + count; i++) faceInto(near, corners, tree.faces[i], x, y, z);
      continue;
    }
    const left = node + 1;
    const right = tree.right[node];
    const isLeftNearer = boxDistance(tree.box, left, x, y, z) <= boxDistance(tree.box, right, x, y, z);
    stack[top++] = isLeftNearer ? right : left;
    stack[top++] = isLeftNearer ? left : right;
  }
}

function boxDistance(box: F64, node: number, x: number, y: number, z: number): number {
  const b = 6 * node;
  const dx = Math.max(box[b] - x, 0, x - box[b + 3]);
  const dy = Math.max(box[b + 1] - y, 0, y - box[b + 4]);
  const dz = Math.max(box[b + 2] - z, 0, z - box[b + 5]);
  return dx * dx + dy * dy + dz * dz;
}

/** Closest point of a triangle by the regions of its corners, edges and inside [ericson2005 §5.1.5]; kept if nearer than before. */
function faceInto(near: Float64Array, corners: F64, face: number, x: number, y: number, z: number): void {
  const c = 9 * face;
  const [ax, ay, az] = [corners[c], corners[c + 1], corners[c + 2]];
  const [ux, uy, uz] = [corners[c + 3] - ax, corners[c + 4] - ay, corners[c + 5] - az];
  const [vx, vy, vz] = [corners[c + 6] - ax, corners[c + 7] - ay, corners[c + 8] - az];
  const [px, py, pz] = [x - ax, y - ay, z - az];
  const d1 = ux * px + uy * py + uz * pz;
  const d2 = vx * px + vy * py + vz * pz;
  let r = 1;
  let s = 0;
  let t = 0;
  if (d1 > 0 || d2 > 0) {
    const uu = ux * ux + uy * uy + uz * uz;
    const uv = ux * vx + uy * vy + uz * vz;
    const vv = vx * vx + vy * vy + vz * vz;
    const [d3, d4, d5, d6] = [d1 - uu, d2 - uv, d1 - uv, d2 - vv];
    const va = d3 * d6 - d5 * d4;
    const vb = d5 * d2 - d1 * d6;
    const vc = d1 * d4 - d3 * d2;
    if (d3 >= 0 && d4 <= d3) [r, s] = [0, 1];
    else if (vc <= 0 && d1 >= 0 && d3 <= 0) {
      s = d1 / (d1 - d3);
      r = 1 - s;
    } else if (d6 >= 0 && d5 <= d6) [r, t] = [0, 1];
    else if (vb <= 0 && d2 >= 0 && d6 <= 0) {
      t = d2 / (d2 - d6);
      r = 1 - t;
    } else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
      t = (d4 - d3) / (d4 - d3 + (d5 - d6));
      s = 1 - t;
      r = 0;
    } else {
      const sum = va + vb + vc;
      s = vb / sum;
      t = vc / sum;
      r = va / sum;
    }
  }
  const [qx, qy, qz] = [s * ux + t * vx, s * uy + t * vy, s * uz + t * vz];
  const square = (px - qx) * (px - qx) + (py - qy) * (py - qy) + (pz - qz) * (pz - qz);
  if (!(square < near[1])) return;
  near[0] = face;
  near[1] = square;
  near[2] = ax + qx;
  near[3] = ay + qy;
  near[4] = az + qz;
  near[5] = r;
  near[6] = s;
  near[7] = t;
}

interface SignNormals {
  readonly face: F64;
  readonly vertex: F64;
}

const signNormals = (mesh: HalfEdgeMesh): SignNormals => ({ face: faceNormals(mesh), vertex: angleNormals(mesh) });

/** Distance with the sign of the offset against the normal of the feature that the foot lies on. */
function signOf(
  mesh: HalfEdgeMesh,
  normals: SignNormals,
  face: number,
  weights: Vec3,
  dx: number,
  dy: number,
  dz: number,
): { readonly distance: number; readonly onBorder: boolean } {
  const size = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const along = (n: F64, i: number): number => n[3 * i] * dx + n[3 * i + 1] * dy + n[3 * i + 2] * dz;
  const [isA, isB, isC] = [weights[0] !== 0, weights[1] !== 0, weights[2] !== 0];
  let side = along(normals.face, face);
  let onBorder = false;
  if (isA && isB && isC) return { distance: side < 0 ? -size : size, onBorder };
  if ((isA ? 1 : 0) + (isB ? 1 : 0) + (isC ? 1 : 0) === 1) {
    const v = mesh.faces[3 * face + (isA ? 0 : isB ? 1 : 2)];
    side = along(normals.vertex, v);
    onBorder = mesh.twin[mesh.vertexHalfEdge[v]] === -1;
  } else {
    const twin = mesh.twin[3 * face + (!isC ? 0 : !isA ? 1 : 2)];
    onBorder = twin === -1;
    if (twin !== -1) side += along(normals.face, Math.floor(twin / 3));
  }
  return { distance: side < 0 ? -size : size, onBorder };
}
