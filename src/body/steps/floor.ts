/*
 * The floor: found and offered; cut away where the maker agrees.
 */
import { finding } from '../../base/failure.ts';
import { buildMesh } from '../../mesh/build.ts';
import { findFloor } from '../floor.ts';
import { cutByPlane } from '../plane-cut.ts';
import { levelPlane } from './cut.ts';
import { unchanged } from './step.ts';
import type { Step } from './step.ts';

/** The cut runs so far above the floor where nothing else is asked, mm. */
const clearOfFloorMm = 12;

export const floorStep: Step = {
  name: 'floor',
  isDefault: true,
  mend: async (triangles, context) => {
    const floor = findFloor(buildMesh(triangles.positions, triangles.faces), context.up);
    if (floor === undefined) return unchanged(triangles);
    const what = `A floor of ${(floor.areaMm2 / 1_000_000).toFixed(2)} m² lies under the body`;
    if (context.asked.length === 0) {
      const offer = finding(
        'warning',
        'body/floor',
        `${what}.`,
        { stage: 'body' },
        `Accept the step "floor": it cuts everything below ${clearOfFloorMm} mm above the floor.`,
      );
      return {
        triangles,
        repairs: [{ step: 'floor', what: `${what}; it was left.`, count: 1, done: false }],
        findings: context.isRefused ? [] : [offer],
      };
    }
    const clear = Math.max(...context.asked.map((entry) => entry.maxMm ?? clearOfFloorMm));
    const cut = cutByPlane(triangles, levelPlane(floor.at + clear, context, 'down'), 'all');
    const done = `${what} and was cut off ${clear} mm above it.`;
    return {
      triangles: cut.triangles,
      repairs: [{ step: 'floor', what: done, count: 1, largestMm: cut.largestMm, done: true }],
      findings: [],
    };
  },
};
