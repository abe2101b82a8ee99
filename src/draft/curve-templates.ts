/*
 * Curve templates: true-size cuts through a part's inner face, to hold against the foam while it is formed. Each is a piece of card whose curved edge is
 * the inner face and whose straight edge lies towards the body. A bent part gets three cuts across its straight lines; a domed part two across its
 * longer way and one along it.
 */
import type { F64, Vec2, Vec3 } from '../base/arrays.ts';
import { offsetFitMm } from '../base/tolerance.ts';
import { vertexNormals } from '../mesh/measure.ts';
import { fitTogether } from '../plane/curve-fit.ts';
import { arcLengths } from '../plane/polyline.ts';
import { cornersOf } from './corners.ts';
import { polylineCurve, segmentsOf } from './curve.ts';
import type { CurveTemplate } from './drafted-part.ts';
import type { DrawingPath, Segment } from './drawing.ts';
import { letterText, placeStrokes } from './lettering.ts';
import type { PreparedPart } from './prepare.ts';
import { cutByPlane } from './section.ts';

/** Where the three cuts lie, as shares of the part's extent. */
const acrossShares = [0.25, 0.5, 0.75] as const;
const domedShares = [1 / 3, 2 / 3] as const;
/** Card left behind the deepest point of the curve, mm. */
const backMm = 25;
const letterMm = 5;

/** The part in the plane as a linear image: place = origin + x·right + y·up, by least squares over its vertices. */
interface Placement {
  readonly origin: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly centre: Vec2;
}

/** Up to three templates of a part; fewer where a cut misses it. */
export function curveTemplates(part: PreparedPart): CurveTemplate[] {
  const { mesh } = part.patch;
  const inner = innerFace(part);
  const placement = placeInSpace(mesh.positions, part.sheet.positions);
  const way = longWay(part, placement.centre);
  const across: Vec2 = [-way[1], way[0]];
  const cuts =
    part.sheet.straight === undefined
      ? [...domedShares.map((share) => ({ normal: way, share })), { normal: across, share: 0.5 }]
      : acrossShares.map((share) => ({ normal: way, share }));
  return cuts.flatMap(({ normal, share }, i) => {
    const [low, high] = extentAlong(part.sheet.positions, normal);
    const at = low + share * (high - low) - (placement.centre[0] * normal[0] + placement.centre[1] * normal[1]);
    const direction = inSpace(placement, normal);
    const length = Math.hypot(...direction);
    if (!(length > 0)) return [];
    const unit: Vec3 = [direction[0] / length, direction[1] / length, direction[2] / length];
    const point: Vec3 = [
      placement.origin[0] + at * direction[0],
      placement.origin[1] + at * direction[1],
      placement.origin[2] + at * direction[2],
    ];
    const [section] = cutByPlane({ positions: inner, faces: mesh.faces, twin: mesh.twin }, point, unit);
    if (section === undefined || section.length < 9) return [];
    const template = drawTemplate(section, point, unit, placement, `${part.letter} T${i + 1}`, part.patch.id);
    return template === undefined ? [] : [template];
  });
}

/** Inner face of the sheet: the neutral plane moved inward by k·t along its normals. Shape 3·n, mm. */
export function innerFace(part: Pick<PreparedPart, 'patch' | 'rule'>): Float64Array {
  const { positions } = part.patch.mesh;
  const normals = vertexNormals(part.patch.mesh);
  const depth = part.rule.neutralFactor * part.rule.thicknessMm;
  return Float64Array.from(positions, (value, i) => value - depth * normals[i]);
}

/** The plane direction across which the cuts lie one after another: a bent part's straight way, else the longer way. */
function longWay(part: PreparedPart, centre: Vec2): Vec2 {
  if (part.sheet.straight !== undefined) return part.sheet.straight.direction;
  let [xx, xy, yy] = [0, 0, 0];
  const { positions } = part.sheet;
  for (let i = 0; i < positions.length; i += 2) {
    const [dx, dy] = [positions[i] - centre[0], positions[i + 1] - centre[1]];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  // Eigenvector of the larger eigenvalue of a symmetric 2×2 matrix.
  const half = (xx - yy) / 2;
  const root = Math.hypot(half, xy);
  const axis: Vec2 = half >= 0 ? [half + root, xy] : [xy, root - half];
  const length = Math.hypot(...axis);
  return length > 0 ? [axis[0] / length, axis[1] / length] : [0, 1];
}

function extentAlong(positions: F64, [x, y]: Vec2): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 2) {
    const along = positions[i] * x + positions[i + 1] * y;
    low = Math.min(low, along);
    high = Math.max(high, along);
  }
  return [low, high];
}

