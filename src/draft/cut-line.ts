/*
 * From seam lines to cut lines. Each side becomes runs between its corners; a run is moved outward by bevel and allowance; neighbouring runs are
 * extended to a mitre, or trimmed where they cross; then fair curves are fitted to both mates at once so that they share their knots.
 */
import type { Vec2 } from '../base/arrays.ts';
import type { ChainFit } from '../plane/curve-fit.ts';
import { cubicAt, cubicDirection } from '../plane/curve-fit.ts';
import { arcLengths, interpolate, pointAlong } from '../plane/polyline.ts';

/** A stretch of a side between two corners, moved outward; points dense. Runs follow the border, the part on their left. */
export interface Run {
  /** Position of the side among the part's borders. */
  readonly side: number;
  /** Cut line, 2·n, mm. */
  readonly points: Float64Array;
  /** Share of the side's length at each point, in border direction. */
  readonly fractions: Float64Array;
  /** The seam line itself: moved nowhere. */
  readonly unmoved: boolean;
  /** Straight from point to point; no curve is fitted. */
  readonly polyline?: boolean;
}

/** Straight pieces that join the end of a run to the start of the next; empty where they meet. */
export interface Joint {
  readonly points: readonly Vec2[];
}

/** Distance between two points of a dense run, mm. */
const denseMm = 1;

/**
 * The runs of one side: the fitted seam line moved outward (to its right) by `reach` at each share of its length.
 * @param fit seam line in border direction
 * @param corners shares of the length at which the seam line has a corner
 */
export function runsOf(side: number, fit: ChainFit, corners: readonly number[], reach: (share: number) => number): Run[] {
  const runs: Run[] = [];
  let points: number[] = [];
  let fractions: number[] = [];
  let unmoved = true;
  const close = (): void => {
    runs.push({ side, points: Float64Array.from(points), fractions: Float64Array.from(fractions), unmoved });
    [points, fractions, unmoved] = [[], [], true];
  };
  for (let piece = 0; piece + 1 < fit.knots.length; piece++) {
    const [from, to] = [fit.knots[piece], fit.knots[piece + 1]];
    if (piece > 0 && corners.includes(from)) close();
    const k = 6 * piece;
    const chord = Math.hypot(fit.chain[k + 6] - fit.chain[k], fit.chain[k + 7] - fit.chain[k + 1]);
    const steps = Math.max(4, Math.ceil(chord / denseMm));
    for (let i = points.length === 0 ? 0 : 1; i <= steps; i++) {
      const t = i / steps;
      // Ends are the knots themselves, bit for bit: they are looked up later.
      const share = i === steps ? to : from + t * (to - from);
      const [x, y] = cubicAt(fit.chain, piece, t);
      const [dx, dy] = cubicDirection(fit.chain, piece, t);
      const distance = reach(share);
      if (distance !== 0) unmoved = false;
      points.push(x + distance * dy, y - distance * dx);
      fractions.push(share);
    }
  }
  close();
  return runs;
}

/** Widths along the seam of a tab and of the slope at each of its ends, as a share of the allowance, mm. Common practice for card. */
const tabMm = 12;
const tabSlope = 0.5;

/**
 * Turns the allowance of a run into tabs: trapezoids that stand on the cut line and leave wedges between them, so that they fold round a curve. The run
 * itself becomes a polyline with corners.
 * @param allowanceMm height of the tabs
 */
export function cutTabs(run: Run, allowanceMm: number): Run {
  const lengths = arcLengths(run.points);
  const total = lengths[lengths.length - 1];
  const count = Math.max(1, Math.round(total / tabMm));
  const width = total / count;
  const slope = Math.min(tabSlope * allowanceMm, width / 4);
  const points: number[] = [];
  const fractions: number[] = [];
  const push = (along: number, out: number): void => {
    const [x, y] = pointAlong(run.points, lengths, along);
    const [ax, ay] = pointAlong(run.points, lengths, along - denseMm);
    const [bx, by] = pointAlong(run.points, lengths, along + denseMm);
    const length = Math.max(Math.hypot(bx - ax, by - ay), Number.MIN_VALUE);
    points.push(x + (out * (by - ay)) / length, y - (out * (bx - ax)) / length);
    fractions.push(interpolate(lengths, run.fractions, along));
  };
  push(0, 0);
  for (let i = 0; i < count; i++) {
    push(i * width + slope, allowanceMm);
    push((i + 1) * width - slope, allowanceMm);
    push((i + 1) * width, 0);
  }
  return { ...run, points: Float64Array.from(points), fractions: Float64Array.from(fractions), unmoved: false, polyline: true };
}

/** Longest mitre, as a multiple of the larger reach. */
const mitreLimit = 3;

