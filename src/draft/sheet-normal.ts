/*
 * The normal that a sheet will have where it meets a seam (contract: Fold). A domed part follows the surface; a bent part is straight along one
 * direction, so across it the sheet is a chord. Normals of single faces at a cut are noise: both rules fit a linear model to the faces within 2·t.
 */
import type { F64, Vec2, Vec3 } from '../base/arrays.ts';
import { faceCross } from '../mesh/measure.ts';
import type { Patch } from '../patches/patch.ts';
import { locate } from '../plane/polyline.ts';
import type { BorderSide } from './border.ts';
import type { StraightField } from './straight-field.ts';
import { directionAt, findStraightField } from './straight-field.ts';

/** A patch with its plane positions and everything that its sheet normals need; made once a part. */
export interface Sheet {
  readonly patch: Patch;
  /** Plane positions, 2·n, mm. */
  readonly positions: F64;
  readonly borders: readonly BorderSide[];
  /** Twice the area vector of each face, 3·m. */
  readonly faceCrosses: F64;
  /** Centre of each face in space, 3·m. */
  readonly faceCentres: F64;
  readonly thicknessMm: number;
  /** How a bent part is straight; absent for a domed one. */
  readonly straight?: StraightField;
}

/** Collects what sheet normals need. */
export function makeSheet(patch: Patch, positions: F64, borders: readonly BorderSide[], thicknessMm: number): Sheet {
  const { faces } = patch.mesh;
  const faceCrosses = new Float64Array(faces.length);
  const faceCentres = new Float64Array(faces.length);
  for (let f = 0; f < faces.length / 3; f++) {
    faceCrosses.set(faceCross(patch.mesh, f), 3 * f);
    for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) faceCentres[3 * f + k] += patch.mesh.positions[3 * faces[3 * f + i] + k] / 3;
  }
  const sheet: Sheet = { patch, positions, borders, faceCrosses, faceCentres, thicknessMm };
  return patch.forming === 'bent' ? { ...sheet, straight: findStraightField(patch.mesh, positions, thicknessMm) } : sheet;
}

/** Place on a side at a share of its length in the plane. */
interface BorderPlace {
  readonly plane: Vec2;
  readonly space: Vec3;
  /** Unit direction of the side in the plane and in space. */
  readonly planeDirection: Vec2;
  readonly spaceDirection: Vec3;
  readonly face: number;
}

export function placeOnBorder(sheet: Sheet, side: BorderSide, share: number): BorderPlace {
  const { index: i, share: t } = locate(side.lengths, share * side.lengthMm);
  const { faces, positions } = sheet.patch.mesh;
  const h = side.halfEdges[i];
  const [a, b] = [faces[h], faces[h % 3 === 2 ? h - 2 : h + 1]];
  const at = (k: number): number => positions[3 * a + k] + t * (positions[3 * b + k] - positions[3 * a + k]);
  const along = (k: number): number => positions[3 * b + k] - positions[3 * a + k];
  const [ux, uy] = [side.points[2 * i + 2] - side.points[2 * i], side.points[2 * i + 3] - side.points[2 * i + 1]];
  return {
    plane: [side.points[2 * i] + t * ux, side.points[2 * i + 1] + t * uy],
    space: [at(0), at(1), at(2)],
    planeDirection: unit2([ux, uy]),
    spaceDirection: unit3([along(0), along(1), along(2)]),
    face: Math.floor(h / 3),
  };
}

const unit2 = ([x, y]: Vec2): Vec2 => {
  const length = Math.hypot(x, y);
  return length > 0 ? [x / length, y / length] : [1, 0];
};

const unit3 = ([x, y, z]: Vec3): Vec3 => {
  const length = Math.hypot(x, y, z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 0, 0];
};

/**
 * Unit normal of the sheet at a share of a side's length (contract: Fold).
 * Domed: the surface's normal at the seam, from a linear fit over the faces within 2·t, because a plain mean would lie at about t and call every
 * curved surface folded. Bent: the surface's normal in the middle of the straight line through the place, made perpendicular to that chord.
 */
