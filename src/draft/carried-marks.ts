/*
 * What the maker drew on the body, on the part: drawn and reference lines as fair curves, creased lines as V-grooves, fittings as marks.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { cos, sin, tan } from '../base/elementary.ts';
import { outlineMm } from '../base/tolerance.ts';
import type { FittingKind, LineMark } from '../lines/line.ts';
import type { Patch, PatchMark } from '../patches/patch.ts';
import { fitTogether } from '../plane/curve-fit.ts';
import { arcLengths } from '../plane/polyline.ts';
import { toRadians } from '../units/angle.ts';
import { cornersOf } from './corners.ts';
import { lineCurve, segmentsOf } from './curve.ts';
import type { Curve, LayerName } from './drawing.ts';

export interface CarriedPath {
  readonly layer: LayerName;
  readonly curve: Curve;
}

/** Width of a V-groove at the face, mm: 2·depth·tan(angle/2). */
export function grooveWidth(crease: { readonly depthMm: number; readonly angleDeg: number }): number {
  return 2 * crease.depthMm * tan(toRadians(crease.angleDeg) / 2);
}

/**
 * Lines carried by a patch, in the part's plane.
 * A creased line gives its middle on DRAWN and the two edges of its groove on SCORE; other drawn lines stand on DRAWN, reference lines on REFERENCE.
 */
export function carriedLines(patch: Patch, positions: F64, lines: readonly LineMark[]): CarriedPath[] {
  const paths: CarriedPath[] = [];
  for (const mark of patch.marks) {
    const points = planePoints(patch, positions, mark);
    if (points.length < 4) continue;
    paths.push({ layer: mark.kind === 'reference' ? 'REFERENCE' : 'DRAWN', curve: fairCurve(points, mark.closed) });
    const crease = creaseOf(mark, lines);
    if (crease === undefined) continue;
    const half = grooveWidth(crease) / 2;
    for (const distance of [half, -half])
      paths.push({ layer: 'SCORE', curve: fairCurve(movedSideways(points, distance, mark.closed), mark.closed) });
  }
  return paths;
}

/** A mirrored line ends in `:mirror` and keeps the crease of the line that was drawn. */
function creaseOf(mark: PatchMark, lines: readonly LineMark[]): LineMark['crease'] {
  const drawn = mark.line.replace(/:mirror$/, '');
  return lines.find(({ id, kind }) => kind === 'drawn' && (id === mark.line || id === drawn))?.crease;
}

function planePoints(patch: Patch, positions: F64, mark: PatchMark): Float64Array {
  const points: number[] = [];
  for (let i = 0; i < mark.points.face.length; i++) {
    const [x, y] = planePlace(
      patch,
      positions,
      mark.points.face[i],
      [0, 1, 2].map((k) => mark.points.weights[3 * i + k]),
    );
    const n = points.length;
    if (n === 0 || x !== points[n - 2] || y !== points[n - 1]) points.push(x, y);
  }
  if (mark.closed && (points[0] !== points[points.length - 2] || points[1] !== points[points.length - 1]))
    points.push(points[0], points[1]);
  return Float64Array.from(points);
}

/** The plane image of a point of a patch face. */
export function planePlace(patch: Patch, positions: F64, face: number, weights: readonly number[]): Vec2 {
  let [x, y] = [0, 0];
  for (let i = 0; i < 3; i++) {
    const v = patch.mesh.faces[3 * face + i];
    x += weights[i] * positions[2 * v];
    y += weights[i] * positions[2 * v + 1];
  }
  return [x, y];
}

function fairCurve(points: F64, closed: boolean): Curve {
  const lengths = arcLengths(points);
  const total = lengths[lengths.length - 1];
  const corners = cornersOf(points, lengths, closed);
  const target = { points, fractions: lengths.map((length) => length / total), closed };
  const [fit] = fitTogether([target], { toleranceMm: outlineMm, knots: corners, corners });
  return { start: [fit.chain[0], fit.chain[1]], segments: segmentsOf(fit.chain), closed };
}

function movedSideways(points: F64, distance: number, closed: boolean): Float64Array {
  const n = points.length / 2;
  const moved = new Float64Array(points.length);
  for (let i = 0; i < n; i++) {
    const before = i > 0 ? i - 1 : closed ? n - 2 : 0;
    const after = i < n - 1 ? i + 1 : closed ? 1 : n - 1;
    const [dx, dy] = [points[2 * after] - points[2 * before], points[2 * after + 1] - points[2 * before + 1]];
    const length = Math.max(Math.hypot(dx, dy), Number.MIN_VALUE);
    moved[2 * i] = points[2 * i] - (distance * dy) / length;
    moved[2 * i + 1] = points[2 * i + 1] + (distance * dx) / length;
  }
  return moved;
}

/** Size of a fitting's mark, mm. */
const markMm = 8;

/** The mark of a fitting: snap a ring, magnet a ring and a dot-sized ring, strap a bar with ends, buckle a box; all with a cross at the place. */
export function fittingCurves(kind: FittingKind, [x, y]: Vec2): Curve[] {
  const half = markMm / 2;
  const cross = [lineCurve([x - half / 2, y], [x + half / 2, y]), lineCurve([x, y - half / 2], [x, y + half / 2])];
  switch (kind) {
    case 'snap':
      return [...cross, ring(x, y, half)];
    case 'magnet':
      return [...cross, ring(x, y, half), ring(x, y, half * 0.75)];
    case 'strap':
      return [...cross, lineCurve([x - half, y - half], [x - half, y + half]), lineCurve([x + half, y - half], [x + half, y + half])];
    case 'buckle':
      return [...cross, polygonCurve([x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half])];
    default:
      return kind satisfies never;
  }
}

/** A circle as four cubics; the handle 4/3·tan(π/8) times the radius keeps it within 0.03 % of round [closed form]. */
function ring(x: number, y: number, radius: number): Curve {
  const handle = (4 / 3) * tan(Math.PI / 8) * radius;
  const at = (turn: number, out: number, along: number): Vec2 => {
    const [c, s] = [cos(turn), sin(turn)];
    return [x + out * c - along * s, y + out * s + along * c];
  };
  const quarters = [0, 1, 2, 3].map((k) => {
    const [from, to] = [(k * Math.PI) / 2, ((k + 1) * Math.PI) / 2];
    return {
      kind: 'cubic',
      c1: at(from, radius, handle),
      c2: at(to, radius, -handle),
      to: k === 3 ? at(0, radius, 0) : at(to, radius, 0),
    } as const;
  });
  return { start: at(0, radius, 0), segments: quarters, closed: true };
}

function polygonCurve(start: Vec2, ...rest: readonly Vec2[]): Curve {
  return { start, segments: [...rest, start].map((to) => ({ kind: 'line', to }) as const), closed: true };
}
