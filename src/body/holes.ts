/*
 * The open borders of a mesh, and what each one is: a hole of the scan, or an opening that belongs there (neck, arm, waist, leg), or the rim of a
 * sheet. At a hole the surface lies in the plane of its border; at an opening it runs through that plane like a sleeve. Told apart by
 * the mean |n_face · n_border| over the border's faces: 1 in a flat hole, 0 at the end of a tube.
 */
import type { Vec3 } from '../base/arrays.ts';
import { faceComponents } from '../mesh/components.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds, faceCross } from '../mesh/measure.ts';
import { boundaryLoops, halfEdgeLength } from '../mesh/navigate.ts';
import { alongAxis } from './axes.ts';
import type { Axis } from './body.ts';

export type BorderKind = 'hole' | 'neck' | 'arm' | 'waist' | 'leg' | 'rim';

export interface Border {
  /** Open half-edges in order, the surface on the left. */
  readonly halfEdges: Uint32Array;
  readonly lengthMm: number;
  /** Largest distance between two of its vertices, mm. */
  readonly diameterMm: number;
  readonly middle: Vec3;
  readonly kind: BorderKind;
}

/** Below this mean |n_face · n_border| a border is the end of a sleeve. */
const sleeveCosine = 0.6;
/** Openings for limbs are at least this long, mm: a wrist. */
const leastOpeningMm = 120;
/** Up to here an upward opening is a neck, beyond it a waist (of a skirt or a pair of legs), mm. */
const mostNeckMm = 560;
/** A border wider than this share of its part is the rim of a sheet. */
const rimShare = 0.55;

/** A sideways border wider than this share of its part is the edge of a shell. */
const shellShare = 0.75;

/** All borders, the longest first, each with its kind. */
export function listBorders(mesh: HalfEdgeMesh, up: Axis): Border[] {
  const { labels } = faceComponents(mesh);
  const partSize = partDiagonals(mesh, labels);
  const box = bounds(mesh);
  const heights = [alongAxis(up, ...box.min), alongAxis(up, ...box.max)].sort((a, b) => a - b);
  return boundaryLoops(mesh).map((halfEdges) => {
    const lengthMm = halfEdges.reduce((sum, h) => sum + halfEdgeLength(mesh, h), 0);
    const { middle, normal } = planeOfBorder(mesh, halfEdges);
    const diameterMm = diameterOf(mesh, halfEdges);
    const alongNormal = sleeveMeasure(mesh, halfEdges, normal);
    const height = (alongAxis(up, ...middle) - heights[0]) / Math.max(heights[1] - heights[0], Number.MIN_VALUE);
    const size = partSize[labels[Math.floor(halfEdges[0] / 3)]];
    const kind = kindOf({ lengthMm, diameterMm, alongNormal, height, size, upward: alongAxis(up, ...normal) });
    return { halfEdges, lengthMm, diameterMm, middle, kind };
  });
}

interface BorderFacts {
  readonly lengthMm: number;
  readonly diameterMm: number;
  readonly alongNormal: number;
  /** 0 at the lowest, 1 at the highest point of the mesh. */
  readonly height: number;
  readonly size: number;
  /** Up part of the border's normal, which points out of the body. */
  readonly upward: number;
}

function kindOf(facts: BorderFacts): BorderKind {
  const isSleeve = facts.alongNormal < sleeveCosine && facts.lengthMm >= leastOpeningMm;
  if (!isSleeve) return facts.diameterMm > rimShare * facts.size ? 'rim' : 'hole';
  if (facts.upward > 0.7) return facts.lengthMm <= mostNeckMm ? 'neck' : 'waist';
  if (facts.upward < -0.7) return facts.lengthMm > mostNeckMm ? 'waist' : facts.height < 0.35 ? 'leg' : 'arm';
  // An opening to the side as wide as the part itself is the edge of a mask or a shell.
  return facts.diameterMm > shellShare * facts.size ? 'rim' : 'arm';
}

function partDiagonals(mesh: HalfEdgeMesh, labels: Int32Array): number[] {
  const low: number[][] = [];
  const high: number[][] = [];
  for (let h = 0; h < mesh.faces.length; h++) {
    const c = labels[Math.floor(h / 3)];
    low[c] ??= [Infinity, Infinity, Infinity];
    high[c] ??= [-Infinity, -Infinity, -Infinity];
    for (let k = 0; k < 3; k++) {
      const value = mesh.positions[3 * mesh.faces[h] + k];
      low[c][k] = Math.min(low[c][k], value);
      high[c][k] = Math.max(high[c][k], value);
    }
  }
  return low.map((corner, c) => Math.hypot(...corner.map((value, k) => high[c][k] - value)));
}

/** Middle of a border and its Newell normal, pointing away from the surface's inside (the border runs clockwise about it seen from outside). */
function planeOfBorder(mesh: HalfEdgeMesh, halfEdges: Uint32Array): { middle: Vec3; normal: Vec3 } {
  const p = mesh.positions;
  const middle: [number, number, number] = [0, 0, 0];
  for (const h of halfEdges) for (let k = 0; k < 3; k++) middle[k] += p[3 * mesh.faces[h] + k] / halfEdges.length;
  const sum = [0, 0, 0];
  halfEdges.forEach((h, i) => {
    const [a, b] = [mesh.faces[h], mesh.faces[halfEdges[(i + 1) % halfEdges.length]]];
    const [ax, ay, az] = [0, 1, 2].map((k) => p[3 * a + k] - middle[k]);
    const [bx, by, bz] = [0, 1, 2].map((k) => p[3 * b + k] - middle[k]);
    sum[0] -= ay * bz - az * by;
    sum[1] -= az * bx - ax * bz;
    sum[2] -= ax * by - ay * bx;
  });
  const length = Math.hypot(...sum);
  return { middle, normal: length > 0 ? [sum[0] / length, sum[1] / length, sum[2] / length] : [0, 0, 0] };
}

function sleeveMeasure(mesh: HalfEdgeMesh, halfEdges: Uint32Array, normal: Vec3): number {
  let [sum, weights] = [0, 0];
  for (const h of halfEdges) {
    const cross = faceCross(mesh, Math.floor(h / 3));
    const length = Math.hypot(...cross);
    const weight = halfEdgeLength(mesh, h);
    if (length === 0) continue;
    sum += (weight * Math.abs(cross[0] * normal[0] + cross[1] * normal[1] + cross[2] * normal[2])) / length;
    weights += weight;
  }
  return weights > 0 ? sum / weights : 1;
}

function diameterOf(mesh: HalfEdgeMesh, halfEdges: Uint32Array): number {
  const p = mesh.positions;
  // Long borders are sampled: the diameter only sorts them.
  const step = Math.max(1, Math.floor(halfEdges.length / 200));
  let largest = 0;
  for (let i = 0; i < halfEdges.length; i += step)
    for (let j = i + step; j < halfEdges.length; j += step) {
      const [a, b] = [3 * mesh.faces[halfEdges[i]], 3 * mesh.faces[halfEdges[j]]];
      largest = Math.max(largest, Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]));
    }
  return largest;
}

/** What a border is called on the page. */
export const borderWords: Readonly<Record<BorderKind, string>> = {
  hole: 'hole',
  neck: 'neck opening',
  arm: 'arm opening',
  waist: 'waist opening',
  leg: 'leg opening',
  rim: 'rim',
};
