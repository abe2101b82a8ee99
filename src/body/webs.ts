/*
 * Webs: skins that a scanner spans where it could not see, between arm and trunk or between the legs. A web is a thin wall: a ray from a face inward
 * leaves the body again within the web's thickness, and so it does on the other side, over a wide area. Its faces go, and the slit that they leave is
 * closed along the trunk and the arm, which is the closing of least area.
 */
import type { Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { buildMesh } from '../mesh/build.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds, faceAreas, faceNormals } from '../mesh/measure.ts';
import { boundaryLoops, halfEdgeLength } from '../mesh/navigate.ts';
import { createSpatialIndex } from '../mesh/spatial.ts';
import { alongAxis } from './axes.ts';
import type { Axis } from './body.ts';
import { fillHoles } from './fill-holes.ts';
import { makeManifold } from './manifold.ts';
import { findStrays, measureComponents } from './strays.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

export interface Webs {
  readonly triangles: Triangles;
  /** Webs that were split. */
  readonly count: number;
  readonly areaMm2: number;
}

/** Thickness of a wall that counts as a web where nothing else is asked, mm. */
export const webThicknessMm = 16;
/** Thin places below this area are ears, fingers, folds, mm² of both sides together. */
const leastAreaMm2 = 3000;
/** Webs hang between these shares of the body's height: not on hands, feet or head. */
const heightShare = { least: 0.3, most: 0.86 } as const;
/** A wall has two sides that face away from each other: cosine of the angle between their normals at most. */
const oppositeCosine = -0.5;

/**
 * Splits webs of at most a thickness.
 * @returns the same triangles where none is found
 */
export async function splitWebs(triangles: Triangles, up: Axis, thicknessMm: number, run: Run): Promise<Webs> {
  const mesh = buildMesh(triangles.positions, triangles.faces);
  const isThin = await findThin(mesh, up, thicknessMm, run);
  const { isWeb, count, areaMm2 } = largePatches(mesh, isThin);
  if (count === 0) return { triangles, count, areaMm2 };
  growInto(isWeb, mesh, thicknessMm / 2);
  const before = boundaryLoops(mesh).length;
  const opened = (await makeManifold(compactTriangles(triangles, isWeb), run)).triangles;
  const rest = buildMesh(opened.positions, opened.faces);
  // Borders that were open before stay open: they come through unchanged and are told by their first vertex.
  const known = new Set(boundaryLoops(mesh).map((loop) => placeKey(mesh, loop)));
  const slits = boundaryLoops(rest).filter((loop) => before === 0 || !known.has(placeKey(rest, loop)));
  const filled = await fillHoles(rest, slits, run, { rule: 'least-area', isFair: false });
  return { triangles: withoutCrumbs(filled.triangles), count, areaMm2 };
}

/** The free edge of a web can be left behind as a thread. */
function withoutCrumbs(triangles: Triangles): Triangles {
  const { labels, sizes } = measureComponents(triangles);
  const isStray = findStrays(sizes);
  return isStray.includes(true)
    ? compactTriangles(
        triangles,
        Uint8Array.from(labels, (c) => (isStray[c] ? 1 : 0)),
      )
    : triangles;
}

/** Sum of a border's corners: equal for the same border, whatever its vertices are called. */
function placeKey(mesh: HalfEdgeMesh, loop: Uint32Array): string {
  const sum = [0, 0, 0];
  for (const h of Array.from(loop).sort((a, b) => mesh.positions[3 * mesh.faces[a]] - mesh.positions[3 * mesh.faces[b]]))
    for (let k = 0; k < 3; k++) sum[k] += mesh.positions[3 * mesh.faces[h] + k];
  return `${loop.length} ${sum.map((value) => value.toFixed(3)).join(' ')}`;
}

/** Takes in the faces around, as far as the given distance reaches: the edge of a web, where it is thick along its own plane, and its crease. */
function growInto(isWeb: Uint8Array, mesh: HalfEdgeMesh, distanceMm: number): void {
  let edges = 0;
  let length = 0;
  for (let h = 0; h < mesh.faces.length; h++) {
    if (isWeb[Math.floor(h / 3)] === 0) continue;
    edges++;
    length += halfEdgeLength(mesh, h);
  }
  const rings = Math.ceil((distanceMm * edges) / length);
  for (let ring = 0; ring < rings; ring++) {
    const isNear = new Uint8Array(mesh.positions.length / 3);
    for (let h = 0; h < mesh.faces.length; h++) if (isWeb[Math.floor(h / 3)] === 1) isNear[mesh.faces[h]] = 1;
    for (let h = 0; h < mesh.faces.length; h++) if (isNear[mesh.faces[h]] === 1) isWeb[Math.floor(h / 3)] = 1;
  }
}

async function findThin(mesh: HalfEdgeMesh, up: Axis, thicknessMm: number, run: Run): Promise<Uint8Array> {
  const index = createSpatialIndex(mesh);
  const normals = faceNormals(mesh);
  const box = bounds(mesh);
  const ends = [alongAxis(up, ...box.min), alongAxis(up, ...box.max)].sort((a, b) => a - b);
  const isThin = new Uint8Array(mesh.faces.length / 3);
  // The ray starts a little inside, so that it does not meet the face that it comes from.
  const inside = thicknessMm / 256;
  for (let f = 0; f < isThin.length; f++) {
    if (f % 1000 === 0) await run.breathe();
    const middle: [number, number, number] = [0, 0, 0];
    for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) middle[k] += mesh.positions[3 * mesh.faces[3 * f + i] + k] / 3;
    const height = (alongAxis(up, ...middle) - ends[0]) / (ends[1] - ends[0]);
    if (height < heightShare.least || height > heightShare.most) continue;
    const inward: Vec3 = [-normals[3 * f], -normals[3 * f + 1], -normals[3 * f + 2]];
    const start: Vec3 = [middle[0] + inside * inward[0], middle[1] + inside * inward[1], middle[2] + inside * inward[2]];
    const hit = index.firstHit(start, inward);
    if (hit === undefined || hit.distance + inside > thicknessMm) continue;
    const facing = [0, 1, 2].reduce((sum, k) => sum + normals[3 * f + k] * normals[3 * hit.face + k], 0);
    if (facing < oppositeCosine) isThin[f] = 1;
  }
  return isThin;
}

/** Connected thin faces that are large enough; the rest are let be. */
function largePatches(mesh: HalfEdgeMesh, isThin: Uint8Array): { isWeb: Uint8Array; count: number; areaMm2: number } {
  const areas = faceAreas(mesh);
  const isWeb = new Uint8Array(isThin.length);
  const seen = new Uint8Array(isThin.length);
  let count = 0;
  let areaMm2 = 0;
  for (let seed = 0; seed < isThin.length; seed++) {
    if (isThin[seed] === 0 || seen[seed] === 1) continue;
    const patch = [seed];
    seen[seed] = 1;
    let area = 0;
    for (const f of patch) {
      area += areas[f];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const other = mesh.twin[h] === -1 ? -1 : Math.floor(mesh.twin[h] / 3);
        if (other === -1 || isThin[other] === 0 || seen[other] === 1) continue;
        seen[other] = 1;
        patch.push(other);
      }
    }
    if (area < leastAreaMm2) continue;
    count++;
    areaMm2 += area;
    for (const f of patch) isWeb[f] = 1;
  }
  return { isWeb, count, areaMm2 };
}
