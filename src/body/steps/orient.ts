/*
 * Orient the faces outward and split what is not manifold: the step after which a half-edge mesh can be built. Splitting can drop faces, which
 * can lay new faults open, so the two run until nothing is left to do.
 */
import { finding } from '../../base/failure.ts';
import type { Finding } from '../../base/failure.ts';
import { orientFaces } from '../orient.ts';
import { splitFans } from '../split.ts';
import type { Repair } from '../body.ts';
import type { Step } from './step.ts';

/** Rounds after which the mesh is taken as it is; two suffice on every file met so far. */
const mostRounds = 8;

export const orientStep: Step = {
  name: 'orient',
  isDefault: true,
  mend: async (triangles, _, run) => {
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
    return { triangles: current, repairs: repairsOf(total), findings: findingsOf(total) };
  },
};

interface Totals {
  readonly turnedFaces: number;
  readonly turnedComponents: number;
  readonly crowdedEdges: number;
  readonly oneSidedEdges: number;
  readonly splitVertices: number;
  readonly droppedFaces: number;
  readonly components: number;
}

function repairsOf(total: Totals): Repair[] {
  const lines: [number, string][] = [
    [total.turnedFaces, 'faces ran the other way round than their neighbours and were turned.'],
    [total.turnedComponents, 'parts were inside out and were turned over.'],
    [total.crowdedEdges, 'edges had more than two faces and were split.'],
    [total.splitVertices, 'vertices joined parts that only touch there and were split.'],
    [total.oneSidedEdges, 'edges of a one-sided strip were cut.'],
    [total.droppedFaces, 'faces could not be joined to their neighbours and were dropped.'],
  ];
  return lines.filter(([count]) => count > 0).map(([count, what]) => ({ step: 'orient', what: `${count} ${what}`, count, done: true }));
}

function findingsOf(total: Totals): Finding[] {
  const findings: Finding[] = [];
  if (total.turnedComponents > 0)
    findings.push(
      finding(
        'note',
        'body/inside-out',
        total.components === 1
          ? 'The mesh was inside out and was turned over.'
          : `${total.turnedComponents} of ${total.components} parts were inside out and were turned over.`,
        { stage: 'body' },
        'Nothing to do; check that the body is shown from its outside.',
      ),
    );
  if (total.oneSidedEdges > 0)
    findings.push(
      finding(
        'warning',
        'body/one-sided',
        `The surface has a place where inside and outside run into each other; it was cut open along ${total.oneSidedEdges} edges.`,
        { stage: 'body' },
        'Look at the open edge there; fill it or leave it.',
      ),
    );
  return findings;
}
