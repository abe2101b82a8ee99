/*
 * Harmonic map onto a disc with positive weights: the border wound round a circle, every inner vertex the weighted mean of its
 * neighbours. With positive weights and a convex border no face flips, in exact arithmetic [tutte1963] [floater2003].
 * Weights: w_ij = ½ (m_ij + m_ji), m_ij = (tan(α/2) + tan(β/2))/|ij| with α, β the angles at i beside edge ij, the mean-value weights
 * made symmetric. We depart from the source there: symmetric weights are positive as well and let the same factorisation serve, while
 * exact reproduction of plane pieces, which the map loses, does not matter for a start.
 * Inner borders (holes) are closed by one extra vertex each, joined to the whole loop.
 */
import type { F64 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { prepareSolver } from '../linalg/cholesky.ts';
import { edgePattern, laplacianValues } from '../mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { boundaryLoops } from '../mesh/navigate.ts';
import { buildMesh } from '../mesh/build.ts';
import { circleByLength } from './circle-border.ts';

/**
 * @param mesh one connected patch with an open edge, genus 0
 * @returns plane positions inside the unit circle, shape 2·n; rounding may flip faces of very long tubes: check
 */
export async function tutteMap(mesh: HalfEdgeMesh, run: Run): Promise<F64> {
  const loops = boundaryLoops(mesh);
  const closed = closeHoles(mesh, loops.slice(1));
  const plane = circleByLength(mesh, loops[0]);
  const pinned = Array.from(loops[0], (h) => mesh.faces[h]);
  const vertexTotal = closed.positions.length / 3;
  const pattern = edgePattern(closed, vertexTotal, pinned);
  if (pattern.size === 0) return plane;
  const half = meanValueWeights(closed);
  const { size, columnStart, row } = pattern;
  const matrix = { size, columnStart, row, real: laplacianValues(closed, pattern, half) };
  const right = { real: new Float64Array(size), imaginary: new Float64Array(size) };
  for (let h = 0; h < closed.faces.length; h++) {
    if (pattern.halfEdgeEntry[h] !== -1) continue;
    const ends = [closed.faces[h], closed.faces[h % 3 === 2 ? h - 2 : h + 1]];
    for (let i = 0; i < 2; i++) {
      const free = pattern.vertexUnknown[ends[i]];
      if (free === -1) continue;
      right.real[free] += half[h] * plane[2 * ends[1 - i]];
      right.imaginary[free] += half[h] * plane[2 * ends[1 - i] + 1];
    }
  }
  const positions = Float64Array.from(
    { length: 3 * size },
    (_, i) => closed.positions[3 * pattern.unknownVertex[(i - (i % 3)) / 3] + (i % 3)],
  );
  const solver = await prepareSolver(matrix, { positions, dimension: 3 }, run);
  await solver.factor(matrix, run);
  solver.solveInto(right, right);
  solver.dispose();
  for (let i = 0; i < size; i++) {
    const v = pattern.unknownVertex[i];
    if (2 * v >= plane.length) continue;
    plane[2 * v] = right.real[i];
    plane[2 * v + 1] = right.imaginary[i];
  }
  return plane;
}

/** The mesh with each given border closed by a fan to a vertex at its mean. */
function closeHoles(mesh: HalfEdgeMesh, loops: readonly Readonly<Uint32Array>[]): HalfEdgeMesh {
  if (loops.length === 0) return mesh;
  const positions = Array.from(mesh.positions);
  const faces = Array.from(mesh.faces);
  for (const loop of loops) {
    const centre = [0, 0, 0];
    for (const h of loop) for (let k = 0; k < 3; k++) centre[k] += mesh.positions[3 * mesh.faces[h] + k] / loop.length;
    const v = positions.length / 3;
    positions.push(...centre);
    for (const h of loop) faces.push(mesh.faces[h % 3 === 2 ? h - 2 : h + 1], mesh.faces[h], v);
  }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

/** Per half-edge its face's share of the symmetric mean-value weight of its edge; positive. */
function meanValueWeights(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const { positions: p, faces } = mesh;
  const weights = new Float64Array(faces.length);
  for (let h = 0; h < faces.length; h++) {
    const a = 3 * faces[h];
    const b = 3 * faces[h % 3 === 2 ? h - 2 : h + 1];
    const c = 3 * faces[h % 3 === 0 ? h + 2 : h - 1];
    const length = Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
    weights[h] = (0.5 * (halfTangent(p, a, b, c) + halfTangent(p, b, c, a))) / length;
  }
  return weights;
}

/** Bound of tan(γ/2) and of its inverse. */
const angleCap = 1000000;

/** tan(γ/2) of the angle γ at corner a: |u × v| / (|u||v| + u·v), at most 1e6 and at least 1e-6 so that no face is lost to rounding. */
function halfTangent(p: F64, a: number, b: number, c: number): number {
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const cross = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  const sum = Math.hypot(ux, uy, uz) * Math.hypot(vx, vy, vz) + ux * vx + uy * vy + uz * vz;
  const tangent = cross / sum;
  return tangent < angleCap ? Math.max(tangent, 1 / angleCap) : angleCap;
}
