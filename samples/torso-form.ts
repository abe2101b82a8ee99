/*
 * The form of the sample torso: a smooth union of ellipsoids, rounded cones and a trunk whose sections swell and narrow with height. Ours, from
 * formulas and plausible tape measures; no scan and no person stands behind it. Millimetres; y up from the floor, z forward, x to the wearer's left.
 * Every term depends on |x| through x² or on a left copy and its mirror image, so the form is its own mirror image in the plane x = 0.
 */
import type { Vec3 } from '../src/base/arrays.ts';
import { naturalSpline } from './natural-spline.ts';

/** Height, half breadth, depth to the front and to the back from the axis z = 0, squareness 0…1. */
const trunkLevels: readonly (readonly [number, number, number, number, number])[] = [
  [780, 168, 86, 106, 0.3],
  [850, 175, 98, 106, 0.35],
  [900, 174, 106, 99, 0.35],
  [950, 164, 109, 86, 0.3],
  [1000, 150, 107, 75, 0.25],
  [1045, 140, 103, 70, 0.2],
  [1090, 138, 101, 75, 0.25],
  [1140, 141, 101, 89, 0.35],
  [1190, 145, 101, 104, 0.45],
  [1240, 150, 96, 113, 0.5],
  [1290, 152, 84, 117, 0.5],
  [1330, 144, 66, 114, 0.45],
  [1370, 112, 44, 102, 0.35],
  [1405, 62, 18, 80, 0.2],
  [1440, 34, 0, 60, 0.1],
];

const heights = trunkLevels.map((level) => level[0]);
const [halfBreadth, frontDepth, backDepth, squareness] = [1, 2, 3, 4].map((column) =>
  naturalSpline(
    heights,
    trunkLevels.map((level) => level[column]),
  ),
);

/** Smooth minimum of two fields, twice differentiable, that differs from the plain one only where they differ by less than k. */
function union(a: number, b: number, k: number): number {
  const h = Math.max(0, k - Math.abs(a - b)) / k;
  return Math.min(a, b) - (h * h * h * k) / 6;
}

/** 1 at 0, 0 from 1 on, three times differentiable. */
const bump = (u: number): number => {
  const rest = Math.max(0, 1 - u * u);
  return rest * rest * rest * rest;
};

function ellipsoid(x: number, y: number, z: number, rx: number, ry: number, rz: number): number {
  const k0 = Math.sqrt((x / rx) * (x / rx) + (y / ry) * (y / ry) + (z / rz) * (z / rz));
  const k1 = Math.sqrt((x / (rx * rx)) * (x / (rx * rx)) + (y / (ry * ry)) * (y / (ry * ry)) + (z / (rz * rz)) * (z / (rz * rz)));
  return k1 === 0 ? -Math.min(rx, ry, rz) : (k0 * (k0 - 1)) / k1;
}

/** Distance to a segment less a radius that runs linearly from ra to rb: a rounded cone, nearly. */
function roundedCone(p: Vec3, a: Vec3, b: Vec3, ra: number, rb: number): number {
  const d = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const q = [p[0] - a[0], p[1] - a[1], p[2] - a[2]];
  const t = Math.min(1, Math.max(0, (q[0] * d[0] + q[1] * d[1] + q[2] * d[2]) / (d[0] * d[0] + d[1] * d[1] + d[2] * d[2])));
  return Math.hypot(q[0] - t * d[0], q[1] - t * d[1], q[2] - t * d[2]) - (ra + t * (rb - ra));
}

/** Sections blend from ellipse to a squarer curve: (1 − m)(X² + Z²) + m(|X|³ + |Z|³) = 1. */
function trunk(x: number, height: number, z: number): number {
  // The trunk ends inside the neck and below the foot of the torso.
  const y = Math.min(Math.max(height, heights[0]), heights[heights.length - 1]);
  const [front, back] = [frontDepth(y), backDepth(y)];
  const breadth = halfBreadth(y);
  const depth = (front + back) / 2;
  const [u, w] = [x / breadth, Math.abs(z - (front - back) / 2) / depth];
  const m = squareness(y);
  const s = (1 - m) * (u * u + w * w) + m * (u * u * u + w * w * w);
  // Near the level 1 the sum grows by 2 to 3 a unit of relative radius.
  return ((s - 1) / (1.3 + s)) * Math.min(breadth, depth);
}

/** Smooth maximum: keeps only what lies inside both. */
const both = (a: number, b: number, k: number): number => -union(-a, -b, k);

/** A left-hand term and its mirror image, joined smoothly across the plane of symmetry. */
const pair = (term: (x: number, y: number, z: number) => number, x: number, y: number, z: number, k: number): number =>
  union(term(x, y, z), term(-x, y, z), k);

/** Upper arm to just below the armpit, closed by a rounded end across its axis. */
function armStump(x: number, y: number, z: number): number {
  const from: Vec3 = [162, 1344, -34];
  const axis: Vec3 = [0.42, -0.905, 0.06];
  const along = (x - from[0]) * axis[0] + (y - from[1]) * axis[1] + (z - from[2]) * axis[2];
  const to: Vec3 = [from[0] + 150 * axis[0], from[1] + 150 * axis[1], from[2] + 150 * axis[2]];
  return both(roundedCone([x, y, z], from, to, 50, 41), along - 62, 24);
}

/** Fuller below than above: the height of the ellipsoid falls smoothly from the upper to the lower half; a slope leads up to the collar bone. */
function bust(x: number, y: number, z: number): number {
  const lift = y - 1226;
  const height = 72 + (14 * lift) / Math.sqrt(lift * lift + 60 * 60);
  const breast = ellipsoid(x - 76 - 0.06 * (z - 60), lift, z - 64, 72, height, 62);
  const slope = ellipsoid(x - 62, y - 1298, z - 38, 84, 96, 34);
  return union(breast, slope, 60);
}

const buttock = (x: number, y: number, z: number): number => ellipsoid(x - 72, y - 870, z + 66, 84, 92, 66);
const shoulderBlade = (x: number, y: number, z: number): number => ellipsoid(x - 76, y - 1290, z + 88, 60, 88, 36);

const neckTop = 1484;
const torsoBottom = 805;

/** Negative inside the torso, positive outside, about the distance in mm near the surface; twice differentiable nearly everywhere. */
export function torsoField(px: number, y: number, z: number): number {
  // Limbs lie so far to the side that their left copy never meets the plane of symmetry; all else is smooth across it.
  const x = Math.abs(px);
  let field = trunk(x, y, z);
  field = union(field, roundedCone([x, y, z], [0, 1398, -46], [146, 1354, -38], 40, 40), 50);
  field = union(field, ellipsoid(x - 160, y - 1342, z + 34, 52, 58, 54), 50);
  field = union(field, armStump(x, y, z), 34);
  field = union(field, roundedCone([x, y, z], [0, 1380, -38], [0, 1530, 0], 57, 50), 44);
  field = union(field, pair(bust, x, y, z, 40), 64);
  field = union(field, pair(buttock, x, y, z, 40), 80);
  field = union(field, pair(shoulderBlade, x, y, z, 40), 60);
  field = union(field, ellipsoid(x, y - 955, z - 58, 112, 110, 60), 60);
  // Furrow of the spine.
  const behind = Math.min(1, Math.max(0, -z / 60));
  field += 7 * behind * behind * (3 - 2 * behind) * bump(x / 46) * bump((y - 1130) / 300);
  return both(both(field, y - 0.2 * z - neckTop, 16), torsoBottom - y, 40);
}
