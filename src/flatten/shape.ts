/*
 * Shape-keeping map: what a sheet follows is not a conformal map but the nearest to an isometry. Symmetric Dirichlet energy
 * Σ A (σ₁² + σ₂² + σ₁⁻² + σ₂⁻²) / Σ A to its minimum, by local/global steps for the neighbourhood and Newton steps for the rest, on maps
 * without flips only. Never rescaled: the part is as large as the sheet must be.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { prepareRigid, rigidSteps } from './as-rigid.ts';
import { checkFlattenable } from './check.ts';
import type { FlattenMethod, FlattenOptions, PlaneMap } from './flatten-method.ts';
import { injectiveStart } from './injective-start.ts';
import { newtonSteps, prepareNewton } from './newton.ts';
import { borderOverlaps, flippedFaces } from './overlap.ts';
import { separate } from './separate.ts';
import { createStopwatch } from './stopwatch.ts';
import { symmetricDirichletDensity } from './stretch-energy.ts';

/** Local/global steps before Newton takes over. */
const rigidStepCount = 5;
const newtonStepLimit = 150;

/**
 * The map of least symmetric Dirichlet energy near a start.
 * @param options.start plane positions at true size, shape 2·n; taken if it has no flips, else Plastron finds its own start
 * @returns plane positions, unit of the mesh, shape 2·n; no face flipped
 * @throws those of `checkFlattenable` and `injectiveStart`; linalg/*
 * @source [smith-schaefer2015] the energy; [liu2008] local/global steps; [smith2019] projected Hessian
 */
export async function shapeMap(mesh: HalfEdgeMesh, options: FlattenOptions, run: Run): Promise<PlaneMap> {
  const watch = createStopwatch(options.clock);
  checkFlattenable(mesh);
  const given = options.start;
  const isUsable = given !== undefined && given.length === (mesh.positions.length / 3) * 2 && flippedFaces(mesh, given).length === 0;
  const starts = isUsable ? [given] : await approach(mesh, run);
  watch.lap('solve');
  const system = await prepareNewton(mesh, run);
  watch.lap('order');
  const result = await newtonSteps(system, starts[0], symmetricDirichletDensity, newtonStepLimit, run);
  const overlaps = borderOverlaps(mesh, result.positions);
  const apart = overlaps.count === 0 ? result : await separate(mesh, system, starts, overlaps.pairs, run);
  system.solver.dispose();
  watch.lap('refine');
  const { positions, converged } = apart;
  const iterations = result.iterations + (apart === result ? 0 : apart.iterations);
  const heldApart = overlaps.count === 0 ? {} : { heldApart: overlaps.pairs };
  return { positions, iterations, converged, pins: [], seconds: watch.seconds(), ...heldApart };
}

/** Maps without flips, the nearest first: local/global steps from the injective start where those keep it so, and that start itself. */
async function approach(mesh: HalfEdgeMesh, run: Run): Promise<F64[]> {
  const start = await injectiveStart(mesh, run);
  const system = await prepareRigid(mesh, run);
  const near = (await rigidSteps(system, start, rigidStepCount, 0, run)).positions;
  system.solver.dispose();
  return flippedFaces(mesh, near).length === 0 ? [near, start] : [start];
}

export const shape: FlattenMethod = {
  name: 'shape',
  title: 'Keeps shape: as near to true size as the piece allows',
  rescaled: false,
  flatten: shapeMap,
};
