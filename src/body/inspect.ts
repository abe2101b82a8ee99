/*
 * What is wrong with a file and how large it is, as numbers: the answer of `inspect`.
 */
import type { Vec3 } from '../base/arrays.ts';
import { Failure, finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import { faceComponents } from '../mesh/components.ts';
import { bounds } from '../mesh/measure.ts';
import { boundaryLoops, halfEdgeLength } from '../mesh/navigate.ts';
import type { TriangleSoup } from '../read/triangle-soup.ts';
import { dropCollapsed, dropDuplicates } from './bad-faces.ts';
import type { Body, Repair } from './body.ts';
import { groupEdges } from './edge-groups.ts';
import { girthAtHeight } from './measure-girth.ts';
import { orientFaces } from './orient.ts';
import { splitFans } from './split.ts';
import { flatFaces } from './slivers.ts';
import { weldEqual } from './weld.ts';

export interface Defect {
  readonly code: string;
  readonly count: number;
}

/** The facts of a mesh: those of the contract's `inspect` answer. */
export interface Inspection {
  readonly unit: Body['unit'];
  readonly unitFrom: Body['unitFrom'];
  /** Sides of the box around the body, mm, along x, y, z. */
  readonly size: Vec3;
  readonly vertices: number;
  readonly faces: number;
  readonly components: number;
  readonly boundaryLoops: readonly { readonly edges: number; readonly lengthMm: number }[];
  /** Faults of the file before mending; those that are not there are not listed. */
  readonly defects: readonly Defect[];
  readonly repairs: readonly Repair[];
  readonly girths: readonly { readonly heightMm: number; readonly skinMm: number; readonly tapeMm: number }[];
  readonly findings: readonly Finding[];
}

/**
 * Faults of a soup before anything is mended, each with its count. Vertices at one place are taken as one, as every later step does.
 */
export function findDefects(soup: Pick<TriangleSoup, 'positions' | 'faces'>): Defect[] {
  const isUsed = new Uint8Array(soup.positions.length / 3);
  for (let h = 0; h < soup.faces.length; h++) isUsed[soup.faces[h]] = 1;
  const welded = weldEqual(soup);
  const collapsed = dropCollapsed(welded.triangles);
  const doubles = dropDuplicates(collapsed.triangles);
  const oriented = orientFaces(doubles.triangles);
  const split = splitFans({ positions: doubles.triangles.positions, faces: oriented.faces }, oriented.partner);
  let openEdges = 0;
  const groups = groupEdges(doubles.triangles.faces, soup.positions.length / 3);
  for (let e = 0; e + 1 < groups.start.length; e++) if (groups.start[e + 1] - groups.start[e] === 1) openEdges++;
  const defects: Defect[] = [
    { code: 'unused-vertices', count: isUsed.length - isUsed.reduce((sum, used) => sum + used, 0) },
    { code: 'equal-vertices', count: welded.merged },
    { code: 'degenerate-faces', count: collapsed.count + flatFaces(doubles.triangles).length },
    { code: 'duplicate-faces', count: doubles.same + doubles.opposite },
    { code: 'non-manifold-edges', count: oriented.crowdedEdges },
    { code: 'non-manifold-vertices', count: split.splitVertices },
    { code: 'turned-faces', count: oriented.turnedFaces },
    { code: 'inside-out-parts', count: oriented.turnedComponents },
    { code: 'one-sided-edges', count: oriented.oneSidedEdges },
    { code: 'open-edges', count: openEdges },
  ];
  return defects.filter((defect) => defect.count > 0);
}

/**
 * The facts of a body and of the file that it came from.
 * @param girthsMm heights above the lowest vertex along up, mm; a girth that cannot be measured becomes a finding
 */
export function inspectBody(soup: TriangleSoup, body: Body, girthsMm: readonly number[] = []): Inspection {
  const { mesh } = body;
  const box = bounds(mesh);
  const findings = [...soup.findings, ...body.findings];
  const girths: { heightMm: number; skinMm: number; tapeMm: number }[] = [];
  for (const heightMm of girthsMm) {
    try {
      const { skinMm, tapeMm, gapMm } = girthAtHeight(mesh, body.up, heightMm);
      girths.push({ heightMm, skinMm, tapeMm });
      if (gapMm > 0) findings.push(gapFinding(heightMm, gapMm));
    } catch (cause) {
      // One girth that cannot be measured does not spoil the others.
      if (!(cause instanceof Failure)) throw cause;
      findings.push(finding('warning', cause.code, cause.what, cause.where, cause.mend));
    }
  }
  return {
    unit: body.unit,
    unitFrom: body.unitFrom,
    size: [box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]],
    vertices: mesh.positions.length / 3,
    faces: mesh.faces.length / 3,
    components: faceComponents(mesh).count,
    boundaryLoops: boundaryLoops(mesh).map((loop) => ({
      edges: loop.length,
      lengthMm: loop.reduce((sum, h) => sum + halfEdgeLength(mesh, h), 0),
    })),
    defects: findDefects(soup),
    repairs: body.repairs,
    girths,
    findings,
  };
}

function gapFinding(heightMm: number, gapMm: number): Finding {
  return finding(
    'warning',
    'body/girth-over-gap',
    `The girth at ${heightMm} mm crosses open places of the mesh: ${gapMm.toFixed(1)} mm of it are straight gaps.`,
    { stage: 'body' },
    'Fill the holes there, or pick another height.',
  );
}
