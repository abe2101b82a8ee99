/*
 * Fair seam lines and cut lines. The seam line of a side is the flattened border as a chain of cubics; both mates of a seam are fitted at once, so
 * their knots lie at the same shares of the seam. The cut line is the seam line moved outward by bevel and allowance, closed at the corners.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import { coincidentMm, offsetFitMm, seamFitMm, straightMm } from '../base/tolerance.ts';
import { reverseChain } from '../plane/chain.ts';
import type { ChainFit, FitTarget } from '../plane/curve-fit.ts';
import { fitTogether, refineChain } from '../plane/curve-fit.ts';
import { resolveCrossings } from '../plane/offset.ts';
import { crossesItself, signedArea } from '../plane/polygon.ts';
import { arcLengths, reversed } from '../plane/polyline.ts';
import type { Reach } from './bevel.ts';
import type { BorderSide } from './border.ts';
import { cornersOf } from './corners.ts';
import { flattenCurve, polylineCurve, segmentsOf } from './curve.ts';
import type { Joint, Run } from './cut-line.ts';
import { cutTabs, joinRuns, runsOf } from './cut-line.ts';
import type { Curve, Segment } from './drawing.ts';

/** A side of a seam, or a side that belongs to none. `against`: it runs against the seam's first side. */
export interface UnitSide {
  readonly part: number;
  /** Position among the part's borders. */
  readonly side: number;
  readonly against: boolean;
}

/** A side with its fair seam line, in border direction. */
export interface FittedSide {
  readonly side: BorderSide;
  readonly fit: ChainFit;
  /** Shares of the side's length at which it has a corner. */
  readonly corners: readonly number[];
}

/** Legs of darts are fitted this many times more closely. */
const dartFiner = 2;

/** Dense points of a side: original ones and at most this far apart, mm. */
const denseMm = 2;

/**
 * Fits the seam lines of the sides of one unit together: a corner of either mate is a knot of both.
 * @returns in the order given, each in its own border direction
 */
export function fitSeamLines(sides: readonly { readonly side: BorderSide; readonly against: boolean }[]): FittedSide[] {
  // The legs of a dart run so close together at its tip that curves within the usual tolerance could cross.
  const toleranceMm = sides.some(({ side }) => side.kind === 'dart') ? seamFitMm / dartFiner : seamFitMm;
  const corners = mergeCorners(
    sides.map(({ side, against }) => cornersOf(side.points, side.lengths, side.closed).map((share) => (against ? 1 - share : share))),
    Math.max(...sides.map(({ side }) => side.lengthMm)),
  );
  const targets = sides.map(({ side, against }) => denseTarget(side, against));
  const fits = fitTogether(targets, { toleranceMm, knots: corners, corners });
  return sides.map(({ side, against }, i) => ({
    side,
    fit: against ? reverseChain(fits[i]) : fits[i],
    // The same arithmetic as reverseChain, so that corners and knots agree exactly.
    corners: against ? corners.map((share) => 1 - share).reverse() : corners,
  }));
}

/** Corners of both mates that lie closer than this are one, mm. */
const mergeMm = 2;

function mergeCorners(lists: readonly (readonly number[])[], lengthMm: number): number[] {
  const merged: number[] = [];
  for (const share of lists.flat().sort((a, b) => a - b)) {
    const last = merged.at(-1);
    if (last === undefined || (share - last) * lengthMm > mergeMm) merged.push(share);
  }
  return merged;
}

function denseTarget(side: BorderSide, against: boolean): FitTarget {
  const points: number[] = [];
  const shares: number[] = [];
  for (let i = 0; i + 1 < side.lengths.length; i++) {
    const [from, to] = [side.lengths[i], side.lengths[i + 1]];
    const steps = Math.max(1, Math.ceil((to - from) / denseMm));
    for (let j = 0; j < steps; j++) {
      const share = j / steps;
      points.push(
        side.points[2 * i] + share * (side.points[2 * i + 2] - side.points[2 * i]),
        side.points[2 * i + 1] + share * (side.points[2 * i + 3] - side.points[2 * i + 1]),
      );
      shares.push((from + share * (to - from)) / side.lengthMm);
    }
  }
  const n = side.points.length;
  points.push(side.points[n - 2], side.points[n - 1]);
  shares.push(1);
  const closed = side.closed ? { closed: true } : {};
  if (!against) return { points: Float64Array.from(points), fractions: Float64Array.from(shares), ...closed };
  return { points: reversed(Float64Array.from(points)), fractions: Float64Array.from(shares.reverse(), (share) => 1 - share), ...closed };
}

/** A fitted side with what lies outside it. Shares run in border direction. */
export interface ReachingSide extends FittedSide {
  readonly allowanceMm: number;
  readonly join: 'butt' | 'lap' | 'tab';
  readonly reach: (share: number) => Reach;
}

/** One closed cut curve of a part. */
export interface CutLoop {
  readonly curve: Curve;
  /** Counter-clockwise for the outline, clockwise for holes; 2·n, mm. */
  readonly polygon: F64;
  /** The moved border crossed itself and was mended; its knots are its own. */
  readonly mended: boolean;
}

