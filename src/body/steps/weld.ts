/*
 * Weld: equal places always; near ones where the maker gives a distance.
 */
import type { Repair } from '../body.ts';
import { weldEqual, weldWithin } from '../weld.ts';
import { compactTriangles } from '../triangles.ts';
import type { Step } from './step.ts';

export const weldStep: Step = {
  name: 'weld',
  isDefault: true,
  mend: async (triangles, { asked }) => {
    const repairs: Repair[] = [];
    const equal = weldEqual(triangles);
    if (equal.merged > 0)
      repairs.push({
        step: 'weld',
        what: `${equal.merged} vertices lay exactly on another and were merged with it.`,
        count: equal.merged,
        done: true,
      });
    const distance = Math.max(0, ...asked.map((entry) => entry.maxMm ?? 0));
    if (distance === 0) return { triangles: compactTriangles(equal.triangles), repairs, findings: [] };
    const near = weldWithin(equal.triangles, distance);
    if (near.merged > 0)
      repairs.push({
        step: 'weld',
        what: `${near.merged} vertices within ${distance} mm of another were merged with it.`,
        count: near.merged,
        largestMm: near.largestMm,
        done: true,
      });
    return { triangles: compactTriangles(near.triangles), repairs, findings: [] };
  },
};
