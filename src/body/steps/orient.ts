/*
 * Orient the faces outward and split what is not manifold: the step after which a half-edge mesh can be built.
 */
import { finding } from '../../base/failure.ts';
import type { Finding } from '../../base/failure.ts';
import type { Repair } from '../body.ts';
import { makeManifold } from '../manifold.ts';
import { mendFlatFaces } from '../slivers.ts';
import type { MendTotals } from '../manifold.ts';
import type { Step } from './step.ts';

export const orientStep: Step = {
  name: 'orient',
  isDefault: true,
  mend: async (triangles, _, run) => {
    const { triangles: manifold, total } = await makeManifold(triangles, run);
    const flat = mendFlatFaces(manifold);
    return { triangles: flat.triangles, repairs: [...repairsOf(total), ...flatRepair(flat.count, flat.left)], findings: findingsOf(total) };
  },
};

function flatRepair(count: number, left: number): Repair[] {
  if (count === 0) return [];
  const rest = left > 0 ? ` (${left} could not be)` : '';
  return [{ step: 'orient', what: `${count} faces had no area and were turned into their neighbours${rest}.`, count, done: true }];
}

function repairsOf(total: MendTotals): Repair[] {
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

function findingsOf(total: MendTotals): Finding[] {
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
