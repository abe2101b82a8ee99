/*
 * Taking the arms off: a curtain is hung between trunk and arm, and what lies beyond it goes. In sections across up, where an arm is a loop of its own, the
 * curtain runs midway between it and the trunk; where arm and trunk have grown together it runs along the neck of the section, so that the trunk
 * keeps its side whatever filled the armpit. Above the armpit it goes on upright to the shoulder.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import { buildMesh } from '../mesh/build.ts';
import { splitLongEdges } from '../mesh/edit-topology.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import { centroidOf, signedArea } from '../plane/polygon.ts';
import { alongAxis, directionOf, leftOf } from './axes.ts';
import type { Axis } from './body.ts';
import { findNeck, neck as necks } from './measure-girth.ts';
import { cutByHeight } from './plane-cut.ts';
import { frameOf, sectionOf } from './section.ts';
import type { PlaneFrame, SectionLoop } from './section.ts';
import type { Triangles } from './triangles.ts';

/** Sections are this far apart, mm. */
const stepMm = 10;
/** Share of the body's height in which arms are looked for. */
const heightShare = { least: 0.25, most: 0.95 } as const;
/** Area of an arm's section (or of a finger's) against the trunk's. */
const armShare = { least: 0.0005, most: 0.45 } as const;
/** A neck wider than this is the shoulder itself, not something grown together, mm. */
const mostNeckMm = 65;
/** A neck to an arm lies at least this share of the half width away from the middle; a face or a cleavage does not. */
const asideShare = 0.2;
/** A section shorter than this is a head or a leg, mm. */
const leastTrunkMm = 580;

/** Levels further apart do not belong to the same arm, mm. */
const mostGapMm = 60;

/** The curtain in one section: a point of it and the unit direction to the arm, in the plane of the section. */
interface CurtainLevel {
  /** Along up, mm. */
  readonly height: number;
  readonly x: number;
  readonly y: number;
  readonly outX: number;
  readonly outY: number;
}

/** The curtain beside one arm, from below; never empty. */
export interface Curtain {
  readonly side: 'left' | 'right';
  readonly levels: readonly CurtainLevel[];
}

/** The curtains of the arms that can be found; a torso without arms has none. */
export function findCurtains(mesh: HalfEdgeMesh, up: Axis, front: Axis): Curtain[] {
  const left = leftOf(up, front);
  return (['left', 'right'] as const).flatMap((side) => {
    const levels = levelsOf(mesh, up, left, side === 'left' ? 1 : -1);
    return levels.length === 0 ? [] : [{ side, levels }];
  });
}

/**
 * Takes off what lies beyond a curtain and hangs together with the arm.
 * @param triangles oriented and manifold
 */
export function cutAtCurtain(
  triangles: Triangles,
  curtain: Curtain,
  up: Axis,
): { readonly triangles: Triangles; readonly removedMm2: number } {
  const frame = frameOf(directionOf(up));
  const values = new Float64Array(triangles.positions.length / 3);
  for (let v = 0; v < values.length; v++) {
    const [x, y, z] = [triangles.positions[3 * v], triangles.positions[3 * v + 1], triangles.positions[3 * v + 2]];
    const level = levelAt(curtain.levels, alongAxis(up, x, y, z));
    const [px, py] = inPlane(frame, x, y, z);
    values[v] = (px - level.x) * level.outX + (py - level.y) * level.outY;
  }
  const top = curtain.levels[curtain.levels.length - 1];
  return cutByHeight(triangles, values, inSpace(frame, top.height, top.x, top.y), 'part');
}

/** The curtain at a height: between two sections the mean of both, beyond the last ones as there. */
function levelAt(levels: readonly CurtainLevel[], height: number): CurtainLevel {
  let i = 0;
  while (i < levels.length - 1 && levels[i + 1].height < height) i++;
  const [a, b] = [levels[i], levels[Math.min(i + 1, levels.length - 1)]];
  const t = b.height > a.height ? Math.max(0, Math.min(1, (height - a.height) / (b.height - a.height))) : 0;
  const mix = (p: number, q: number): number => p + t * (q - p);
  const [outX, outY] = [mix(a.outX, b.outX), mix(a.outY, b.outY)];
  const length = Math.max(Math.hypot(outX, outY), Number.MIN_VALUE);
  return { height, x: mix(a.x, b.x), y: mix(a.y, b.y), outX: outX / length, outY: outY / length };
}

function levelsOf(mesh: HalfEdgeMesh, up: Axis, left: Vec3, sign: number): CurtainLevel[] {
  const normal = directionOf(up);
  const box = bounds(mesh);
  const ends = [alongAxis(up, ...box.min), alongAxis(up, ...box.max)].sort((a, b) => a - b);
  const frame = frameOf(normal);
  const levels: CurtainLevel[] = [];
  const from = ends[0] + heightShare.least * (ends[1] - ends[0]);
  const to = ends[0] + heightShare.most * (ends[1] - ends[0]);
  for (let height = from; height <= to; height += stepMm) {
    const loops = sectionOf(mesh, { point: inSpace(frame, height, 0, 0), normal }).filter(
      (loop) => loop.closed && signedArea(loop.points) > 0,
    );
    const level = levelOf(loops, height, (x, y) => sign * alongSide(frame, left, x, y));
    if (level !== undefined) levels.push(level);
  }
  return longestRun(levels);
}

