/*
 * Faces of any triangles joined across their edges and turned the same way round. Three steps:
 * 1. Across edges of exactly two faces, orientation spreads from face to face; where it meets itself turned over (a one-sided strip) the
 *    joint is cut. Each patch then keeps the way round that most of its faces had in the file.
 * 2. Where more than two faces meet in an edge, pairs that run in opposite directions are joined, the least bent first, at equal bend the
 *    convex one (so two solids that touch along an edge come apart); faces left over stay open there.
 * 3. Each component is turned outward: Σ_f (p_f − c)·N_f > 0, p_f the centre of face f, N_f its area vector, c the component's area centroid.
 *    For a closed surface the sum is six times its volume whatever c is, for a bowl-shaped open one it is positive when the bowl bulges outward.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { groupEdges } from './edge-groups.ts';
import type { EdgeGroups } from './edge-groups.ts';
import type { Triangles } from './triangles.ts';

export interface Oriented {
  /** Same faces, some turned round (their last two corners exchanged). */
  readonly faces: U32;
  /** The half-edge joined to each one, −1 where open; joined half-edges run in opposite directions. */
  readonly partner: Int32Array;
  /** Component of each face. */
  readonly component: Int32Array;
  readonly componentTotal: number;
  /** Faces turned because their neighbours ran the other way. */
  readonly turnedFaces: number;
  /** Components turned over whole because they faced inward. */
  readonly turnedComponents: number;
  /** Edges in which more than two faces met. */
  readonly crowdedEdges: number;
  /** Edges cut because the surface had one side only. */
  readonly oneSidedEdges: number;
}

/** Joins and orients faces without repeated corners and without duplicates. Cost: linear. */
export function orientFaces(triangles: Triangles, turnOutward = true): Oriented {
  const { positions, faces } = triangles;
  const groups = groupEdges(faces, positions.length / 3);
  const partner = new Int32Array(faces.length).fill(-1);
  joinPairsInto(partner, groups);
  const isTurned = new Uint8Array(faces.length / 3);
  const oneSidedEdges = spreadInto(isTurned, partner, faces);
  const turnedFaces = isTurned.reduce((sum, turned) => sum + turned, 0);
  const crowdedEdges = joinCrowdedInto(partner, groups, triangles, isTurned);
  const { component, componentTotal } = labelComponents(partner);
  const turnedComponents = turnOutward ? turnOutwardInto(isTurned, triangles, component, componentTotal) : 0;
  return {
    ...turn(faces, partner, isTurned),
    component,
    componentTotal,
    turnedFaces,
    turnedComponents,
    crowdedEdges,
    oneSidedEdges,
  };
}

const startOf = (faces: U32, h: number): number => faces[h];

function joinPairsInto(partner: Int32Array, groups: EdgeGroups): void {
  for (let e = 0; e + 1 < groups.start.length; e++) {
    if (groups.start[e + 1] - groups.start[e] !== 2) continue;
    const [h, g] = [groups.halfEdges[groups.start[e]], groups.halfEdges[groups.start[e] + 1]];
    if (Math.floor(h / 3) === Math.floor(g / 3)) continue;
    partner[h] = g;
    partner[g] = h;
  }
}

/** Step 1: marks the faces to turn, and cuts joints that cannot be satisfied. Returns how many were cut. */
function spreadInto(isTurned: Uint8Array, partner: Int32Array, faces: U32): number {
  const faceTotal = isTurned.length;
  const seen = new Uint8Array(faceTotal);
  const queue = new Uint32Array(faceTotal);
  let cut = 0;
  for (let seed = 0; seed < faceTotal; seed++) {
    if (seen[seed] === 1) continue;
    let head = 0;
    let tail = 0;
    let turned = 0;
    queue[tail++] = seed;
    seen[seed] = 1;
    while (head < tail) {
      const f = queue[head++];
      turned += isTurned[f];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const g = partner[h];
        if (g === -1) continue;
        const other = Math.floor(g / 3);
        const runsAlong = startOf(faces, h) === startOf(faces, g) ? 1 : 0;
        const wanted = isTurned[f] ^ runsAlong;
        if (seen[other] === 0) {
          seen[other] = 1;
          isTurned[other] = wanted;
          queue[tail++] = other;
        } else if (isTurned[other] !== wanted) {
          partner[h] = -1;
          partner[g] = -1;
          cut++;
        }
      }
    }
    if (2 * turned > tail) for (let i = 0; i < tail; i++) isTurned[queue[i]] ^= 1;
  }
  return cut;
}