export function sheetNormal(sheet: Sheet, side: BorderSide, share: number): Vec3 {
  const place = placeOnBorder(sheet, side, share);
  const domed = (): Vec3 => surfaceNormal(sheet, place.face, place.space);
  if (sheet.straight === undefined) return domed();
  // A step inward puts the place inside; then a line along the border and a line across it are cut alike.
  const step = Math.min(1, side.lengthMm / 100);
  const [tx, ty] = place.planeDirection;
  const inside: Vec2 = [place.plane[0] - ty * step, place.plane[1] + tx * step];
  const chord = chordThrough(sheet, inside, directionAt(sheet.straight, inside));
  if (chord === undefined) return domed();
  const middle: Vec2 = [(chord.from.plane[0] + chord.to.plane[0]) / 2, (chord.from.plane[1] + chord.to.plane[1]) / 2];
  const face = faceUnder(sheet, middle);
  if (face === undefined) return domed();
  const normal = surfaceNormal(sheet, face.face, face.space);
  const along = unit3([
    chord.to.space[0] - chord.from.space[0],
    chord.to.space[1] - chord.from.space[1],
    chord.to.space[2] - chord.from.space[2],
  ]);
  const tilt = normal[0] * along[0] + normal[1] * along[1] + normal[2] * along[2];
  return unit3([normal[0] - tilt * along[0], normal[1] - tilt * along[1], normal[2] - tilt * along[2]]);
}

/** Least number of faces that a fit of normals uses, where 2·t holds fewer. */
const leastFaces = 8;

/**
 * Normal of the surface at a point, from the faces around it: area-weighted least squares of n(x) ≈ n₀ + G·x, x in the tangent plane, over the
 * faces whose centre lies within 2·t (or the nearest eight); n₀ normalised. Exact on planes, second order on smooth surfaces.
 */
export function surfaceNormal(sheet: Sheet, startFace: number, at: Vec3): Vec3 {
  const near = facesAround(sheet, startFace, at);
  let mean: Vec3 = [0, 0, 0];
  for (const f of near)
    mean = [mean[0] + sheet.faceCrosses[3 * f], mean[1] + sheet.faceCrosses[3 * f + 1], mean[2] + sheet.faceCrosses[3 * f + 2]];
  const axis = unit3(mean);
  const helper: Vec3 = Math.abs(axis[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const first = unit3(cross(axis, helper));
  const second = cross(axis, first);
  // Normal equations of the three unknowns (value, two slopes), the same matrix for each coordinate of the normal.
  const m = new Float64Array(9);
  const right = new Float64Array(9);
  const scale = 1 / (2 * sheet.thicknessMm);
  for (const f of near) {
    const offset: Vec3 = [sheet.faceCentres[3 * f] - at[0], sheet.faceCentres[3 * f + 1] - at[1], sheet.faceCentres[3 * f + 2] - at[2]];
    const row = [1, scale * dot(offset, first), scale * dot(offset, second)];
    const [cx, cy, cz] = [sheet.faceCrosses[3 * f], sheet.faceCrosses[3 * f + 1], sheet.faceCrosses[3 * f + 2]];
    const weight = Math.hypot(cx, cy, cz);
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) m[3 * i + j] += weight * row[i] * row[j];
      right[3 * i] += row[i] * cx;
      right[3 * i + 1] += row[i] * cy;
      right[3 * i + 2] += row[i] * cz;
    }
  }
  const value = firstUnknown(m, right);
  return value === undefined ? axis : unit3(value);
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** A spread of face centres below this share of the mean square (in units of 2·t) leaves the slopes undetermined. */
const spreadShare = 1 / 512;

/** First row of m⁻¹·right for a symmetric 3×3 matrix; undefined when the slopes are undetermined. */
function firstUnknown(m: F64, right: F64): Vec3 | undefined {
  const [a, b, c, d, e, f] = [m[0], m[1], m[2], m[4], m[5], m[8]];
  const [c0, c1, c2] = [d * f - e * e, c * e - b * f, b * e - c * d];
  const determinant = a * c0 + b * c1 + c * c2;
  // Variances of the two slopes' coordinates, relative to the weight; their product tells whether the centres span the plane.
  const [uu, uv, vv] = [d / a - (b / a) * (b / a), e / a - (b / a) * (c / a), f / a - (c / a) * (c / a)];
  if (!(uu * vv - uv * uv > spreadShare * spreadShare * (uu + vv) * (uu + vv)) || !(determinant > 0)) return undefined;
  return [0, 1, 2].map((k) => (c0 * right[k] + c1 * right[3 + k] + c2 * right[6 + k]) / determinant) as unknown as Vec3;
}

/** Faces connected to a face whose centre lies within 2·t of a point, or the nearest `leastFaces`. */
function facesAround(sheet: Sheet, start: number, at: Vec3): number[] {
  const { twin } = sheet.patch.mesh;
  const reach = 2 * sheet.thicknessMm;
  const distance = (f: number): number =>
    Math.hypot(sheet.faceCentres[3 * f] - at[0], sheet.faceCentres[3 * f + 1] - at[1], sheet.faceCentres[3 * f + 2] - at[2]);
  const seen = new Set<number>([start]);
  const waiting: { readonly f: number; readonly away: number }[] = [{ f: start, away: distance(start) }];
  const near: number[] = [];
  while (waiting.length > 0) {
    let best = 0;
    for (let i = 1; i < waiting.length; i++) if (waiting[i].away < waiting[best].away) best = i;
    const { f, away } = waiting[best];
    waiting[best] = waiting[waiting.length - 1];
    waiting.pop();
    if (near.length >= leastFaces && away > reach) break;
    near.push(f);
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      if (twin[h] === -1) continue;
      const g = Math.floor(twin[h] / 3);
      if (seen.has(g)) continue;
      seen.add(g);
      waiting.push({ f: g, away: distance(g) });
    }
  }
  return near;
}