interface PartRuns {
  /** Runs of each loop in border order, and the joint after each. */
  readonly loops: readonly { readonly runs: Run[]; readonly joints: Joint[] }[];
}

/** Polylines for checks and for the outline follow their curve this closely, mm. */
const polygonMm = 0.02;

/**
 * Cut lines of all parts.
 * @param parts sides of each part in border order
 * @param units mates that share their knots; every side belongs to exactly one
 * @returns the loops of each part, outline first
 */
export function cutLoops(parts: readonly (readonly ReachingSide[])[], units: readonly (readonly UnitSide[])[]): CutLoop[][] {
  const runs = parts.map(partRuns);
  const chains = new Map<Run, ChainFit>();
  for (const unit of units) fitUnit(unit, parts, runs, chains);
  return runs.map(({ loops }) =>
    loops.map(({ runs: loopRuns, joints }, index) => {
      const curve = closeLoop(loopRuns, joints, chains);
      const polygon = flattenCurve(curve, polygonMm);
      if (!crossesItself(polygon)) return { curve, polygon, mended: false };
      return mendLoop(polygon, index === 0);
    }),
  );
}

function partRuns(sides: readonly ReachingSide[]): PartRuns {
  const loopCount = Math.max(0, ...sides.map(({ side }) => side.loop)) + 1;
  const loops: { runs: Run[]; joints: Joint[] }[] = [];
  for (let loop = 0; loop < loopCount; loop++) {
    const runs: Run[] = [];
    const closed: boolean[] = [];
    sides.forEach((reaching, index) => {
      const { side, fit, corners, reach, allowanceMm, join } = reaching;
      if (side.loop !== loop) return;
      const strip = stripWidth(reaching);
      const bare = runsOf(index, fit, corners, (share) => reach(share).cut + strip);
      const own = join === 'tab' && allowanceMm > 0 ? bare.map((run) => cutTabs(run, allowanceMm)) : bare;
      runs.push(...own);
      closed.push(side.closed && own.length === 1);
    });
    const joints: Joint[] = runs.map(() => ({ points: [] }));
    if (!(runs.length === 1 && closed[0]))
      for (let i = 0; i < runs.length; i++) {
        const j = (i + 1) % runs.length;
        const corner = startOf(sides, runs[j]);
        const [a, b] = [sides[runs[i].side], sides[runs[j].side]];
        const last = runs[i].fractions[runs[i].fractions.length - 1];
        const reachMm = Math.max(a.reach(last).cut + stripWidth(a), b.reach(runs[j].fractions[0]).cut + stripWidth(b));
        const joined = joinRuns(runs[i], runs[j], corner, reachMm);
        runs[i] = joined.before;
        runs[j] = joined.after;
        joints[i] = joined.joint;
      }
    loops.push({ runs, joints });
  }
  return { loops };
}

/** Width of an allowance that is one strip: tabs start and end on the cut line. */
const stripWidth = ({ allowanceMm, join }: ReachingSide): number => (join === 'tab' ? 0 : allowanceMm);

/** The seam line's point where a run starts. */
function startOf(sides: readonly ReachingSide[], run: Run): Vec2 {
  const { fit } = sides[run.side];
  const piece = Math.max(
    0,
    [...fit.knots].findIndex((knot) => knot === run.fractions[0]),
  );
  return [fit.chain[6 * piece], fit.chain[6 * piece + 1]];
}

function fitUnit(
  unit: readonly UnitSide[],
  parts: readonly (readonly ReachingSide[])[],
  runs: readonly PartRuns[],
  chainsInto: Map<Run, ChainFit>,
): void {
  const own = unit.flatMap(({ part, side, against }) =>
    runs[part].loops.flatMap((loop) => loop.runs.filter((run) => run.side === side).map((run) => ({ run, part, side, against }))),
  );
  const knots = [
    ...new Set(
      unit.flatMap(({ part, side, against }) => [...(against ? reverseChain(parts[part][side].fit) : parts[part][side].fit).knots]),
    ),
  ];
  const inner = knots.filter((knot) => knot > 0 && knot < 1).sort((a, b) => a - b);
  const moved = own.filter(({ run }) => !run.unmoved && run.polyline !== true);
  const fits =
    moved.length === 0
      ? []
      : fitTogether(
          moved.map(({ run, part, side, against }) => runTarget(run, parts[part][side], against)),
          { toleranceMm: offsetFitMm, knots: inner },
        );
  const added = [...new Set(fits.flatMap((fit) => [...fit.knots.slice(1, -1)]))]
    .filter((knot) => !inner.includes(knot))
    .sort((a, b) => a - b);
  moved.forEach(({ run, against }, i) => chainsInto.set(run, against ? reverseChain(fits[i]) : fits[i]));
  for (const { run, part, side, against } of own) {
    if (!run.unmoved || run.polyline === true) continue;
    const whole = refineChain(parts[part][side].fit, against ? added.map((knot) => 1 - knot) : added);
    chainsInto.set(run, cutChain(whole, run));
  }
}

