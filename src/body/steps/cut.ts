/*
 * Cuts that the maker asks for: by a plane (all beyond it, or only the part at the plane's point), below or above a height.
 */
import { Failure } from '../../base/failure.ts';
import type { Plane } from '../body.ts';
import { directionOf } from '../axes.ts';
import { cutByPlane } from '../plane-cut.ts';
import type { MendStep } from '../settings.ts';
import type { Triangles } from '../triangles.ts';
import type { Step, StepContext, StepResult } from './step.ts';

/** Height of the lowest vertex along up. */
export function lowestAlong(triangles: Triangles, context: Pick<StepContext, 'up'>): number {
  const [x, y, z] = directionOf(context.up);
  let lowest = Infinity;
  for (let v = 0; v < triangles.positions.length; v += 3)
    lowest = Math.min(lowest, x * triangles.positions[v] + y * triangles.positions[v + 1] + z * triangles.positions[v + 2]);
  return lowest;
}

/** The plane across up at a height along it; its normal points up or down. */
export function levelPlane(at: number, context: Pick<StepContext, 'up'>, toward: 'up' | 'down'): Plane {
  const [x, y, z] = directionOf(context.up);
  const sign = toward === 'up' ? 1 : -1;
  return { point: [at * x, at * y, at * z], normal: [sign * x, sign * y, sign * z] };
}

function cutAll(triangles: Triangles, name: string, planes: readonly Plane[], extent: 'all' | 'part'): StepResult {
  let current = triangles;
  let [area, largestMm] = [0, 0];
  for (const plane of planes) {
    const cut = cutByPlane(current, plane, extent);
    current = cut.triangles;
    area += cut.removedMm2;
    largestMm = Math.max(largestMm, cut.largestMm);
  }
  const what = `${(area / 100).toFixed(0)} cm² of surface were cut off by ${planes.length === 1 ? 'a plane' : `${planes.length} planes`}.`;
  return { triangles: current, repairs: [{ step: name, what, count: planes.length, largestMm, done: true }], findings: [] };
}

function planeOf(entry: MendStep): Plane {
  if (entry.plane === undefined)
    throw new Failure(
      'body/no-plane',
      `The step "${entry.step}" has no plane.`,
      { stage: 'body', item: entry.step },
      'Pick three points of the plane, or give a point and a direction.',
    );
  return entry.plane;
}

export const cutStep: Step = {
  name: 'cut',
  isDefault: false,
  mend: async (triangles, { asked }) => cutAll(triangles, 'cut', asked.map(planeOf), 'all'),
};

export const cutPartStep: Step = {
  name: 'cut-part',
  isDefault: false,
  mend: async (triangles, { asked }) => cutAll(triangles, 'cut-part', asked.map(planeOf), 'part'),
};

function atHeight(name: string, toward: 'up' | 'down'): Step {
  return {
    name,
    isDefault: false,
    mend: async (triangles, context) => {
      const lowest = lowestAlong(triangles, context);
      const planes = context.asked.flatMap((entry) =>
        entry.maxMm === undefined ? [planeOf(entry)] : [levelPlane(lowest + entry.maxMm, context, toward)],
      );
      return cutAll(triangles, name, planes, 'all');
    },
  };
}

/** `maxMm` is the height above the lowest vertex below which all goes. */
export const cutBelowStep: Step = atHeight('cut-below', 'down');
/** `maxMm` is the height above the lowest vertex above which all goes: a head. */
export const cutAboveStep: Step = atHeight('cut-above', 'up');