interface ChordEnd {
  readonly plane: Vec2;
  readonly space: Vec3;
}

/** The straight line through an inner point, from border to border; undefined when the point lies outside. */
function chordThrough(sheet: Sheet, through: Vec2, direction: Vec2): { readonly from: ChordEnd; readonly to: ChordEnd } | undefined {
  let [before, after] = [-Infinity, Infinity];
  let [beforeAt, afterAt] = [undefined, undefined] as [BorderHit | undefined, BorderHit | undefined];
  let crossings = 0;
  for (const side of sheet.borders) {
    const { points } = side;
    for (let i = 0; i + 3 < points.length; i += 2) {
      const [ax, ay, bx, by] = [points[i] - through[0], points[i + 1] - through[1], points[i + 2] - through[0], points[i + 3] - through[1]];
      const a = direction[0] * ay - direction[1] * ax;
      const b = direction[0] * by - direction[1] * bx;
      if (a > 0 === b > 0) continue;
      const share = a / (a - b);
      const along = direction[0] * (ax + share * (bx - ax)) + direction[1] * (ay + share * (by - ay));
      if (along > 0) crossings++;
      if (along > 0 && along < after) [after, afterAt] = [along, { side, edge: i / 2, share }];
      if (along <= 0 && along > before) [before, beforeAt] = [along, { side, edge: i / 2, share }];
    }
  }
  if (beforeAt === undefined || afterAt === undefined || crossings % 2 === 0) return undefined;
  return { from: endOf(sheet, beforeAt), to: endOf(sheet, afterAt) };
}

interface BorderHit {
  readonly side: BorderSide;
  readonly edge: number;
  readonly share: number;
}

function endOf(sheet: Sheet, { side, edge, share }: BorderHit): ChordEnd {
  const { faces, positions } = sheet.patch.mesh;
  const h = side.halfEdges[edge];
  const [a, b] = [faces[h], faces[h % 3 === 2 ? h - 2 : h + 1]];
  const mix = (values: F64, k: number): number => values[3 * a + k] + share * (values[3 * b + k] - values[3 * a + k]);
  const { points } = side;
  return {
    plane: [
      points[2 * edge] + share * (points[2 * edge + 2] - points[2 * edge]),
      points[2 * edge + 1] + share * (points[2 * edge + 3] - points[2 * edge + 1]),
    ],
    space: [mix(positions, 0), mix(positions, 1), mix(positions, 2)],
  };
}

/** The face whose image in the plane holds a point, with the point's place in space. */
function faceUnder(sheet: Sheet, at: Vec2): { readonly face: number; readonly space: Vec3 } | undefined {
  const { faces, positions } = sheet.patch.mesh;
  const plane = sheet.positions;
  for (let f = 0; f < faces.length / 3; f++) {
    const [a, b, c] = [faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]];
    const [ux, uy] = [plane[2 * b] - plane[2 * a], plane[2 * b + 1] - plane[2 * a + 1]];
    const [vx, vy] = [plane[2 * c] - plane[2 * a], plane[2 * c + 1] - plane[2 * a + 1]];
    const [wx, wy] = [at[0] - plane[2 * a], at[1] - plane[2 * a + 1]];
    const area = ux * vy - uy * vx;
    const [p, q] = [(wx * vy - wy * vx) / area, (ux * wy - uy * wx) / area];
    if (!(p >= 0 && q >= 0 && p + q <= 1)) continue;
    const mix = (k: number): number =>
      positions[3 * a + k] + p * (positions[3 * b + k] - positions[3 * a + k]) + q * (positions[3 * c + k] - positions[3 * a + k]);
    return { face: f, space: [mix(0), mix(1), mix(2)] };
  }
  return undefined;
}
