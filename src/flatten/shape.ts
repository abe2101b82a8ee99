/*
 * Shape-keeping map: what a sheet follows is not a conformal map but the nearest to an isometry.
 */
import type { Run } from '../base/run.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { prepareRigid, rigidSteps } from './as-rigid.ts';
import { checkFlattenable } from './check.ts';
import { conformalMap } from './conformal.ts';
import type { FlattenMethod, FlattenOptions, PlaneMap } from './flatten-method.ts';
import { createStopwatch } from './stopwatch.ts';

async function shapeMap(mesh: HalfEdgeMesh, options: FlattenOptions, run: Run): Promise<PlaneMap> {
  const watch = createStopwatch(options.clock);
  checkFlattenable(mesh);
  const start = options.start ?? (await conformalMap(mesh, {}, run)).positions;
  watch.lap('solve');
  const system = await prepareRigid(mesh, run);
  watch.lap('factor');
  const result = await rigidSteps(system, start, 200, 1e-7, run);
  watch.lap('refine');
  return { positions: result.positions, iterations: result.iterations, converged: result.converged, pins: [], seconds: watch.seconds() };
}

export const shape: FlattenMethod = {
  name: 'shape',
  title: 'Keeps shape: as near to true size as the piece allows',
  rescaled: false,
  flatten: shapeMap,
};