const inSpace = ({ right, up }: Placement, [x, y]: Vec2): Vec3 => [
  x * right[0] + y * up[0],
  x * right[1] + y * up[1],
  x * right[2] + y * up[2],
];

/** Least-squares linear map from the plane into space, about the vertices' means. */
function placeInSpace(space: F64, plane: F64): Placement {
  const n = plane.length / 2;
  let [cx, cy] = [0, 0];
  const origin: [number, number, number] = [0, 0, 0];
  for (let v = 0; v < n; v++) {
    cx += plane[2 * v] / n;
    cy += plane[2 * v + 1] / n;
    for (let k = 0; k < 3; k++) origin[k] += space[3 * v + k] / n;
  }
  let [xx, xy, yy] = [0, 0, 0];
  const [sx, sy] = [
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let v = 0; v < n; v++) {
    const [dx, dy] = [plane[2 * v] - cx, plane[2 * v + 1] - cy];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
    for (let k = 0; k < 3; k++) {
      sx[k] += dx * (space[3 * v + k] - origin[k]);
      sy[k] += dy * (space[3 * v + k] - origin[k]);
    }
  }
  const determinant = xx * yy - xy * xy;
  const solve = (k: number): Vec2 =>
    determinant > 0 ? [(yy * sx[k] - xy * sy[k]) / determinant, (xx * sy[k] - xy * sx[k]) / determinant] : [0, 0];
  const columns = [0, 1, 2].map(solve);
  return {
    origin,
    right: [columns[0][0], columns[1][0], columns[2][0]],
    up: [columns[0][1], columns[1][1], columns[2][1]],
    centre: [cx, cy],
  };
}

function drawTemplate(
  section: F64,
  point: Vec3,
  normal: Vec3,
  placement: Placement,
  name: string,
  part: string,
): CurveTemplate | undefined {
  // In the cutting plane: x along the cut, y away from the body, so that the curve reads as on the part.
  const outward = reject(crossOf(placement.right, placement.up), normal);
  const along = crossOf(outward, normal);
  const n = section.length / 3;
  const flat = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const offset: Vec3 = [section[3 * i] - point[0], section[3 * i + 1] - point[1], section[3 * i + 2] - point[2]];
    flat[2 * i] = dotOf(offset, along);
    flat[2 * i + 1] = dotOf(offset, outward);
  }
  const lengths = arcLengths(flat);
  const total = lengths[n - 1];
  if (!(total > 0)) return undefined;
  const corners = cornersOf(flat, lengths, false);
  const target = { points: flat, fractions: lengths.map((length) => length / total) };
  const [fit] = fitTogether([target], { toleranceMm: offsetFitMm * 2, knots: corners, corners });
  const base = Math.min(...[...flat].filter((_, i) => i % 2 === 1)) - backMm;
  const start: Vec2 = [flat[0], flat[1]];
  const end: Vec2 = [flat[2 * n - 2], flat[2 * n - 1]];
  const segments: Segment[] = [
    ...segmentsOf(fit.chain),
    { kind: 'line', to: [end[0], base] },
    { kind: 'line', to: [start[0], base] },
    { kind: 'line', to: start },
  ];
  const at: Vec2 = [(start[0] + end[0]) / 2 - letterText(name, letterMm).widthMm / 2, base + letterMm];
  const strokes: DrawingPath[] = placeStrokes(letterText(name, letterMm).strokes, at, 0).map((stroke) => ({
    layer: 'TEXT',
    curve: polylineCurve(Float64Array.from(stroke.flat()), false),
    part,
  }));
  return {
    name,
    point,
    normal,
    section,
    drawing: {
      paths: [{ layer: 'CUT', curve: { start, segments, closed: true }, part }, ...strokes],
      labels: [{ text: name, at, heightMm: letterMm, angle: 0, part }],
    },
  };
}

const dotOf = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const crossOf = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** The unit part of a vector that is perpendicular to a unit direction. */
function reject(vector: Vec3, unit: Vec3): Vec3 {
  const along = dotOf(vector, unit);
  const rest: Vec3 = [vector[0] - along * unit[0], vector[1] - along * unit[1], vector[2] - along * unit[2]];
  const length = Math.max(Math.hypot(...rest), Number.MIN_VALUE);
  return [rest[0] / length, rest[1] / length, rest[2] / length];
}
