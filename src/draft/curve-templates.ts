/*
 * Curve templates: true-size cuts through a part's inner face, to hold against the foam while it is formed. Each is a piece of card whose curved edge is
 * the inner face and whose straight edge lies towards the body. A bent part gets three cuts across its straight lines; a domed part two across its
 * longer way and one along it.
 */
import type { F64, Vec2, Vec3 } from '../base/arrays.ts';
import { vertexNormals } from '../mesh/measure.ts';
import { fitTogether } from '../plane/curve-fit.ts';
import { arcLengths } from '../plane/polyline.ts';
import { cornersOf } from './corners.ts';
import { polylineCurve, segmentsOf } from './curve.ts';
import type { CurveTemplate } from './drafted-part.ts';
import type { DrawingPath, Segment } from './drawing.ts';
import { letterText, placeStrokes, textWidth } from './lettering.ts';
import type { PreparedPart } from './prepare.ts';
import { cutByPlane } from './section.ts';

/** Where the three cuts lie, as shares of the part's extent. */
const acrossShares = [0.25, 0.5, 0.75] as const;
const domedShares = [1 / 3, 2 / 3] as const;
/** Card left behind the deepest point of the curve, mm. */
const backMm = 25;
const letterMm = 5;

/** Up to three templates of a part; fewer where a cut misses it. */
export function curveTemplates(part: PreparedPart): CurveTemplate[] {
  const { mesh } = part.patch;
  const { positions, straight } = part.sheet;
  const inner = innerFace(part);
  const centre = meanOf(positions);
  const way = straight === undefined ? longWay(positions, centre) : straight.direction;
  const across: Vec2 = [-way[1], way[0]];
  const cuts =
    straight === undefined
      ? [...domedShares.map((share) => ({ step: way, share })), { step: across, share: 0.5 }]
      : acrossShares.map((share) => ({ step: way, share }));
  return cuts.flatMap(({ step, share }, i) => {
    const [low, high] = extentAlong(positions, step);
    const move = low + share * (high - low) - (centre[0] * step[0] + centre[1] * step[1]);
    const frame = frameAt(part, [centre[0] + move * step[0], centre[1] + move * step[1]], step);
    if (frame === undefined) return [];
    const section = nearestTo(cutByPlane({ positions: inner, faces: mesh.faces, twin: mesh.twin }, frame.point, frame.normal), frame.point);
    if (section === undefined || section.length < 9) return [];
    return [drawTemplate(section, frame, `${part.letter} T${i + 1}`, part.patch.id)];
  });
}

/** A cutting plane and the surface's outward normal, at a place of the part. */
interface CutFrame {
  readonly point: Vec3;
  readonly normal: Vec3;
  readonly outward: Vec3;
}

/**
 * The plane through the surface at a place of the part, perpendicular to the image in space of a direction of the plane there. Local, because a part that
 * wraps round the body has no one direction. Where the place lies outside the part (in a bay) the nearest face stands in.
 */
function frameAt(part: PreparedPart, at: Vec2, step: Vec2): CutFrame | undefined {
  const { faces, positions: space } = part.patch.mesh;
  const plane = part.sheet.positions;
  let [nearest, least] = [-1, Infinity];
  for (let f = 0; f < faces.length / 3; f++) {
    let [x, y] = [-at[0], -at[1]];
    for (let i = 0; i < 3; i++) {
      x += plane[2 * faces[3 * f + i]] / 3;
      y += plane[2 * faces[3 * f + i] + 1] / 3;
    }
    const away = Math.hypot(x, y);
    if (away < least) [nearest, least] = [f, away];
  }
  if (nearest < 0) return undefined;
  const [a, b, c] = [0, 1, 2].map((i) => faces[3 * nearest + i]);
  const [ux, uy] = [plane[2 * b] - plane[2 * a], plane[2 * b + 1] - plane[2 * a + 1]];
  const [vx, vy] = [plane[2 * c] - plane[2 * a], plane[2 * c + 1] - plane[2 * a + 1]];
  const area = ux * vy - uy * vx;
  // step = p·u + q·v in the plane has the image p·U + q·V in space.
  const [p, q] = [(step[0] * vy - step[1] * vx) / area, (ux * step[1] - uy * step[0]) / area];
  const edge = (from: number, to: number): Vec3 => [
    space[3 * to] - space[3 * from],
    space[3 * to + 1] - space[3 * from + 1],
    space[3 * to + 2] - space[3 * from + 2],
  ];
  const [u, v] = [edge(a, b), edge(a, c)];
  const normal = unitOf([p * u[0] + q * v[0], p * u[1] + q * v[1], p * u[2] + q * v[2]]);
  const outward = unitOf(crossOf(u, v));
  const depth = part.rule.neutralFactor * part.rule.thicknessMm;
  const middle = [0, 1, 2].map((k) => (space[3 * a + k] + space[3 * b + k] + space[3 * c + k]) / 3 - depth * outward[k]);
  return { point: [middle[0], middle[1], middle[2]], normal, outward };
}