/** Step 2. Returns how many edges had more than two faces. */
function joinCrowdedInto(partner: Int32Array, groups: EdgeGroups, triangles: Triangles, isTurned: Uint8Array): number {
  let crowded = 0;
  for (let e = 0; e + 1 < groups.start.length; e++) {
    const [from, to] = [groups.start[e], groups.start[e + 1]];
    if (to - from < 3) continue;
    crowded++;
    const wings = Array.from(groups.halfEdges.subarray(from, to), (h) => wingOf(triangles, h, isTurned));
    const candidates: { h: number; g: number; cost: number }[] = [];
    for (let i = 0; i < wings.length; i++)
      for (let j = i + 1; j < wings.length; j++)
        if (wings[i].runsUp !== wings[j].runsUp)
          candidates.push({ h: wings[i].halfEdge, g: wings[j].halfEdge, cost: joiningCost(wings[i], wings[j]) });
    candidates.sort((a, b) => a.cost - b.cost || a.h - b.h || a.g - b.g);
    for (const { h, g } of candidates) {
      if (partner[h] !== -1 || partner[g] !== -1) continue;
      partner[h] = g;
      partner[g] = h;
    }
  }
  return crowded;
}

interface Wing {
  readonly halfEdge: number;
  /** True if the face runs along the edge from its lower to its higher vertex (after turning). */
  readonly runsUp: boolean;
  /** Unit direction from the edge into the face. */
  readonly inward: readonly number[];
  /** Unit normal of the face (after turning). */
  readonly normal: readonly number[];
}

function wingOf(triangles: Triangles, h: number, isTurned: Uint8Array): Wing {
  const { positions: p, faces } = triangles;
  const f = Math.floor(h / 3);
  const [a, b, c] = [faces[h], faces[h % 3 === 2 ? h - 2 : h + 1], faces[h % 3 === 0 ? h + 2 : h - 1]];
  const edge = unit([p[3 * b] - p[3 * a], p[3 * b + 1] - p[3 * a + 1], p[3 * b + 2] - p[3 * a + 2]]);
  const side = [p[3 * c] - p[3 * a], p[3 * c + 1] - p[3 * a + 1], p[3 * c + 2] - p[3 * a + 2]];
  const along = side[0] * edge[0] + side[1] * edge[1] + side[2] * edge[2];
  const inward = unit([side[0] - along * edge[0], side[1] - along * edge[1], side[2] - along * edge[2]]);
  const sign = isTurned[f] === 1 ? -1 : 1;
  const normal = [
    sign * (edge[1] * inward[2] - edge[2] * inward[1]),
    sign * (edge[2] * inward[0] - edge[0] * inward[2]),
    sign * (edge[0] * inward[1] - edge[1] * inward[0]),
  ];
  return { halfEdge: h, runsUp: a < b !== (isTurned[f] === 1), inward, normal };
}

function unit(v: readonly number[]): number[] {
  const length = Math.hypot(v[0], v[1], v[2]);
  return length > 0 ? [v[0] / length, v[1] / length, v[2] / length] : [0, 0, 0];
}

/** 1 − cos of the bend between two wings (0 flat … 2 folded shut), a little more where the joint is a hollow. */
function joiningCost(a: Wing, b: Wing): number {
  const bend = 1 + a.inward[0] * b.inward[0] + a.inward[1] * b.inward[1] + a.inward[2] * b.inward[2];
  const hollow = a.normal[0] * b.inward[0] + a.normal[1] * b.inward[1] + a.normal[2] * b.inward[2];
  return bend + (hollow > 0 ? hollowPenalty : 0);
}

