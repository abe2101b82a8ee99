/*
 * The zero level of a sampled field as an even mesh: one vertex a cell in the middle of its crossings (a surface net [gibson1998]), one quad a
 * crossed grid edge, remeshed to even edges while every vertex is kept on the exact level.
 */
import type { U8, Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import { faceComponents } from '../mesh/components.ts';
import { dropUnused, flipEdges } from '../mesh/edit-topology.ts';
import { evenMesh } from '../mesh/even-mesh.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { DistanceGrid } from './distance-grid.ts';
import { forEachNode, interpolateBand, nodeIndex, nodeValue } from './distance-grid.ts';

/** The raw net, faces outward (towards positive values). */
export function netOf(grid: DistanceGrid): HalfEdgeMesh {
  const vertexOfCell = new Int32Array(grid.values.length).fill(-1);
  const positions: number[] = [];
  const vertexOf = (i: number, j: number, k: number): number => {
    const cell = nodeIndex(grid, i, j, k);
    if (cell !== -1 && vertexOfCell[cell] === -1) {
      vertexOfCell[cell] = positions.length / 3;
      positions.push(...middleOfCrossings(grid, i, j, k));
    }
    return cell === -1 ? -1 : vertexOfCell[cell];
  };
  const faces: number[] = [];
  const quad = (isInside: boolean, a: number, b: number, c: number, d: number): void => {
    // Outside the band a field crosses zero only where it jumps, over the openings of an open body.
    if (a === -1 || b === -1 || c === -1 || d === -1) return;
    if (isInside) pushQuad(faces, positions, a, b, c, d);
    else pushQuad(faces, positions, d, c, b, a);
  };
  forEachNode(grid, (i, j, k) => {
    if (i === 0 || j === 0 || k === 0) return;
    const isInside = nodeValue(grid, i, j, k) < 0;
    if (isInside !== nodeValue(grid, i + 1, j, k) < 0)
      quad(isInside, vertexOf(i, j - 1, k - 1), vertexOf(i, j, k - 1), vertexOf(i, j, k), vertexOf(i, j - 1, k));
    if (isInside !== nodeValue(grid, i, j + 1, k) < 0)
      quad(isInside, vertexOf(i - 1, j, k - 1), vertexOf(i - 1, j, k), vertexOf(i, j, k), vertexOf(i, j, k - 1));
    if (isInside !== nodeValue(grid, i, j, k + 1) < 0)
      quad(isInside, vertexOf(i - 1, j - 1, k), vertexOf(i, j - 1, k), vertexOf(i, j, k), vertexOf(i - 1, j, k));
  });
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

/** Two triangles along the shorter diagonal. */
function pushQuad(faces: number[], p: readonly number[], a: number, b: number, c: number, d: number): void {
  const square = (u: number, v: number): number =>
    (p[3 * u] - p[3 * v]) * (p[3 * u] - p[3 * v]) +
    (p[3 * u + 1] - p[3 * v + 1]) * (p[3 * u + 1] - p[3 * v + 1]) +
    (p[3 * u + 2] - p[3 * v + 2]) * (p[3 * u + 2] - p[3 * v + 2]);
  if (square(a, c) <= square(b, d)) faces.push(a, b, c, a, c, d);
  else faces.push(a, b, d, b, c, d);
}

/** Mean of the points where the cell's edges cross the level, by linear interpolation. */
function middleOfCrossings(grid: DistanceGrid, i: number, j: number, k: number): Vec3 {
  const sum = [0, 0, 0];
  let count = 0;
  for (let axis = 0; axis < 3; axis++)
    for (let side = 0; side < 4; side++) {
      const from = [i, j, k];
      from[(axis + 1) % 3] += side & 1;
      from[(axis + 2) % 3] += side >> 1;
      const a = nodeValue(grid, from[0], from[1], from[2]);
      const b = nodeValue(grid, from[0] + (axis === 0 ? 1 : 0), from[1] + (axis === 1 ? 1 : 0), from[2] + (axis === 2 ? 1 : 0));
      if (a < 0 === b < 0) continue;
      from[axis] += a / (a - b);
      for (let c = 0; c < 3; c++) sum[c] += from[c];
      count++;
    }
  return [0, 1, 2].map((c) => grid.origin[c] + (grid.step * sum[c]) / count) as unknown as Vec3;
}

/**
 * The even mesh of a level. Remeshing follows the level of the sampled field; at its end every vertex goes to the exact one.
 * @param project takes a point near the level onto it
 * @param edgeMm wanted edge length
 * @param isReal for open bodies: whether a net vertex lies on the level and not on a jump of the field
 * @returns the mesh without closed pockets inside, and how many pockets there were
 */
export async function levelMesh(
  grid: DistanceGrid,
  project: (point: Vec3) => Vec3,
  edgeMm: number,
  run: Run,
  isReal?: (point: Vec3) => boolean,
): Promise<{ readonly mesh: HalfEdgeMesh; readonly pockets: number }> {
  const whole = netOf(grid);
  const { mesh: net, pockets } = isReal === undefined ? dropPockets(whole) : { mesh: keepReal(whole, isReal), pockets: 0 };
  const onGrid = (point: Vec3): Vec3 => toSampledLevel(grid, point);
  const even = await evenMesh(net, { edgeMm, passes: 5, border: 'fixed', project: onGrid }, run);
  const positions = new Float64Array(even.positions.length);
  for (let v = 0; v < positions.length; v += 3) {
    if (v % 768 === 0) await run.breathe();
    positions.set(project([even.positions[v], even.positions[v + 1], even.positions[v + 2]]), v);
  }
  return { mesh: flipEdges({ ...even, positions }, 'delaunay', 8), pockets };
}

/** The faces all of whose vertices are real, without faces that hang together at a vertex only. */
function keepReal(net: HalfEdgeMesh, isReal: (point: Vec3) => boolean): HalfEdgeMesh {
  const p = net.positions;
  const drop = Uint8Array.from({ length: p.length / 3 }, (_, v) => (isReal([p[3 * v], p[3 * v + 1], p[3 * v + 2]]) ? 0 : 1));
  return keepWithout(net, drop);
}

/**
 * A mesh without the faces at the marked vertices; vertices at which more than two border edges then meet lose their faces too, until every vertex has
 * one fan.
 */
export function keepWithout(mesh: HalfEdgeMesh, drop: U8): HalfEdgeMesh {
  let faces = mesh.faces;
  let marked = drop;
  let current = mesh;
  do {
    const kept: number[] = [];
    for (let h = 0; h < faces.length; h += 3)
      if (marked[faces[h]] + marked[faces[h + 1]] + marked[faces[h + 2]] === 0) kept.push(faces[h], faces[h + 1], faces[h + 2]);
    faces = Uint32Array.from(kept);
    current = buildMesh(mesh.positions, faces);
    const borders = new Uint8Array(marked.length);
    for (let h = 0; h < faces.length; h++) if (current.twin[h] === -1) borders[faces[h]]++;
    marked = borders.map((count) => (count > 1 ? 1 : 0));
  } while (marked.includes(1));
  const compact = dropUnused(current.positions, current.faces);
  return buildMesh(compact.positions, compact.faces);
}

/** Newton steps on the trilinear field. */
function toSampledLevel(grid: DistanceGrid, point: Vec3): Vec3 {
  let [x, y, z] = point;
  for (let i = 0; i < 3; i++) {
    const [value, gx, gy, gz] = interpolateBand(grid, x, y, z);
    const square = gx * gx + gy * gy + gz * gz;
    // In a fold of the field the slope may vanish: stay within a step.
    const t = Math.min(grid.step, Math.max(-grid.step, value)) / Math.max(square, 0.25);
    [x, y, z] = [x - t * gx, y - t * gy, z - t * gz];
  }
  return [x, y, z];
}

/** Leaves out components that enclose emptiness (volume below zero): gaps that the layer closes off and no sheet can reach. */
export function dropPockets(mesh: HalfEdgeMesh): { readonly mesh: HalfEdgeMesh; readonly pockets: number } {
  const { labels, count } = faceComponents(mesh);
  const volume = new Float64Array(count);
  const p = mesh.positions;
  for (let f = 0; f < labels.length; f++) {
    const [a, b, c] = [3 * mesh.faces[3 * f], 3 * mesh.faces[3 * f + 1], 3 * mesh.faces[3 * f + 2]];
    volume[labels[f]] +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  const pockets = volume.filter((v) => v < 0).length;
  if (pockets === 0) return { mesh, pockets };
  const faces = Uint32Array.from(mesh.faces).filter((_, h) => volume[labels[Math.floor(h / 3)]] >= 0);
  const kept = dropUnused(p, faces);
  return { mesh: buildMesh(kept.positions, kept.faces), pockets };
}
