/*
 * Girths. The section plane goes through the picked point of the surface; the loop that counts is the one on which that point lies, so arms that hang
 * free do not matter. Two lengths are given: the skin line follows the section into every hollow; the tape line is the perimeter of its
 * convex hull, which is what a drawn tape does (it bridges the small of the back and the hollow between the breasts).
 *
 * A girth that takes an arm along is found by its necks: two points of the loop, both in a hollow (`hollowMm` inside the hull), whose chord runs inside
 * the section, beside its middle, and is short against the line that it cuts off.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import { arcLengths, distanceToPolyline, pointAlong } from '../plane/polyline.ts';
import { centroidOf, containsPoint, perimeterOf, signedArea } from '../plane/polygon.ts';
import { alongAxis, directionOf } from './axes.ts';
import type { Axis, Plane } from './body.ts';
import { convexHull, frameOf, sectionOf } from './section.ts';
import type { SectionLoop } from './section.ts';

export interface Girth {
  /** Along the skin, into every hollow, mm. */
  readonly skinMm: number;
  /** Around the convex hull, mm. */
  readonly tapeMm: number;
  /** Sum of the straight gaps where the surface is open (0 on a closed loop), mm; they are part of both lengths. */
  readonly gapMm: number;
  /** The skin line in space; shape 3·n. */
  readonly line: F64;
  /** Other loops in the same plane (arms that hang free, say). */
  readonly otherLoops: number;
}

/** What makes a chord a neck between trunk and arm. Shares are of the whole skin line. */
export const neck = {
  hollowMm: 8,
  ratio: 0.42,
  share: { least: 0.12, most: 0.36, mostSearched: 0.45 },
  samples: 320,
  aside: 0.03,
} as const;

/**
 * The girth through a point of the surface.
 * @param plane its point is the picked point (mm, on the surface or near it), its normal the direction that the girth goes around
 * @throws body/no-girth where the plane misses the mesh; body/girth-cuts-arm where the loop takes a grown-together arm along
 */
export function measureGirth(mesh: HalfEdgeMesh, plane: Plane, name = 'girth'): Girth {
  const loops = sectionOf(mesh, plane);
  let best: SectionLoop | undefined;
  let nearest = Infinity;
  for (const loop of loops) {
    const distance = distanceToPolyline(loop.points, loop.closed, 0, 0);
    if (distance >= nearest) continue;
    nearest = distance;
    best = loop;
  }
  if (best === undefined) throw noGirth(name, plane.point);
  return girthOf(best, loops, name);
}

/**
 * The largest girth at a height (the trunk's, where arms hang free).
 * @param heightMm above the lowest vertex along `up`
 * @throws body/no-girth, body/girth-cuts-arm
 */
export function girthAtHeight(mesh: HalfEdgeMesh, up: Axis, heightMm: number, name = `girth at ${heightMm} mm`): Girth {
  const normal = directionOf(up);
  const box = bounds(mesh);
  const lowest = Math.min(alongAxis(up, ...box.min), alongAxis(up, ...box.max));
  const middle = [0, 1, 2].map((k) => (box.min[k] + box.max[k]) / 2);
  const rise = lowest + heightMm - alongAxis(up, middle[0], middle[1], middle[2]);
  const point: Vec3 = [middle[0] + rise * normal[0], middle[1] + rise * normal[1], middle[2] + rise * normal[2]];
  const loops = sectionOf(mesh, { point, normal });
  let best: SectionLoop | undefined;
  let largest = -Infinity;
  for (const loop of loops) {
    const area = loop.closed ? signedArea(loop.points) : signedArea(convexHull(loop.points));
    if (area <= largest) continue;
    largest = area;
    best = loop;
  }
  if (best === undefined) throw noGirth(name, point);
  return girthOf(best, loops, name);
}

function girthOf(loop: SectionLoop, loops: readonly SectionLoop[], name: string): Girth {
  const ring = loop.closed ? { points: loop.points, positions: loop.positions, gapMm: 0, used: 1 } : closeRing(loop, loops);
  const neckChord = findNeck(ring.points);
  if (neckChord !== undefined)
    throw new Failure(
      'body/girth-cuts-arm',
      `"${name}" would take an arm along: the section narrows to ${neckChord.chordMm.toFixed(0)} mm between trunk and arm.`,
      { stage: 'body', item: name, at: Array.from(ring.positions.slice(3 * neckChord.from, 3 * neckChord.from + 3)) },
      'Cut the arms off first (step "cut-arms", or "cut" by a plane in each armpit), split the web in the armpit (step "webs"), or pick a lower point.',
    );
  return {
    skinMm: perimeterOf(ring.points),
    tapeMm: perimeterOf(convexHull(ring.points)),
    gapMm: ring.gapMm,
    line: ring.positions,
    otherLoops: loops.length - ring.used,
  };
}