/** Of several pieces of a cut the one that passes nearest to a point. */
function nearestTo(sections: readonly F64[], point: Vec3): F64 | undefined {
  const distance = (section: F64): number => {
    let least = Infinity;
    for (let i = 0; i < section.length; i += 3)
      least = Math.min(least, Math.hypot(section[i] - point[0], section[i + 1] - point[1], section[i + 2] - point[2]));
    return least;
  };
  return [...sections].sort((a, b) => distance(a) - distance(b))[0];
}

/** Inner face of the sheet: the neutral plane moved inward by k·t along its normals. Shape 3·n, mm. */
export function innerFace(part: Pick<PreparedPart, 'patch' | 'rule'>): Float64Array {
  const { positions } = part.patch.mesh;
  const normals = vertexNormals(part.patch.mesh);
  const depth = part.rule.neutralFactor * part.rule.thicknessMm;
  return Float64Array.from(positions, (value, i) => value - depth * normals[i]);
}

function meanOf(positions: F64): Vec2 {
  let [x, y] = [0, 0];
  for (let i = 0; i < positions.length; i += 2) {
    x += positions[i];
    y += positions[i + 1];
  }
  return [(2 * x) / positions.length, (2 * y) / positions.length];
}

/** Direction in which points of the plane spread most. */
function longWay(positions: F64, centre: Vec2): Vec2 {
  let [xx, xy, yy] = [0, 0, 0];
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

/** Curved edges are fitted within this of the cut, mm: a tenth of what a template may be off. */
const edgeFitMm = 0.05;

/** Lays a cut down with its chord level and the outside up, and closes it to a piece of card. */
function drawTemplate(section: F64, { point, normal, outward }: CutFrame, name: string, part: string): CurveTemplate {
  const n = section.length / 3;
  const last = 3 * (n - 1);
  const chord: Vec3 = [section[last] - section[0], section[last + 1] - section[1], section[last + 2] - section[2]];
  // A closed or tightly wrapped cut has no chord to speak of: then across the outward direction.
  const side = crossOf(outward, normal);
  const along = unitOf(Math.hypot(...chord) > 1 ? chord : side);
  const upward = crossOf(normal, along);
  const sign = dotOf(upward, outward) >= 0 ? 1 : -1;
  const flat = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const offset: Vec3 = [section[3 * i] - section[0], section[3 * i + 1] - section[1], section[3 * i + 2] - section[2]];
    flat[2 * i] = dotOf(offset, along);
    flat[2 * i + 1] = sign * dotOf(offset, upward);
  }
  const lengths = arcLengths(flat);
  const total = lengths[n - 1];
  const corners = cornersOf(flat, lengths, false);
  const target = { points: flat, fractions: lengths.map((length) => length / total) };
  const [fit] = fitTogether([target], { toleranceMm: edgeFitMm, knots: corners, corners });
  const ys = [...flat].filter((_, i) => i % 2 === 1);
  const base = Math.min(...ys) - backMm;
  const start: Vec2 = [flat[0], flat[1]];
  const end: Vec2 = [flat[2 * n - 2], flat[2 * n - 1]];
  const segments: Segment[] = [
    ...segmentsOf(fit.chain),
    { kind: 'line', to: [end[0], base] },
    { kind: 'line', to: [start[0], base] },
    { kind: 'line', to: start },
  ];
  const width = textWidth(name, letterMm);
  const middle = (start[0] + end[0]) / 2;
  // Narrow cards are lettered upright.
  const turned = Math.abs(end[0] - start[0]) < width + 2 * letterMm;
  const at: Vec2 = turned ? [middle + letterMm / 2, base + (backMm - width) / 2] : [middle - width / 2, base + letterMm];
  const angle = turned ? Math.PI / 2 : 0;
  const strokes: DrawingPath[] = placeStrokes(letterText(name, letterMm).strokes, at, angle).map((stroke) => ({
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
      labels: [{ text: name, at, heightMm: letterMm, angle, part }],
    },
  };
}

const dotOf = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const crossOf = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

function unitOf([x, y, z]: Vec3): Vec3 {
  const length = Math.max(Math.hypot(x, y, z), Number.MIN_VALUE);
  return [x / length, y / length, z / length];
}
