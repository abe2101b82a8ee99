/*
 * Smoothing of noise, where the maker asks, with a limit on how far any vertex may move.
 */
import { Failure } from '../../base/failure.ts';
import { buildMesh } from '../../mesh/build.ts';
import { smoothVertices, smoothingWaveMm } from '../smooth.ts';
import type { Step } from './step.ts';

/** No vertex moves further where nothing else is asked, mm: the noise of a good hand scan. */
const usualLimitMm = 3;
/** Larger meshes are thinned first: the solver would need gigabytes. */
const mostVertices = 250_000;

export const smoothStep: Step = {
  name: 'smooth',
  isDefault: false,
  mend: async (triangles, { asked }, run) => {
    if (triangles.positions.length / 3 > mostVertices)
      throw new Failure(
        'body/too-fine-to-smooth',
        `The mesh has ${triangles.positions.length / 3} vertices; up to ${mostVertices} can be smoothed.`,
        { stage: 'body' },
        'Simplify it first (step "simplify" with edges of 2 to 4 mm).',
      );
    const limit = Math.max(...asked.map((entry) => entry.maxMm ?? usualLimitMm));
    const mesh = buildMesh(triangles.positions, triangles.faces);
    const { positions, largestMm, limited } = await smoothVertices(mesh, limit, smoothingWaveMm, run);
    const held = limited > 0 ? `, ${limited} vertices were held at the limit` : '';
    const what = `Noise was smoothed; no vertex moved more than ${largestMm.toFixed(2)} mm (limit ${limit} mm)${held}.`;
    return {
      triangles: { positions, faces: triangles.faces },
      repairs: [{ step: 'smooth', what, count: positions.length / 3, largestMm, done: true }],
      findings: [],
    };
  },
};