/**
 * Joins open lines of one section to a ring: from the end of one to the nearest start of another, until the own start is nearer than any.
 */
function closeRing(first: SectionLoop, loops: readonly SectionLoop[]): { points: F64; positions: F64; gapMm: number; used: number } {
  const rest = loops.filter((loop) => loop !== first && !loop.closed);
  const parts = [first];
  let gapMm = 0;
  for (;;) {
    const last = parts[parts.length - 1].points;
    const [x, y] = [last[last.length - 2], last[last.length - 1]];
    let gap = Math.hypot(first.points[0] - x, first.points[1] - y);
    let next = -1;
    rest.forEach((loop, i) => {
      const distance = Math.hypot(loop.points[0] - x, loop.points[1] - y);
      if (distance >= gap) return;
      gap = distance;
      next = i;
    });
    gapMm += gap;
    if (next === -1) break;
    parts.push(...rest.splice(next, 1));
  }
  const points = Float64Array.from(parts.flatMap((part) => Array.from(part.points)));
  return { points, positions: Float64Array.from(parts.flatMap((part) => Array.from(part.positions))), gapMm, used: parts.length };
}

/** A chord between two hollows of a section. */
export interface Neck {
  readonly chordMm: number;
  /** Number of the section's point before the chord's first end. */
  readonly from: number;
  /** Ends of the chord in the plane of the section, the part that it cuts off on its right. */
  readonly ends: readonly [number, number, number, number];
}

/**
 * Of two chords the one with the smaller chord − `towardTrunk`·(line cut off) counts: along a web of even width it moves up to the trunk, and stops
 * there, because further in the chord grows faster than the line.
 */
const towardTrunk = 0.3;

/**
 * The neck of an arm on a section: a chord between two hollows, short against the line that it cuts off; undefined where there is none.
 * @param points of a closed section, shape 2·n, counter-clockwise
 * @param mostShare of the skin line that may be cut off; `mostSearched` where an arm is known to be there
 * @param accepts chords to look at, by their middle; all where absent
 */
export function findNeck(points: F64, mostShare: number = neck.share.most, accepts?: (x: number, y: number) => boolean): Neck | undefined {
  const ring = Float64Array.from([...Array.from(points), points[0], points[1]]);
  const lengths = arcLengths(ring);
  const total = lengths[lengths.length - 1];
  const hull = convexHull(points);
  const samples: { x: number; y: number; i: number }[] = [];
  for (let i = 0; i < neck.samples; i++) {
    const [x, y] = pointAlong(ring, lengths, (total * i) / neck.samples);
    if (distanceToPolyline(hull, true, x, y) >= neck.hollowMm) samples.push({ x, y, i });
  }
  const [middleX, middleY] = centroidOf(points);
  let best: Neck | undefined;
  let least = Infinity;
  for (const a of samples) {
    for (const b of samples) {
      // The part from a to b is cut off, so that it lies on the right of the chord.
      const share = ((b.i - a.i + neck.samples) % neck.samples) / neck.samples;
      if (share < neck.share.least || share > mostShare) continue;
      const chordMm = Math.hypot(a.x - b.x, a.y - b.y);
      const cost = chordMm - towardTrunk * share * total;
      if (chordMm >= neck.ratio * share * total || cost >= least) continue;
      const middle = [(a.x + b.x) / 2, (a.y + b.y) / 2] as const;
      // A chord through the middle of the body parts left from right, or leg from leg.
      const aside = ((b.y - a.y) * (a.x - middleX) - (b.x - a.x) * (a.y - middleY)) / chordMm;
      if (aside < neck.aside * total || (accepts !== undefined && !accepts(...middle)) || !containsPoint(points, ...middle)) continue;
      least = cost;
      best = { chordMm, from: Math.floor((a.i / neck.samples) * (points.length / 2)), ends: [a.x, a.y, b.x, b.y] };
    }
  }
  return best;
}

function noGirth(name: string, point: Vec3): Failure {
  return new Failure(
    'body/no-girth',
    `"${name}": no part of the body lies in its plane.`,
    { stage: 'body', item: name, at: [...point] },
    'Pick the point again on the body, or give a height between its lowest and highest point.',
  );
}

/** The plane of a girth through a picked point, across `up`. */
export function girthPlane(point: Vec3, up: Axis): Plane {
  return { point, normal: frameOf(directionOf(up)).normal };
}
