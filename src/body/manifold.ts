/*
 * From any triangles to ones that a half-edge mesh can be built of: join, orient, split. Splitting can drop faces, which can lay new faults
 * open, so it goes round until nothing is left to do.
 */
import type { Run } from '../base/run.ts';
import { orientFaces } from './orient.ts';
import { splitFans } from './split.ts';
import type { Triangles } from './triangles.ts';

/** What was done, in numbers. */
export interface MendTotals {
  readonly turnedFaces: number;
  readonly turnedComponents: number;
  readonly crowdedEdges: number;
  readonly oneSidedEdges: number;
  readonly splitVertices: number;
  readonly droppedFaces: number;
  readonly components: number;
}

/** Rounds after which the mesh is taken as it is; two suffice on every file met so far. */
const mostRounds = 8;

/** Orients and splits triangles without repeated corners and without duplicates. */
export async function makeManifold(triangles: Triangles, run: Run): Promise<{ readonly triangles: Triangles; readonly total: MendTotals }> {
  let current = triangles;
  const total = {
    turnedFaces: 0,
    turnedComponents: 0,
    crowdedEdges: 0,
    oneSidedEdges: 0,
    splitVertices: 0,
    droppedFaces: 0,
    components: 0,
  };
  for (let round = 0; round < mostRounds; round++) {
    const oriented = orientFaces(current);
    await run.breathe();
    const split = splitFans({ positions: current.positions, faces: oriented.faces }, oriented.partner);
    current = split.triangles;
    if (round === 0) {
      total.turnedFaces = oriented.turnedFaces;
      total.turnedComponents = oriented.turnedComponents;
      total.components = oriented.componentTotal;
    }
    total.crowdedEdges += oriented.crowdedEdges;
    total.oneSidedEdges += oriented.oneSidedEdges;
    total.splitVertices += split.splitVertices;
    total.droppedFaces += split.droppedFaces;
    if (split.droppedFaces === 0) break;
    await run.breathe();
  }
  return { triangles: current, total };
}
