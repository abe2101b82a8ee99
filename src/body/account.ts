/*
 * What a maker should know about a body before working on it, beyond what was mended: it is flat, it is coarse, it is two, it runs through itself.
 */
import type { Vec3 } from '../base/arrays.ts';
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { symmetricEigen } from '../linalg/dense.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import { signedArea } from '../plane/polygon.ts';
import { alongAxis, directionOf } from './axes.ts';
import type { Axis } from './body.ts';
import { sectionOf } from './section.ts';
import { findSelfIntersections } from './self-intersections.ts';

/** Fewer faces are no picture of a body. */
const fewFaces = 200;
/** A mesh thinner than this share of its size is a sheet. */
const flatShare = 0.005;
/** Larger meshes are not searched for crossings unasked: it would take seconds. */
const mostForCrossings = 80_000;
/** Heights, as shares, at which two trunks are looked for; legs end below. */
const trunkShares = [0.55, 0.6, 0.65, 0.7, 0.75, 0.8] as const;
/** A second loop of at least this share of the largest is another trunk. */
const twinShare = 0.6;

/** Findings about the finished mesh. */
export async function accountOf(mesh: HalfEdgeMesh, up: Axis, run: Run): Promise<Finding[]> {
  const findings: Finding[] = [];
  const faceTotal = mesh.faces.length / 3;
  const where = { stage: 'body' };
  if (faceTotal < fewFaces) {
    const what = `The mesh has ${faceTotal} ${faceTotal === 1 ? 'face' : 'faces'}: too few to show the form of a body.`;
    findings.push(finding('warning', 'body/few-faces', what, where, 'Export the body with more detail (50,000 faces are plenty).'));
  }
  const thickness = thicknessOf(mesh);
  if (thickness.thinMm < flatShare * thickness.longMm) {
    const what = `The mesh is flat: ${thickness.longMm.toFixed(0)} mm long and ${thickness.thinMm.toFixed(2)} mm thick.`;
    const mend = 'Parts can be cut from it, but girths, clearance and sides need a body: check that the right file was opened.';
    findings.push(finding('warning', 'body/flat', what, where, mend));
  }
  const twins = twinLevels(mesh, up);
  if (twins * 2 > trunkShares.length) {
    const what = 'Two trunks stand side by side in this mesh: two bodies, or a body and a mirror image of it.';
    const mend =
      'Cut one of them off by a plane (step "cut"), or open a scan of one person; where both stand apart, the step "strays" with a size drops the smaller.';
    findings.push(finding('warning', 'body/two-bodies', what, where, mend));
  }
  if (faceTotal <= mostForCrossings) findings.push(...crossingFinding(await findSelfIntersections(mesh, run)));
  return findings;
}

function crossingFinding(crossed: readonly number[]): Finding[] {
  if (crossed.length === 0) return [];
  return [
    finding(
      'warning',
      'body/self-intersections',
      `The surface runs through itself: ${crossed.length} faces are crossed by another.`,
      { stage: 'body', faces: crossed.slice(0, 20) },
      'Nothing to do where no part will lie; the clearance surface comes out clean all the same. Under a part, cut the place out and fill the hole.',
    ),
  ];
}

/** Sides of the box along the principal axes, longest and thinnest. */
function thicknessOf(mesh: HalfEdgeMesh): { readonly longMm: number; readonly thinMm: number } {
  const total = mesh.positions.length / 3;
  const mean = [0, 0, 0];
  for (let i = 0; i < mesh.positions.length; i++) mean[i % 3] += mesh.positions[i] / total;
  const spread = new Float64Array(9);
  for (let v = 0; v < total; v++)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) spread[3 * i + j] += (mesh.positions[3 * v + i] - mean[i]) * (mesh.positions[3 * v + j] - mean[j]);
  const { vectors } = symmetricEigen(spread, 3);
  const sides = [0, 1, 2].map((axis) => {
    let [low, high] = [Infinity, -Infinity];
    for (let v = 0; v < total; v++) {
      const along = [0, 1, 2].reduce((sum, k) => sum + vectors[3 * axis + k] * (mesh.positions[3 * v + k] - mean[k]), 0);
      low = Math.min(low, along);
      high = Math.max(high, along);
    }
    return high - low;
  });
  return { longMm: Math.max(...sides), thinMm: Math.min(...sides) };
}

/** At how many of the heights a second trunk stands beside the first. */
function twinLevels(mesh: HalfEdgeMesh, up: Axis): number {
  const { min, max } = bounds(mesh);
  const ends = [alongAxis(up, ...min), alongAxis(up, ...max)].sort((a, b) => a - b);
  const normal = directionOf(up);
  return trunkShares.filter((share) => {
    const height = ends[0] + share * (ends[1] - ends[0]);
    const point: Vec3 = [height * normal[0], height * normal[1], height * normal[2]];
    const areas = sectionOf(mesh, { point, normal })
      .filter((loop) => loop.closed)
      .map((loop) => signedArea(loop.points))
      .sort((a, b) => b - a);
    return areas.length > 1 && areas[1] > twinShare * areas[0];
  }).length;
}
