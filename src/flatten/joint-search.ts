/*
 * The line search of the joint problem: at most 0.9 of the way to the first flip, then halves until F has fallen by a fair share of what
 * the slope promises and no border that was free of itself lies over itself. The end of a step alone is tested: a map without flips whose
 * border crosses nothing is one-to-one however it came there.
 */
import type { F64 } from '../base/arrays.ts';
import { seamStiffness } from '../base/tolerance.ts';
import type { JointStep, JointSystem } from './joint-system.ts';
import { jointEnergy } from './joint-system.ts';
import { borderOverlaps } from './overlap.ts';
import { stepLimit } from './step-limit.ts';

export interface JointState {
  readonly planes: readonly F64[];
  readonly energy: number;
}

/**
 * @returns the planes after the step and F there; undefined where no length lowers F
 */
export function searchJoint(system: JointSystem, planes: readonly F64[], step: JointStep, softness: F64): JointState | undefined {
  const energy = jointEnergy(system, planes, softness);
  let length = 1;
  system.systems.forEach(({ faces }, p) => (length = Math.min(length, 0.9 * stepLimit(faces, planes[p], step.directions[p]))));
  for (let halvings = 0; halvings < 40; halvings++, length /= 2) {
    const trial = planes.map((plane, p) => Float64Array.from(plane, (value, i) => value + length * step.directions[p][i]));
    const reached = jointEnergy(system, trial, softness);
    if (!(reached < energy && reached <= energy + seamStiffness.sufficientFall * length * step.slope)) continue;
    if (trial.every((plane, p) => borderOverlaps(system.barriers[p].mesh, plane).count === 0)) return { planes: trial, energy: reached };
  }
  return undefined;
}