/** Levels without a gap, the most of them: an ear or a hand on the hip makes a few of its own. */
function longestRun(levels: readonly CurtainLevel[]): CurtainLevel[] {
  let best: CurtainLevel[] = [];
  let run: CurtainLevel[] = [];
  for (const level of levels) {
    const last = run.at(-1);
    if (last !== undefined && level.height - last.height > mostGapMm) run = [];
    run.push(level);
    if (run.length > best.length) best = run;
  }
  return best;
}

function levelOf(loops: readonly SectionLoop[], height: number, outward: (x: number, y: number) => number): CurtainLevel | undefined {
  const trunk = loops.reduce<SectionLoop | undefined>(
    (best, loop) => (best && signedArea(best.points) >= signedArea(loop.points) ? best : loop),
    undefined,
  );
  if (trunk === undefined || trunk.length < leastTrunkMm) return undefined;
  const middle = outward(...centroidOf(trunk.points));
  const arms = loops.filter((loop) => {
    const share = signedArea(loop.points) / signedArea(trunk.points);
    return loop !== trunk && share > armShare.least && share < armShare.most && outward(...centroidOf(loop.points)) > middle;
  });
  if (arms.length > 0) return midway(trunk.points, arms, height);
  let half = 0;
  for (let i = 0; i < trunk.points.length; i += 2) half = Math.max(half, outward(trunk.points[i], trunk.points[i + 1]) - middle);
  const neck = findNeck(trunk.points, necks.share.mostSearched, (x, y) => outward(x, y) - middle > asideShare * half);
  if (neck === undefined || neck.chordMm > mostNeckMm) return undefined;
  const [ax, ay, bx, by] = neck.ends;
  // The arm lies on the right of the chord.
  return { height, x: (ax + bx) / 2, y: (ay + by) / 2, outX: (by - ay) / neck.chordMm, outY: (ax - bx) / neck.chordMm };
}

/** Midway on the shortest line from the trunk to one of the arm's loops. */
function midway(trunk: F64, arms: readonly SectionLoop[], height: number): CurtainLevel {
  let [least, ax, ay, bx, by] = [Infinity, 0, 0, 0, 0];
  for (const { points } of arms)
    for (let i = 0; i < trunk.length; i += 2)
      for (let j = 0; j < points.length; j += 2) {
        const distance = Math.hypot(trunk[i] - points[j], trunk[i + 1] - points[j + 1]);
        if (distance < least) [least, ax, ay, bx, by] = [distance, trunk[i], trunk[i + 1], points[j], points[j + 1]];
      }
  const length = Math.max(least, Number.MIN_VALUE);
  return { height, x: (ax + bx) / 2, y: (ay + by) / 2, outX: (bx - ax) / length, outY: (by - ay) / length };
}

function alongSide(frame: PlaneFrame, left: Vec3, x: number, y: number): number {
  return [0, 1, 2].reduce((sum, k) => sum + left[k] * (x * frame.u[k] + y * frame.w[k]), 0);
}

function inPlane(frame: PlaneFrame, x: number, y: number, z: number): readonly [number, number] {
  return [x * frame.u[0] + y * frame.u[1] + z * frame.u[2], x * frame.w[0] + y * frame.w[1] + z * frame.w[2]];
}

function inSpace(frame: PlaneFrame, height: number, x: number, y: number): Vec3 {
  return [0, 1, 2].map((k) => height * frame.normal[k] + x * frame.u[k] + y * frame.w[k]) as unknown as Vec3;
}

/** Edges longer than this are halved before the cut, mm: along an edge the curtain is taken as straight. */
const longestEdgeMm = 12;

function finer(triangles: Triangles): Triangles {
  let current = triangles;
  for (let round = 0; round < 8; round++) {
    const split = splitLongEdges(buildMesh(current.positions, current.faces), longestEdgeMm);
    if (split.faces.length === current.faces.length) break;
    current = split;
  }
  return current;
}

/** Takes off every arm that can be found. */
export function cutArms(triangles: Triangles, up: Axis, front: Axis): { readonly triangles: Triangles; readonly arms: number } {
  let current = finer(triangles);
  const curtains = findCurtains(buildMesh(triangles.positions, triangles.faces), up, front);
  for (const curtain of curtains) current = cutAtCurtain(current, curtain, up).triangles;
  return curtains.length === 0 ? { triangles, arms: 0 } : { triangles: current, arms: curtains.length };
}
