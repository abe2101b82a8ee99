/*
 * An area's border becomes edges: faces near it are made small enough, edges are split where the field changes sign, and faces get the
 * area's label. Vertices within a stated distance of the border count as on it, which keeps slivers out.
 */
import { borderSnapMm, borderSnapShare } from '../base/tolerance.ts';
import { crossingShare, longestBorderEdge } from '../areas/border.ts';
import type { PaintField } from '../areas/paint-field.ts';
import { pointOf } from '../lines/surface-path.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Refinement } from './refinement.ts';
import { placeOf } from './freeze.ts';

/**
 * Cuts along the zero level of a field and labels the faces inside.
 * @param refinement is changed: it belongs to the caller
 */
export function cutLevel(refinement: Refinement, field: PaintField, area: number): void {
  const values = new Map<number, number>();
  const valueOf = (v: number): number => {
    let value = values.get(v);
    if (value === undefined) values.set(v, (value = valueAt(refinement, field, v)));
    return value;
  };
  refineNear(refinement, field, valueOf);
  splitCrossings(refinement, field, values, valueOf);
  labelInside(refinement, field, area, valueOf);
}

function valueAt(refinement: Refinement, field: PaintField, v: number): number {
  const node = refinement.place[v];
  return node.on === 'vertex' ? field.atVertex(node.vertex) : field.at(pointOf(refinement.base, node));
}

/** Halves the longest edges of faces that the border may pass until they are short enough for straight stretches. */
function refineNear(refinement: Refinement, field: PaintField, valueOf: (v: number) => number): void {
  const { corner } = refinement;
  const longest = longestBorderEdge(field.finestMm);
  const blind = Math.max(longest, field.finestMm / 2);
  let faces = refinement.origin.flatMap((origin, f) => (field.reaches(origin) ? [f] : []));
  while (faces.length > 0) {
    const before = refinement.origin.length;
    const touched: number[] = [];
    for (const f of faces) {
      const lengths = [0, 1, 2].map((i) => edgeMm(refinement, 3 * f + i));
      const i = lengths[0] >= lengths[1] && lengths[0] >= lengths[2] ? 0 : lengths[1] >= lengths[2] ? 1 : 2;
      if (lengths[i] <= longest) continue;
      const near = Math.min(...[0, 1, 2].map((k) => Math.abs(valueOf(corner[3 * f + k]))));
      const hasInside = [0, 1, 2].some((k) => valueOf(corner[3 * f + k]) === Infinity);
      if (near > lengths[i] && !(hasInside && lengths[i] > blind)) continue;
      refinement.splitEdge(3 * f + i, refinement.placeAlong(3 * f + i, 0.5));
      touched.push(f);
    }
    faces = touched;
    for (let f = before; f < refinement.origin.length; f++) faces.push(f);
  }
}

function edgeMm(refinement: Refinement, h: number): number {
  const a = placeOf(refinement, refinement.corner[h]);
  const b = placeOf(refinement, refinement.corner[nextHalfEdge(h)]);
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Splits each edge whose ends lie on different sides; ends near enough to the crossing are moved onto the border instead. */
function splitCrossings(refinement: Refinement, field: PaintField, values: Map<number, number>, valueOf: (v: number) => number): void {
  const { corner, twin } = refinement;
  const crosses = (h: number): boolean => {
    const [a, b] = [valueOf(corner[h]), valueOf(corner[nextHalfEdge(h)])];
    return (a < 0 && b > 0) || (a > 0 && b < 0);
  };
  const edges: number[] = [];
  for (let h = 0; h < corner.length; h++) if ((twin[h] === -1 || h < twin[h]) && crosses(h)) edges.push(h);
  const shares = edges.map((h) => crossingShare((s) => field.at(pointOf(refinement.base, refinement.placeAlong(h, s)))));
  for (const [i, h] of edges.entries()) {
    const length = edgeMm(refinement, h);
    const snap = Math.min(borderSnapMm, borderSnapShare * length);
    if (shares[i] * length < snap) values.set(corner[h], 0);
    else if ((1 - shares[i]) * length < snap) values.set(corner[nextHalfEdge(h)], 0);
  }
  // A split leaves the half-edge at its start, so later half-edges of the list keep their meaning unless a split turned them: look them up by ends.
  const ends = edges.map((h) => [corner[h], corner[nextHalfEdge(h)]] as const);
  for (const [i, [a, b]] of ends.entries()) {
    if (valueOf(a) === 0 || valueOf(b) === 0) continue;
    const h = refinement.around(a).find((g) => corner[nextHalfEdge(g)] === b);
    const back = h === undefined ? refinement.around(b).find((g) => corner[nextHalfEdge(g)] === a) : undefined;
    if (h !== undefined) values.set(refinement.splitEdge(h, refinement.placeAlong(h, shares[i])), 0);
    else if (back !== undefined) values.set(refinement.splitEdge(back, refinement.placeAlong(back, 1 - shares[i])), 0);
  }
}

function labelInside(refinement: Refinement, field: PaintField, area: number, valueOf: (v: number) => number): void {
  const { corner, origin } = refinement;
  for (let f = 0; f < origin.length; f++) {
    let [low, high] = [0, 0];
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      low = Math.min(low, valueOf(corner[h]));
      high = Math.max(high, valueOf(corner[h]));
    }
    if (high > 0) continue;
    if (low < 0 || field.at({ face: origin[f], weights: centreIn(refinement, f) }) < 0) refinement.setLabel(f, area);
  }
}

function centreIn(refinement: Refinement, f: number): readonly [number, number, number] {
  const corners = [0, 1, 2].map((i) => refinement.weightsIn(refinement.corner[3 * f + i], refinement.origin[f]));
  const mean = (k: number): number => (corners[0][k] + corners[1][k] + corners[2][k]) / 3;
  return [mean(0), mean(1), mean(2)];
}
