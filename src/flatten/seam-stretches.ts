/*
 * Seams divided into stretches of about 30 mm, at equal shares of arc length on the surface, so that both sides can be compared stretch by
 * stretch. A stretch of a side is a set of border edges, the first and last with the share of them that lies inside it.
 */
import type { F64, U32 } from '../base/arrays.ts';
import { stretchMm } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { halfEdgeLength } from '../mesh/navigate.ts';
import type { Patch, Seam } from '../patches/patch.ts';

/** One side of a stretch. */
export interface StretchSide {
  /** Index of the patch in the list that the stretches were made from. */
  readonly patch: number;
  /** Start and end vertex of each edge, shape 2·edges. */
  readonly ends: U32;
  /** Share of each edge that lies inside the stretch, 0…1. */
  readonly share: F64;
}

export interface SeamStretch {
  /** Index of the seam in the list. */
  readonly seam: number;
  /** Length on the surface, mean of both sides, mm. */
  readonly surfaceMm: number;
  readonly sides: readonly [StretchSide, StretchSide];
}

/**
 * All stretches of all seams whose two patches are in the list.
 * @param patches meshes in mm
 */
export function seamStretches(patches: readonly Patch[], seams: readonly Seam[]): SeamStretch[] {
  const indexOf = new Map(patches.map((patch, i) => [patch.id, i]));
  const stretches: SeamStretch[] = [];
  seams.forEach((seam, seamIndex) => {
    const [one, other] = seam.sides;
    const first = indexOf.get(one.patch);
    const second = indexOf.get(other.patch);
    if (first === undefined || second === undefined) return;
    const halfEdges = patches[first].sides[one.side].halfEdges;
    const mates = patches[second].sides[other.side].halfEdges;
    const length = (sideLength(patches[first].mesh, halfEdges) + sideLength(patches[second].mesh, mates)) / 2;
    const count = Math.max(1, Math.round(length / stretchMm));
    const near = divide(patches[first].mesh, halfEdges, count, false);
    const far = divide(patches[second].mesh, mates, count, true);
    for (let i = 0; i < count; i++)
      stretches.push({
        seam: seamIndex,
        surfaceMm: length / count,
        sides: [
          { patch: first, ...near[i] },
          { patch: second, ...far[i] },
        ],
      });
  });
  return stretches;
}

function sideLength(mesh: HalfEdgeMesh, halfEdges: U32): number {
  let length = 0;
  for (let i = 0; i < halfEdges.length; i++) length += halfEdgeLength(mesh, halfEdges[i]);
  return length;
}

/** A side in `count` stretches of equal length on the surface; the mate's are counted from its end, because it runs against the first. */
function divide(mesh: HalfEdgeMesh, halfEdges: U32, count: number, isBackwards: boolean): { ends: Uint32Array; share: Float64Array }[] {
  const total = sideLength(mesh, halfEdges);
  const parts: { ends: number[]; share: number[] }[] = Array.from({ length: count }, () => ({ ends: [], share: [] }));
  let from = 0;
  for (let i = 0; i < halfEdges.length; i++) {
    const h = halfEdges[i];
    const to = from + halfEdgeLength(mesh, h);
    const firstPart = Math.min(count - 1, Math.floor((from / total) * count));
    const lastPart = Math.min(count - 1, Math.floor((to / total) * count));
    for (let part = firstPart; part <= lastPart; part++) {
      const low = Math.max(from, (part / count) * total);
      const high = part === count - 1 ? to : Math.min(to, ((part + 1) / count) * total);
      if (!(high > low)) continue;
      const place = isBackwards ? count - 1 - part : part;
      parts[place].ends.push(mesh.faces[h], mesh.faces[nextHalfEdge(h)]);
      parts[place].share.push((high - low) / (to - from));
    }
    from = to;
  }
  return parts.map((part) => ({ ends: Uint32Array.from(part.ends), share: Float64Array.from(part.share) }));
}

/** Length of a stretch's side in the plane, mm. */
export function planeLength(side: StretchSide, plane: F64): number {
  let length = 0;
  for (let e = 0; e < side.share.length; e++) {
    const a = 2 * side.ends[2 * e];
    const b = 2 * side.ends[2 * e + 1];
    const x = plane[b] - plane[a];
    const y = plane[b + 1] - plane[a + 1];
    length += side.share[e] * Math.sqrt(x * x + y * y);
  }
  return length;
}

/** Adds sign · (gradient of `planeLength`) to `target`, shape 2·n. */
export function addLengthGradientInto(target: Float64Array, side: StretchSide, plane: F64, sign: number): void {
  for (let e = 0; e < side.share.length; e++) {
    const a = 2 * side.ends[2 * e];
    const b = 2 * side.ends[2 * e + 1];
    const x = plane[b] - plane[a];
    const y = plane[b + 1] - plane[a + 1];
    const scale = (sign * side.share[e]) / Math.sqrt(x * x + y * y);
    target[a] -= scale * x;
    target[a + 1] -= scale * y;
    target[b] += scale * x;
    target[b + 1] += scale * y;
  }
}

/** How far the two sides of each seam differ in the plane: first minus second, mm; a seam without stretches is absent. */
export interface SeamDifference {
  readonly seam: number;
  /** Plane lengths of both sides, mm. */
  readonly lengthsMm: readonly [number, number];
  /** Largest difference of a stretch, by size, mm. */
  readonly worstStretchMm: number;
}

/** Differences of all seams, in the order of the seams. */
export function seamDifferences(stretches: readonly SeamStretch[], planes: readonly F64[]): SeamDifference[] {
  const bySeam = new Map<number, { lengthsMm: [number, number]; worstStretchMm: number }>();
  for (const stretch of stretches) {
    const one = planeLength(stretch.sides[0], planes[stretch.sides[0].patch]);
    const other = planeLength(stretch.sides[1], planes[stretch.sides[1].patch]);
    const seam = bySeam.get(stretch.seam) ?? { lengthsMm: [0, 0], worstStretchMm: 0 };
    seam.lengthsMm[0] += one;
    seam.lengthsMm[1] += other;
    seam.worstStretchMm = Math.max(seam.worstStretchMm, Math.abs(one - other));
    bySeam.set(stretch.seam, seam);
  }
  return [...bySeam.entries()].map(([seam, found]) => ({ seam, ...found })).sort((a, b) => a.seam - b.seam);
}
