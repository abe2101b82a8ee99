/*
 * Fewer faces, or even ones, where the maker asks; the largest distance to the scan is stated.
 */
import { surfaceArea } from '../../mesh/measure.ts';
import { remeshTriangles, workingEdgeMm } from '../remesh.ts';
import { facesForEdge, simplifyTriangles } from '../simplify.ts';
import { surfaceDistance } from '../surface-distance.ts';
import { unchanged } from './step.ts';
import type { Step } from './step.ts';

/** `maxMm` is the edge length that the result should have about. */
export const simplifyStep: Step = {
  name: 'simplify',
  isDefault: false,
  mend: async (triangles, { asked }, run) => {
    const edge = Math.max(...asked.map((entry) => entry.maxMm ?? workingEdgeMm));
    const wanted = facesForEdge(surfaceArea(triangles), edge);
    const before = triangles.faces.length / 3;
    if (before <= wanted) return unchanged(triangles);
    const fewer = await simplifyTriangles(triangles, wanted, edge, run);
    const { largestMm } = await surfaceDistance(triangles, fewer, run);
    const after = fewer.faces.length / 3;
    const what = `${before} faces became ${after}; the scan lies within ${largestMm.toFixed(2)} mm of them.`;
    return { triangles: fewer, repairs: [{ step: 'simplify', what, count: before - after, largestMm, done: true }], findings: [] };
  },
};

/** `maxMm` is the edge length of the even mesh. */
export const remeshStep: Step = {
  name: 'remesh',
  isDefault: false,
  mend: async (triangles, { asked }, run) => {
    const edge = Math.max(...asked.map((entry) => entry.maxMm ?? workingEdgeMm));
    const { triangles: even, distance } = await remeshTriangles(triangles, edge, run);
    const what =
      `${even.faces.length / 3} even faces with edges of about ${edge} mm; scan and mesh lie within ${distance.p95Mm.toFixed(2)} mm for ` +
      `95 in a hundred places, ${distance.largestMm.toFixed(2)} mm at most.`;
    return {
      triangles: even,
      repairs: [{ step: 'remesh', what, count: even.faces.length / 3, largestMm: distance.largestMm, done: true }],
      findings: [],
    };
  },
};
