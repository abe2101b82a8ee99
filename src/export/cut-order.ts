/*
 * In which order a machine draws and cuts a sheet: letters first, while everything lies still; then part-way cuts; then holes; outlines
 * last, small parts before large ones, so that nothing is cut from a piece that has come loose. Within a group the nearest start follows.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import type { DrawingPath, LayerName } from '../draft/drawing.ts';
import { signedArea } from '../plane/polygon.ts';
import { layerStyles } from './layers.ts';

/** Steps of the work, in order; the pen number of HPGL is the place in this list, from 1. */
export const cutSteps = ['draw', 'score', 'inner', 'outer'] as const;
export type CutStep = (typeof cutSteps)[number];

/** The step that a layer belongs to; undefined for what no machine draws. */
export function stepOf(layer: LayerName): CutStep | undefined {
  if (layer === 'CUT') return 'outer';
  if (layer === 'CUT_INSIDE') return 'inner';
  const { act } = layerStyles[layer];
  return act === 'draw' ? 'draw' : act === 'score' ? 'score' : undefined;
}

/** A path with its points in machine order. */
export interface OrderedPath {
  readonly step: CutStep;
  readonly path: DrawingPath;
  readonly points: F64;
}

/**
 * The paths of a sheet in cutting order.
 * @param points polyline of each path, mm, 2·n; the first point not repeated when closed
 */
export function orderCuts(paths: readonly DrawingPath[], points: readonly F64[]): readonly OrderedPath[] {
  const entries = paths.flatMap((path, index): OrderedPath[] => {
    const step = stepOf(path.layer);
    return step === undefined ? [] : [{ step, path, points: points[index] }];
  });
  let at: Vec2 = [0, 0];
  return cutSteps.flatMap((step) => {
    const group = entries.filter((entry) => entry.step === step);
    if (step === 'outer' || step === 'inner') return [...group].sort((a, b) => area(a) - area(b));
    const chain = nearestFirst(group, at);
    if (chain.length > 0) at = endOf(chain[chain.length - 1]);
    return chain;
  });
}

/** Greedy chain by the distance from the last end to the next start; quadratic, but there are few marks. */
function nearestFirst(group: readonly OrderedPath[], from: Vec2): readonly OrderedPath[] {
  const left = [...group];
  const chain: OrderedPath[] = [];
  let at = from;
  while (left.length > 0) {
    let [best, bestDistance] = [0, Infinity];
    for (const [index, { points }] of left.entries()) {
      const distance = Math.hypot(points[0] - at[0], points[1] - at[1]);
      if (distance < bestDistance) [best, bestDistance] = [index, distance];
    }
    const [next] = left.splice(best, 1);
    chain.push(next);
    at = endOf(next);
  }
  return chain;
}

function endOf({ path, points }: OrderedPath): Vec2 {
  return path.curve.closed ? [points[0], points[1]] : [points[points.length - 2], points[points.length - 1]];
}

/** Unsigned area within a path, mm². */
const area = ({ points }: OrderedPath): number => Math.abs(signedArea(points));