/**
 * Joins the end of one run to the start of the next around their common corner.
 * Where the border turns left (a corner that sticks out) both are extended along their tangents to meet, unless that mitre would be too long; where
 * it turns right they are trimmed at their crossing.
 * @returns the two runs, trimmed if need be, and what lies between them
 */
export function joinRuns(
  before: Run,
  after: Run,
  corner: Vec2,
  reachMm: number,
): { readonly before: Run; readonly after: Run; readonly joint: Joint } {
  const n = before.points.length;
  const end: Vec2 = [before.points[n - 2], before.points[n - 1]];
  const start: Vec2 = [after.points[0], after.points[1]];
  if (Math.hypot(end[0] - start[0], end[1] - start[1]) < sameMm) return { before: withEnd(before, start), after, joint: { points: [] } };
  const [ux, uy] = [end[0] - before.points[n - 4], end[1] - before.points[n - 3]];
  const [vx, vy] = [after.points[2] - start[0], after.points[3] - start[1]];
  const turn = ux * vy - uy * vx;
  if (turn > 0) {
    const along = ((start[0] - end[0]) * vy - (start[1] - end[1]) * vx) / turn;
    const mitre: Vec2 = [end[0] + along * ux, end[1] + along * uy];
    const back = (start[0] - mitre[0]) * vx + (start[1] - mitre[1]) * vy;
    const long = Math.hypot(mitre[0] - corner[0], mitre[1] - corner[1]) > mitreLimit * reachMm;
    if (along >= 0 && back >= 0 && !long) return { before, after, joint: { points: [mitre] } };
    return { before, after, joint: { points: [] } };
  }
  const crossing = firstCrossing(before, after);
  if (crossing === undefined) return { before, after, joint: { points: [] } };
  return {
    before: trimEnd(before, crossing.before, crossing.at),
    after: trimStart(after, crossing.after, crossing.at),
    joint: { points: [] },
  };
}

/** Two ends closer than this are one point, mm. */
const sameMm = 1 / 1024;

function withEnd(run: Run, end: Vec2): Run {
  const n = run.points.length;
  if (run.points[n - 2] === end[0] && run.points[n - 1] === end[1]) return run;
  const points = Float64Array.from(run.points);
  points.set(end, n - 2);
  return { ...run, points, unmoved: false };
}

interface Crossing {
  /** Edge and share on either run. */
  readonly before: number;
  readonly after: number;
  readonly at: Vec2;
}

/** The crossing of two runs that is furthest back on the first and nearest ahead on the second: the outermost one. */
function firstCrossing(before: Run, after: Run): Crossing | undefined {
  const a = before.points;
  const b = after.points;
  for (let i = 0; i + 3 < b.length; i += 2)
    for (let j = a.length - 4; j >= 0; j -= 2) {
      const [ux, uy] = [a[j + 2] - a[j], a[j + 3] - a[j + 1]];
      const [vx, vy] = [b[i + 2] - b[i], b[i + 3] - b[i + 1]];
      const determinant = ux * vy - uy * vx;
      if (determinant === 0) continue;
      const [wx, wy] = [b[i] - a[j], b[i + 1] - a[j + 1]];
      const s = (wx * vy - wy * vx) / determinant;
      const t = (wx * uy - wy * ux) / determinant;
      if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return { before: j / 2 + s, after: i / 2 + t, at: [a[j] + s * ux, a[j + 1] + s * uy] };
    }
  return undefined;
}

function trimEnd(run: Run, place: number, at: Vec2): Run {
  const i = Math.min(run.fractions.length - 2, Math.floor(place));
  const fraction = run.fractions[i] + (place - i) * (run.fractions[i + 1] - run.fractions[i]);
  const keep = fraction > run.fractions[i] ? i + 1 : Math.max(1, i);
  const fractions = [...run.fractions.slice(0, keep), fraction];
  return {
    ...run,
    unmoved: false,
    points: Float64Array.from([...run.points.slice(0, 2 * keep), ...at]),
    fractions: Float64Array.from(fractions),
  };
}

function trimStart(run: Run, place: number, at: Vec2): Run {
  const i = Math.min(run.fractions.length - 2, Math.floor(place));
  const fraction = run.fractions[i] + (place - i) * (run.fractions[i + 1] - run.fractions[i]);
  const keep = fraction < run.fractions[i + 1] ? i + 1 : Math.min(run.fractions.length - 1, i + 2);
  return {
    ...run,
    unmoved: false,
    points: Float64Array.from([...at, ...run.points.slice(2 * keep)]),
    fractions: Float64Array.from([fraction, ...run.fractions.slice(keep)]),
  };
}