function runTarget(run: Run, { side }: ReachingSide, against: boolean): FitTarget {
  const closed = side.closed && run.fractions[0] === 0 && run.fractions[run.fractions.length - 1] === 1 ? { closed: true } : {};
  if (!against) return { points: run.points, fractions: run.fractions, ...closed };
  return { points: reversed(run.points), fractions: Float64Array.from([...run.fractions].reverse(), (share) => 1 - share), ...closed };
}

/** The pieces of a chain that an unmoved run covers; its ends are knots. */
function cutChain(fit: ChainFit, run: Run): ChainFit {
  const knots = [...fit.knots];
  const from = knots.indexOf(run.fractions[0]);
  const to = knots.indexOf(run.fractions[run.fractions.length - 1]);
  return { knots: fit.knots.slice(from, to + 1), chain: fit.chain.slice(6 * from, 6 * to + 2), errorMm: fit.errorMm };
}

function closeLoop(runs: readonly Run[], joints: readonly Joint[], chains: ReadonlyMap<Run, ChainFit>): Curve {
  const segments: Segment[] = [];
  let start: Vec2 | undefined;
  let pen: Vec2 | undefined;
  const lineTo = (to: Vec2): void => {
    if (pen !== undefined && Math.hypot(pen[0] - to[0], pen[1] - to[1]) > coincidentMm) {
      segments.push({ kind: 'line', to });
      pen = to;
    }
  };
  runs.forEach((run, i) => {
    const chain = chains.get(run)?.chain;
    const points = chain ?? run.points;
    const from: Vec2 = [points[0], points[1]];
    start ??= from;
    pen ??= from;
    lineTo(from);
    if (chain === undefined) for (let k = 2; k < points.length; k += 2) lineTo([points[k], points[k + 1]]);
    else segments.push(...segmentsOf(chain));
    pen = [points[points.length - 2], points[points.length - 1]];
    for (const point of joints[i].points) lineTo(point);
  });
  start ??= [0, 0];
  lineTo(start);
  // The last piece ends at the start to the bit.
  const end = segments.at(-1);
  if (end !== undefined) segments[segments.length - 1] = { ...end, to: start };
  const joined = joinStraight(start, segments);
  // The start itself may lie within a straight edge.
  const [first, ...rest] = joined;
  const tail = rest.slice(0, -1);
  const last = rest.at(-1);
  if (first?.kind === 'line' && last?.kind === 'line') {
    const from = tail.at(-1)?.to ?? first.to;
    const straight = joinStraight(from, [last, first]);
    if (straight.length === 1) return { start: first.to, segments: [...tail, ...straight], closed: true };
  }
  return { start, segments: joined, closed: true };
}

/** Straight pieces that continue each other become one. */
function joinStraight(start: Vec2, segments: readonly Segment[]): Segment[] {
  const joined: Segment[] = [];
  const froms: Vec2[] = [];
  let from = start;
  for (const segment of segments) {
    const last = joined.at(-1);
    if (segment.kind === 'line' && last?.kind === 'line') {
      const before = froms[froms.length - 1];
      const [ux, uy] = [segment.to[0] - before[0], segment.to[1] - before[1]];
      const [wx, wy] = [last.to[0] - before[0], last.to[1] - before[1]];
      const length = Math.hypot(ux, uy);
      const off = Math.abs(ux * wy - uy * wx) / Math.max(length, Number.MIN_VALUE);
      const along = (ux * wx + uy * wy) / Math.max(length, Number.MIN_VALUE);
      if (off <= straightMm / 10 && along >= 0 && along <= length) {
        joined[joined.length - 1] = segment;
        from = segment.to;
        continue;
      }
    }
    joined.push(segment);
    froms.push(from);
    from = segment.to;
  }
  return joined;
}

/** A border that crosses itself: keep what it winds around once, and fit that anew. */
function mendLoop(polygon: F64, isOutline: boolean): CutLoop {
  const turned = isOutline ? polygon : reversed(polygon);
  const rings = resolveCrossings([turned]).sort((a, b) => Math.abs(signedArea(b)) - Math.abs(signedArea(a)));
  const ring = rings[0] ?? turned;
  const oriented = isOutline ? ring : reversed(ring);
  const points = Float64Array.from([...oriented, oriented[0], oriented[1]]);
  const lengths = arcLengths(points);
  const total = lengths[lengths.length - 1];
  const corners = cornersOf(points, lengths, true);
  const target: FitTarget = { points, fractions: lengths.map((length) => length / total) };
  const [fit] = fitTogether([target], { toleranceMm: offsetFitMm, knots: corners, corners });
  const fair: Curve = { start: [points[0], points[1]], segments: segmentsOf(fit.chain), closed: true };
  const polygonOfFair = flattenCurve(fair, polygonMm);
  // In a cusp even a close fit may cross; the bare polygon does not.
  if (crossesItself(polygonOfFair)) return { curve: polylineCurve(oriented, true), polygon: oriented, mended: true };
  return { curve: fair, polygon: polygonOfFair, mended: true };
}
