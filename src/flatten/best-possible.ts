/*
 * The best that any map of a patch could do: a lower bound of (largest scale)/(smallest scale) from its curvature.
 * Take a geodesic disc of radius r inside the patch, C the length of its rim, A its area, and a map with scales from m to M.
 *   The image holds a disc of radius m·r and has a rim of at most M·C:   2π·m·r ≤ M·C       ⇒ M/m ≥ 2πr / C.
 *   The image lies in a disc of radius M·r and has an area of at least m²A:  m²A ≤ π M² r²  ⇒ M/m ≥ √(A / (πr²)).
 * The first bites where the surface is domed (on a cap it is Milnor's α / sin α, which azimuthal equidistant maps attain), the second
 * where it is a saddle. By Gauss–Bonnet C′ = 2π − Σ (angle defects inside), so with d_v the distance of vertex v from the centre
 *   C(r) = 2πr − Σ κ_v (r − d_v),  A(r) = πr² − ½ Σ κ_v (r − d_v)²   over the vertices inside:
 * sums that grow as the distance front passes each vertex. Where the front meets itself the true rim is shorter: the first bound stays valid.
 */
import type { F64 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { angleDefects } from '../mesh/curvature.ts';
import { createFront } from '../mesh/distance-front.ts';
import type { Front } from '../mesh/distance-front.ts';

/** Discs that are tried: spread over the patch, then twice about the best so far, each time over a smaller ball. */
const spreadCount = 10;
const aroundCount = 6;
/** The front must have passed this many vertices before a disc counts: smaller ones say more of the mesh than of the surface. */
const leastVertices = 24;

interface Disc {
  readonly centre: number;
  readonly radius: number;
  readonly ratio: number;
}

/**
 * Lower bound of (largest σ)/(smallest σ) over all maps of the patch, at least 1.
 * @param mesh a patch; any unit
 * @source [milnor1969] the first bound on a cap; its form for any surface and the second bound are elementary (area and rim of images)
 * Cost: about twenty distance fronts over discs inside the patch.
 */
export function bestRatio(mesh: HalfEdgeMesh): number {
  const defects = angleDefects(mesh);
  const isBorder = borderFlags(mesh);
  const inner: number[] = [];
  for (let v = 0; v < isBorder.length; v++) if (isBorder[v] === 0 && mesh.vertexHalfEdge[v] !== -1) inner.push(v);
  if (inner.length === 0) return 1;
  const front = createFront(mesh);
  let best: Disc = { centre: inner[0], radius: Infinity, ratio: 1 };
  const tryAll = (centres: readonly number[]): void => {
    for (const centre of centres) {
      const disc = largestDisc(front, centre, defects, isBorder);
      if (disc.ratio > best.ratio || best.radius === Infinity) best = disc;
    }
  };
  tryAll(spreadOut(mesh.positions, inner, spreadCount));
  for (const share of [0.5, 0.2]) {
    const near = inner.filter((v) => squaredDistance(mesh.positions, v, best.centre) < share * share * best.radius * best.radius);
    tryAll(spreadOut(mesh.positions, near, aroundCount));
  }
  return best.ratio;
}

/** The best bound over all discs about one vertex that do not reach the border. */
function largestDisc(front: Front, centre: number, defects: F64, isBorder: Uint8Array): Disc {
  let [defectSum, momentSum, squareSum] = [0, 0, 0];
  let [ratio, radius, passed] = [1, 0, 0];
  front.run(centre, (v, r) => {
    radius = r;
    if (++passed > leastVertices) {
      const rim = (2 * Math.PI - defectSum) * r + momentSum;
      const area = Math.PI * r * r - 0.5 * (defectSum * r * r - 2 * momentSum * r + squareSum);
      if (rim > 0) ratio = Math.max(ratio, (2 * Math.PI * r) / rim);
      ratio = Math.max(ratio, Math.sqrt(Math.max(0, area) / (Math.PI * r * r)));
    }
    if (isBorder[v] === 1) return false;
    defectSum += defects[v];
    momentSum += defects[v] * r;
    squareSum += defects[v] * r * r;
    return true;
  });
  return { centre, radius, ratio };
}

function borderFlags(mesh: HalfEdgeMesh): Uint8Array {
  const flags = new Uint8Array(mesh.positions.length / 3);
  for (let h = 0; h < mesh.faces.length; h++) {
    if (mesh.twin[h] !== -1) continue;
    flags[mesh.faces[h]] = 1;
    flags[mesh.faces[h % 3 === 2 ? h - 2 : h + 1]] = 1;
  }
  return flags;
}

function squaredDistance(p: F64, v: number, w: number): number {
  const x = p[3 * v] - p[3 * w];
  const y = p[3 * v + 1] - p[3 * w + 1];
  const z = p[3 * v + 2] - p[3 * w + 2];
  return x * x + y * y + z * z;
}

/** Up to `count` vertices of a list, each the farthest in space from those before it; the first is nearest to their mean. */
function spreadOut(positions: F64, vertices: readonly number[], count: number): number[] {
  if (vertices.length <= count) return [...vertices];
  const mean = [0, 0, 0];
  for (const v of vertices) for (let k = 0; k < 3; k++) mean[k] += positions[3 * v + k] / vertices.length;
  const reach = Float64Array.from(
    vertices,
    (v) => -[0, 1, 2].reduce((sum, k) => sum + (positions[3 * v + k] - mean[k]) * (positions[3 * v + k] - mean[k]), 0),
  );
  const chosen: number[] = [];
  while (chosen.length < count) {
    let next = 0;
    for (let i = 1; i < reach.length; i++) if (reach[i] > reach[next]) next = i;
    const isFirst = chosen.length === 0;
    chosen.push(vertices[next]);
    for (let i = 0; i < reach.length; i++) {
      const squared = squaredDistance(positions, vertices[i], vertices[next]);
      reach[i] = isFirst ? squared : Math.min(reach[i], squared);
    }
  }
  return chosen;
}