/** Only breaks ties: far below the bend of any two faces that a maker could see. */
const hollowPenalty = 1 / 1024;

function labelComponents(partner: Int32Array): { component: Int32Array; componentTotal: number } {
  const faceTotal = partner.length / 3;
  const component = new Int32Array(faceTotal).fill(-1);
  const stack = new Uint32Array(faceTotal);
  let componentTotal = 0;
  for (let seed = 0; seed < faceTotal; seed++) {
    if (component[seed] !== -1) continue;
    let top = 0;
    stack[top++] = seed;
    component[seed] = componentTotal;
    while (top > 0) {
      const f = stack[--top];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        if (partner[h] === -1) continue;
        const other = Math.floor(partner[h] / 3);
        if (component[other] !== -1) continue;
        component[other] = componentTotal;
        stack[top++] = other;
      }
    }
    componentTotal++;
  }
  return { component, componentTotal };
}

/** Step 3. Returns how many components were turned over. */
function turnOutwardInto(isTurned: Uint8Array, triangles: Triangles, component: Int32Array, componentTotal: number): number {
  const outward = outwardSums(triangles, component, componentTotal, isTurned);
  for (let f = 0; f < isTurned.length; f++) if (outward[component[f]] < 0) isTurned[f] ^= 1;
  return outward.reduce((count, sum) => count + (sum < 0 ? 1 : 0), 0);
}

function outwardSums(triangles: Triangles, component: Int32Array, componentTotal: number, isTurned: Uint8Array): Float64Array {
  const { positions: p, faces } = triangles;
  const area = new Float64Array(componentTotal);
  const centre = new Float64Array(3 * componentTotal);
  const vector = new Float64Array(3 * componentTotal);
  const sum = new Float64Array(componentTotal);
  for (let f = 0; f < component.length; f++) {
    const cross = areaVector(p, faces, f, isTurned[f] === 1 ? -1 : 1);
    const weight = Math.hypot(cross[0], cross[1], cross[2]);
    const c = component[f];
    area[c] += weight;
    for (let k = 0; k < 3; k++) {
      const middle = (p[3 * faces[3 * f] + k] + p[3 * faces[3 * f + 1] + k] + p[3 * faces[3 * f + 2] + k]) / 3;
      centre[3 * c + k] += weight * middle;
      vector[3 * c + k] += cross[k];
      sum[c] += middle * cross[k];
    }
  }
  for (let c = 0; c < componentTotal; c++)
    if (area[c] > 0) for (let k = 0; k < 3; k++) sum[c] -= (centre[3 * c + k] / area[c]) * vector[3 * c + k];
  return sum;
}

function areaVector(p: F64, faces: U32, f: number, sign: number): readonly [number, number, number] {
  const [a, b, c] = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return [sign * (uy * vz - uz * vy), sign * (uz * vx - ux * vz), sign * (ux * vy - uy * vx)];
}

/** Exchanges the last two corners of turned faces; half-edges 0, 1, 2 become 2, 1, 0. */
function turn(faces: U32, partner: Int32Array, isTurned: Uint8Array): { faces: U32; partner: Int32Array } {
  if (isTurned.every((turned) => turned === 0)) return { faces, partner };
  const moved = (h: number): number => (isTurned[Math.floor(h / 3)] === 1 ? h + 2 - 2 * (h % 3) : h);
  const newFaces = Uint32Array.from(faces);
  const newPartner = new Int32Array(partner.length);
  for (let h = 0; h < partner.length; h++) newPartner[moved(h)] = partner[h] === -1 ? -1 : moved(partner[h]);
  for (let f = 0; f < isTurned.length; f++) {
    if (isTurned[f] === 0) continue;
    newFaces[3 * f + 1] = faces[3 * f + 2];
    newFaces[3 * f + 2] = faces[3 * f + 1];
  }
  return { faces: newFaces, partner: newPartner };
}
