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
  // A small step inward puts the place inside; then a line along the border and a line across it are cut alike.
  const step = Math.min(insideMm, side.lengthMm / 100);
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

/** Step from the border into the part, mm: small, because on a cylinder it turns the normal by itself over the radius. */
const insideMm = 1 / 32;

/** Least number of faces that a fit of normals uses, where 2·t holds fewer. */
const leastFaces = 10;

/**
 * Normal of the surface at a point, from the faces around it: least squares of a quadric z ≈ a + b·x + c·y + d·x²/2 + e·xy + f·y²/2 over the surface of
 * the faces whose centre lies within 2·t (or the nearest ten), z along their mean normal; the normal is (−b, −c, 1), normalised.
 * The integral over a face is taken at its edges' middles, which is exact for quadratics; so neither slivers of a cut nor crowded vertices pull.
 * Exact on planes; on smooth surfaces second order in the mesh, at a border too. (A linear fit of face normals at their centres, measured on a hemisphere
 * of 16 rows: 0.6° off at the border, 2.4° in the fold; this: 0.24° and 0.9°; 64 rows: 0.005°.)
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
  const { faces, positions } = sheet.patch.mesh;
  const scale = 1 / (2 * sheet.thicknessMm);
  const matrix = new Float64Array(36);
  const right = new Float64Array(6);
  for (const f of near) {
    const weight = Math.hypot(sheet.faceCrosses[3 * f], sheet.faceCrosses[3 * f + 1], sheet.faceCrosses[3 * f + 2]);
    for (let i = 0; i < 3; i++) {
      const [a, b] = [3 * faces[3 * f + i], 3 * faces[3 * f + ((i + 1) % 3)]];
      const offset: Vec3 = [
        scale * ((positions[a] + positions[b]) / 2 - at[0]),
        scale * ((positions[a + 1] + positions[b + 1]) / 2 - at[1]),
        scale * ((positions[a + 2] + positions[b + 2]) / 2 - at[2]),
      ];
      const [x, y, z] = [dot(offset, first), dot(offset, second), dot(offset, axis)];
      const row = [1, x, y, (x * x) / 2, x * y, (y * y) / 2];
      for (let r = 0; r < 6; r++) {
        right[r] += weight * row[r] * z;
        for (let c = 0; c <= r; c++) matrix[6 * r + c] += weight * row[r] * row[c];
      }
    }
  }
  const quadric = solveCholesky(matrix, right, 6);
  if (quadric === undefined) return axis;
  const [b, c] = [quadric[1], quadric[2]];
  return unit3([0, 1, 2].map((k) => axis[k] - b * first[k] - c * second[k]) as unknown as Vec3);
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** A pivot below this share of its diagonal leaves the quadric undetermined. */
const pivotShare = 1 / 4096;

/** Solution of a small symmetric positive definite system (lower triangle, row by row); undefined when it is as good as singular. */
function solveCholesky(matrix: F64, right: F64, size: number): Float64Array | undefined {
  const factor = Float64Array.from(matrix);
  const solution = Float64Array.from(right);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[size * i + j];
      for (let k = 0; k < j; k++) sum -= factor[size * i + k] * factor[size * j + k];
      if (i > j) factor[size * i + j] = sum / factor[size * j + j];
      else if (!(sum > pivotShare * matrix[size * i + i])) return undefined;
      else factor[size * i + i] = Math.sqrt(sum);
    }
    for (let k = 0; k < i; k++) solution[i] -= factor[size * i + k] * solution[k];
    solution[i] /= factor[size * i + i];
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) solution[i] -= factor[size * k + i] * solution[k];
    solution[i] /= factor[size * i + i];
  }
  return solution;
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
