/*
 * Where arms leave the trunk: from sections across up. Where an arm is a loop of its own, the armpit is the nearest place between it and the trunk in
 * the highest such section; where it has grown to the trunk, the neck of the section stands for that place. The cut is a plane through it, upright
 * and facing to the side.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import { centroidOf, signedArea } from '../plane/polygon.ts';
import { alongAxis, directionOf, leftOf } from './axes.ts';
import type { Axis, Plane } from './body.ts';
import { findNeck } from './measure-girth.ts';
import { frameOf, sectionOf } from './section.ts';
import type { PlaneFrame, SectionLoop } from './section.ts';

/** Sections are this far apart, mm. */
const stepMm = 10;
/** Share of the body's height in which armpits are looked for: a whole body's lie near 0.75, a torso's lower. */
const heightShare = { least: 0.3, most: 0.95 } as const;
/** Area of an arm's section against the trunk's. */
const armShare = { least: 0.02, most: 0.45 } as const;

/** A place between trunk and arm. */
interface Between {
  readonly height: number;
  readonly place: Vec3;
  readonly isApart: boolean;
}

/**
 * The planes that cut the arms off, left and right (only those found); normals point to the arm.
 * Each plane's point lies in the cut, so `cutByPlane(…, 'part')` takes the arm alone.
 */
export function findArmCuts(mesh: HalfEdgeMesh, up: Axis, front: Axis): Plane[] {
  const side = leftOf(up, front);
  return [1, -1].flatMap((sign) => {
    const places = placesBetween(mesh, up, side, sign);
    const place = choosePlace(places, side);
    if (place === undefined) return [];
    return [{ point: place, normal: [sign * side[0], sign * side[1], sign * side[2]] as const }];
  });
}

/** The highest place where the arm is apart; where it never is, the middle one of the necks by distance from the middle of the body. */
function choosePlace(places: readonly Between[], side: Vec3): Vec3 | undefined {
  const apart = places.filter((between) => between.isApart);
  if (apart.length > 0) return apart.reduce((best, between) => (between.height > best.height ? between : best)).place;
  const outward = (between: Between): number =>
    Math.abs(between.place[0] * side[0] + between.place[1] * side[1] + between.place[2] * side[2]);
  const sorted = [...places].sort((a, b) => outward(a) - outward(b));
  return sorted.at(Math.floor(sorted.length / 2))?.place;
}

function placesBetween(mesh: HalfEdgeMesh, up: Axis, side: Vec3, sign: number): Between[] {
  const normal = directionOf(up);
  const box = bounds(mesh);
  const ends = [alongAxis(up, ...box.min), alongAxis(up, ...box.max)].sort((a, b) => a - b);
  const frame = frameOf(normal);
  const found: Between[] = [];
  const from = ends[0] + heightShare.least * (ends[1] - ends[0]);
  const to = ends[0] + heightShare.most * (ends[1] - ends[0]);
  for (let height = from; height <= to; height += stepMm) {
    const origin: Vec3 = [height * normal[0], height * normal[1], height * normal[2]];
    const loops = sectionOf(mesh, { point: origin, normal }).filter((loop) => loop.closed && signedArea(loop.points) > 0);
    const trunk = loops.reduce<SectionLoop | undefined>(
      (best, loop) => (best && signedArea(best.points) >= signedArea(loop.points) ? best : loop),
      undefined,
    );
    if (trunk === undefined) continue;
    const outward = (x: number, y: number): number => sign * alongSide(frame, side, x, y);
    const middle = outward(...centroidOf(trunk.points));
    const arm = loops.find((loop) => {
      const share = signedArea(loop.points) / signedArea(trunk.points);
      return loop !== trunk && share > armShare.least && share < armShare.most && outward(...centroidOf(loop.points)) > middle;
    });
    const between =
      arm === undefined ? findNeck(trunk.points, (x, y) => outward(x, y) > middle)?.middle : middleBetween(trunk.points, arm.points);
    if (between !== undefined) found.push({ height, place: inSpace(origin, frame, ...between), isApart: arm !== undefined });
  }
  return found;
}

function alongSide(frame: PlaneFrame, side: Vec3, x: number, y: number): number {
  return [0, 1, 2].reduce((sum, k) => sum + side[k] * (x * frame.u[k] + y * frame.w[k]), 0);
}

function inSpace(origin: Vec3, frame: PlaneFrame, x: number, y: number): Vec3 {
  return [0, 1, 2].map((k) => origin[k] + x * frame.u[k] + y * frame.w[k]) as unknown as Vec3;
}

/** Middle of the shortest line between two polygons' corners. */
function middleBetween(a: F64, b: F64): readonly [number, number] {
  let [best, x, y] = [Infinity, 0, 0];
  for (let i = 0; i < a.length; i += 2)
    for (let j = 0; j < b.length; j += 2) {
      const distance = Math.hypot(a[i] - b[j], a[i + 1] - b[j + 1]);
      if (distance >= best) continue;
      [best, x, y] = [distance, (a[i] + b[j]) / 2, (a[i + 1] + b[j + 1]) / 2];
    }
  return [x, y];
}
