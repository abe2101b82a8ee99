/*
 * The map whose worst stretch is least, for hard foam that forgives nothing: from the best shape on, the energy
 *   Σ A (e^{s(f(σ₁) − c)} + e^{s(f(σ₂) − c)}),  f(σ) = σ² + σ⁻² − 2,
 * is minimised for s = 1, 4, 16 … : the larger s, the more the largest f alone counts, and f treats σ and 1/σ alike. c is the largest f of the
 * moment, so that nothing overflows. One exponential for each singular value: an exponential of the summed energy only rescales the
 * part (measured: ratio 1.235 of 1.237 on a 60° cap, against 1.217 here at s = 256 and 1.2092 that no map can beat).
 * Faces at the tips of cuts, where every map is singular, keep the plain symmetric Dirichlet energy.
 */
import type { F64, U8 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { sharpness } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceDistortion } from './distortion.ts';
import type { FlattenMethod, FlattenOptions, PlaneMap } from './flatten-method.ts';
import { newtonSteps, prepareNewton } from './newton.ts';
import { shapeMap } from './shape.ts';
import { createStopwatch } from './stopwatch.ts';
import type { Density } from './stretch-energy.ts';

/**
 * The map of least worst stretch.
 * @param options.start as for `shape`; `options.leftOut` faces that are not to be judged
 * @returns plane positions, unit of the mesh, shape 2·n; no face flipped; `converged` says whether the last, sharpest stage was
 * @throws those of `shape`
 * @source algorithms measured in the project's own tests; [milnor1969] the bound that it is judged by
 */
export async function leastWorstMap(mesh: HalfEdgeMesh, options: FlattenOptions, run: Run): Promise<PlaneMap> {
  const watch = createStopwatch(options.clock);
  const shape = await shapeMap(mesh, options, run);
  watch.lap('solve');
  const system = await prepareNewton(mesh, run);
  watch.lap('order');
  const leftOut = options.leftOut ?? new Uint8Array(mesh.faces.length / 3);
  let plane: F64 = balanced(mesh, shape.positions, leftOut);
  let iterations = shape.iterations;
  let converged = shape.converged;
  for (let s = sharpness.first; s <= sharpness.last; s *= sharpness.factor) {
    run.report('flatten', 0.3 + 0.7 * (s / sharpness.last));
    const density: Density = { kind: 'exponential', sharpness: s, shift: largestF(mesh, plane, leftOut), plainFaces: leftOut };
    const result = await newtonSteps(system, plane, density, sharpness.stepLimit, run);
    plane = result.positions;
    iterations += result.iterations;
    converged = result.converged;
  }
  system.solver.dispose();
  watch.lap('refine');
  return { positions: plane, iterations, converged, pins: [], seconds: watch.seconds() };
}

/** The map scaled so that the largest and the smallest σ are each other's inverse: the best that scaling alone can do. */
function balanced(mesh: HalfEdgeMesh, plane: F64, leftOut: U8): Float64Array {
  const { sigma1, sigma2 } = faceDistortion(mesh, plane);
  let [largest, least] = [0, Infinity];
  for (let f = 0; f < sigma1.length; f++) {
    if (leftOut[f] === 1) continue;
    if (sigma1[f] > largest) largest = sigma1[f];
    if (sigma2[f] < least) least = sigma2[f];
  }
  if (!(largest > 0) || !(least > 0))
    throw new Failure(
      'flatten/nothing-judged',
      'Every face of the piece lies at the tip of a cut.',
      { stage: 'flatten' },
      'Use the shape method for a piece as small as this.',
    );
  const scale = 1 / Math.sqrt(largest * least);
  return Float64Array.from(plane, (value) => value * scale);
}

function largestF(mesh: HalfEdgeMesh, plane: F64, leftOut: U8): number {
  const { sigma1, sigma2 } = faceDistortion(mesh, plane);
  let largest = 0;
  for (let f = 0; f < sigma1.length; f++) {
    if (leftOut[f] === 1) continue;
    for (const sigma of [sigma1[f], sigma2[f]]) largest = Math.max(largest, (sigma - 1 / sigma) * (sigma - 1 / sigma));
  }
  return largest;
}

export const leastWorst: FlattenMethod = {
  name: 'least-worst',
  title: 'Keeps the worst stretch least: for hard foam',
  rescaled: false,
  flatten: leastWorstMap,
};
