/*
 * A part that would lie over itself when it takes its best shape, held apart: from a map without flips and overlaps, Newton steps on the
 * symmetric Dirichlet energy with the barrier of `contacts`, never leaving the maps that are one-to-one.
 */
import type { F64 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { contactTolerance, newtonTolerance } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { createBarrier } from './contacts.ts';
import { scaleToArea } from './conformal.ts';
import { searchJoint } from './joint-search.ts';
import { jointStep, linearise } from './joint-system.ts';
import type { NewtonSystem } from './newton.ts';
import { borderOverlaps, flippedFaces } from './overlap.ts';
import { tutteMap } from './tutte.ts';

export interface Separated {
  readonly positions: F64;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * @param starts maps to begin from, in order of liking; the first without flips and overlaps is taken, else the disc map
 * @param crossings crossing half-edges of the overlapping map, for the refusal
 * @throws flatten/overlap if there is no map without overlap to begin from
 */
export async function separate(
  mesh: HalfEdgeMesh,
  system: NewtonSystem,
  starts: readonly F64[],
  crossings: ArrayLike<number>,
  run: Run,
): Promise<Separated> {
  const isOneToOne = (plane: F64): boolean => flippedFaces(mesh, plane).length === 0 && borderOverlaps(mesh, plane).count === 0;
  let plane = starts.find(isOneToOne);
  if (plane === undefined) {
    plane = scaleToArea(mesh, await tutteMap(mesh, run));
    if (!isOneToOne(plane)) throw liesOverItself(crossings);
  }
  const joint = { systems: [system], barriers: [createBarrier(mesh, plane)], stretches: [] };
  const none = new Float64Array(0);
  const scale = 4 * system.area;
  let planes: readonly F64[] = [plane];
  let isProjected = true;
  for (let iterations = 0; iterations < contactTolerance.stepLimit; iterations++) {
    await run.breathe();
    const step = jointStep(joint, await linearise(joint, planes, { isProjected }, run), none);
    const moved = searchJoint(joint, planes, step, none);
    if (moved === undefined) return { positions: planes[0], iterations, converged: -step.slope <= newtonTolerance.held * scale };
    planes = moved.planes;
    if (-step.slope <= newtonTolerance.held * scale) return { positions: planes[0], iterations: iterations + 1, converged: true };
    isProjected = -step.slope > newtonTolerance.exactFrom * scale;
  }
  return { positions: planes[0], iterations: contactTolerance.stepLimit, converged: false };
}

function liesOverItself(crossings: ArrayLike<number>): Failure {
  const faces = Array.from(crossings)
    .slice(0, 20)
    .map((h) => Math.floor(h / 3));
  return new Failure(
    'flatten/overlap',
    'The piece lies over itself however it is laid flat.',
    { stage: 'flatten', faces },
    'Draw a seam between the marked places, so that each side lies flat by itself.',
  );
}
