/*
 * An even mesh of the same surface: split, collapse, flip and slide along the surface until edges are near one length [botsch-kobbelt2004].
 * A caller that knows the exact surface gives `project`; without it vertices slide in their tangent planes only.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from './build.ts';
import { collapseShortEdges } from './collapse-edges.ts';
import { flipEdges, splitLongEdges } from './edit-topology.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import { nextHalfEdge } from './half-edge-mesh.ts';
import { vertexNormals } from './measure.ts';

export interface EvenMeshOptions {
  /** Wanted edge length, mm. */
  readonly edgeMm: number;
  readonly passes: number;
  /** Takes a point to the exact surface nearby. */
  readonly project?: (point: Vec3) => Vec3;
  /** Open borders: vertices stay, or slide along their border's neighbours. */
  readonly border: 'fixed' | 'slide';
}

/** Remeshes to even edges; borders keep their vertices where `border` is 'fixed' and no shorter edge than wanted touches them. */
export async function evenMesh(mesh: HalfEdgeMesh, options: EvenMeshOptions, run: Run): Promise<HalfEdgeMesh> {
  const longest = (4 / 3) * options.edgeMm;
  const shortest = (4 / 5) * options.edgeMm;
  let current = mesh;
  for (let pass = 0; pass < options.passes; pass++) {
    await run.breathe();
    const split = splitLongEdges(current, longest);
    current = buildMesh(split.positions, split.faces);
    const collapsed = collapseShortEdges(current, shortest, longest);
    current = flipEdges(buildMesh(collapsed.positions, collapsed.faces), 'valence', 2);
    for (let i = 0; i < 2; i++) current = slideVertices(current, options);
  }
  for (let i = 0; i < 3; i++) current = slideVertices(flipEdges(current, 'delaunay', 8), options);
  return flipEdges(current, 'delaunay', 20);
}

/** One step of every vertex towards the area-weighted middle of its faces, within its tangent plane, then onto the surface. */
function slideVertices(mesh: HalfEdgeMesh, options: EvenMeshOptions): HalfEdgeMesh {
  const p = mesh.positions;
  const total = p.length / 3;
  const sums = new Float64Array(4 * total);
  const isBorder = new Uint8Array(total);
  for (let h = 0; h < mesh.faces.length; h++) if (mesh.twin[h] === -1) isBorder[mesh.faces[h]] = 1;
  for (let h = 0; h < mesh.faces.length; h += 3) addMiddleInto(sums, mesh, h);
  const border = borderMiddles(mesh, isBorder);
  const normals = vertexNormals(mesh);
  const moved = Float64Array.from(p);
  for (let v = 0; v < total; v++) {
    if (isBorder[v] === 1 && options.border === 'fixed') continue;
    const weight = sums[4 * v + 3];
    if (weight === 0) continue;
    const isOnBorder = isBorder[v] === 1;
    const wx = (isOnBorder ? border[3 * v] : sums[4 * v] / weight) - p[3 * v];
    const wy = (isOnBorder ? border[3 * v + 1] : sums[4 * v + 1] / weight) - p[3 * v + 1];
    const wz = (isOnBorder ? border[3 * v + 2] : sums[4 * v + 2] / weight) - p[3 * v + 2];
    const [nx, ny, nz] = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
    const along = wx * nx + wy * ny + wz * nz;
    const place: Vec3 = [
      p[3 * v] + 0.8 * (wx - along * nx),
      p[3 * v + 1] + 0.8 * (wy - along * ny),
      p[3 * v + 2] + 0.8 * (wz - along * nz),
    ];
    const [x, y, z] = options.project ? options.project(place) : place;
    moved[3 * v] = x;
    moved[3 * v + 1] = y;
    moved[3 * v + 2] = z;
  }
  return { ...mesh, positions: moved };
}

/** Adds face area times face middle, and the area, to the sums of its three vertices. */
function addMiddleInto(sums: Float64Array, mesh: HalfEdgeMesh, h: number): void {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[h], 3 * mesh.faces[h + 1], 3 * mesh.faces[h + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const area = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  for (const v of [a, b, c]) {
    const s = (4 * v) / 3;
    for (let k = 0; k < 3; k++) sums[s + k] += (area * (p[a + k] + p[b + k] + p[c + k])) / 3;
    sums[s + 3] += area;
  }
}

/** Middle of the two border neighbours of each border vertex. */
function borderMiddles(mesh: HalfEdgeMesh, isBorder: Uint8Array): Float64Array {
  const middles = new Float64Array(mesh.positions.length);
  for (let h = 0; h < mesh.faces.length; h++) {
    if (mesh.twin[h] !== -1) continue;
    const a = mesh.faces[h];
    const b = mesh.faces[nextHalfEdge(h)];
    for (let k = 0; k < 3; k++) {
      middles[3 * a + k] += mesh.positions[3 * b + k] / 2;
      middles[3 * b + k] += mesh.positions[3 * a + k] / 2;
    }
  }
  for (let v = 0; v < isBorder.length; v++) if (isBorder[v] === 0) middles.fill(0, 3 * v, 3 * v + 3);
  return middles;
}
