/*
 * A part as a sheet of foam in the picture: three places for every vertex (on the skin, in the middle of the foam, laid flat beside the
 * body), the faces as corners of their own, and the wall along the border. All arrays hold three numbers a corner unless they say otherwise.
 */
import type { F64, Vec3 } from '../../src/base/arrays.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../../src/mesh/half-edge-mesh.ts';
import type { Correspondence } from '../../src/mesh/surface-point.ts';
import type { Patch } from '../../src/patches/patch.ts';
import type { Surface } from '../../src/standoff/surface.ts';
import { layBeside } from './lay-beside.ts';
import { smoothNormals } from './shading.ts';
import { cornerStrain } from './strain-values.ts';

/** Places of a part's vertices, 3·n each, mm. */
export interface PatchPlaces {
  readonly skin: F64;
  readonly standing: F64;
  readonly flat: F64;
}

export interface PatchShell {
  readonly places: PatchPlaces;
  /** Vertex normals of the standing part, 3·n. */
  readonly normals: Float32Array;
  readonly position: Float32Array;
  readonly normal: Float32Array;
  readonly skin: Float32Array;
  readonly flatPlace: Float32Array;
  readonly flatNormal: Float32Array;
  /** Four a corner: strain at the corner, strain of its face, face of the sheet (±1), wall (0 or 1). */
  readonly shade: Float32Array;
}

/** Points of one mesh carried to another by face and weights. */
export function carried(points: Correspondence, mesh: Pick<HalfEdgeMesh, 'faces'>, places: F64): Float64Array {
  const total = points.face.length;
  const result = new Float64Array(3 * total);
  for (let v = 0; v < total; v++) {
    for (let i = 0; i < 3; i++) {
      const corner = 3 * mesh.faces[3 * points.face[v] + i];
      const weight = points.weights[3 * v + i];
      for (let k = 0; k < 3; k++) result[3 * v + k] += weight * places[corner + k];
    }
  }
  return result;
}

/** Where each vertex of a patch comes from on the body's skin. */
export function skinPlaces(patch: Patch, surface: Surface, body: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const surfaceOnSkin = carried(surface.toBody, body, body.positions);
  return carried(patch.toSurface, surface.mesh, surfaceOnSkin);
}

/** Builds the sheet. Without a flat part the flat places are the standing ones. */
export function buildShell(
  patch: Patch,
  surface: Surface,
  body: Pick<HalfEdgeMesh, 'positions' | 'faces'>,
  part: FlatPart | undefined,
): PatchShell {
  const { mesh } = patch;
  const standing = mesh.positions;
  const skin = skinPlaces(patch, surface, body);
  const beside = part ? layBeside(mesh, part.positions) : undefined;
  const flat = beside?.places ?? standing;
  const flatUp = beside?.normal;
  const normals = smoothNormals(mesh);
  const strain = part ? cornerStrain(mesh, part) : undefined;
  const borderEdges = mesh.twin.reduce((sum, twin) => sum + (twin === -1 ? 1 : 0), 0);
  const corners = 2 * mesh.faces.length + 6 * borderEdges;
  const shell = {
    places: { skin, standing, flat },
    normals,
    position: new Float32Array(3 * corners),
    normal: new Float32Array(3 * corners),
    skin: new Float32Array(3 * corners),
    flatPlace: new Float32Array(3 * corners),
    flatNormal: new Float32Array(3 * corners),
    shade: new Float32Array(4 * corners),
  };
  let at = 0;
  // Written out number by number: this is the largest piece of work on the page's own thread.
  const put = (v: number, side: 1 | -1, wall: 0 | 1, f: number): void => {
    const [from, to, mark] = [3 * v, 3 * at, 4 * at];
    for (let k = 0; k < 3; k++) {
      shell.position[to + k] = standing[from + k];
      shell.skin[to + k] = skin[from + k];
      shell.flatPlace[to + k] = flat[from + k];
      shell.normal[to + k] = normals[from + k];
      shell.flatNormal[to + k] = flatUp === undefined ? normals[from + k] : flatUp[k];
    }
    shell.shade[mark] = strain && wall === 0 ? strain.atVertex[v] : 0;
    shell.shade[mark + 1] = strain && wall === 0 ? strain.ofFace[f] : 0;
    shell.shade[mark + 2] = side;
    shell.shade[mark + 3] = wall;
    at++;
  };
  const { faces, twin } = mesh;
  for (let h = 0; h < faces.length; h++) put(faces[h], 1, 0, Math.floor(h / 3));
  // The inner face is wound the other way round, so that its light is right.
  for (let f = 0; f < faces.length / 3; f++) {
    put(faces[3 * f], -1, 0, f);
    put(faces[3 * f + 2], -1, 0, f);
    put(faces[3 * f + 1], -1, 0, f);
  }
  for (let h = 0; h < faces.length; h++) {
    if (twin[h] !== -1) continue;
    const [v, w] = [faces[h], faces[nextHalfEdge(h)]];
    put(v, 1, 1, 0);
    put(v, -1, 1, 0);
    put(w, 1, 1, 0);
    put(w, 1, 1, 0);
    put(v, -1, 1, 0);
    put(w, -1, 1, 0);
  }
  return shell;
}

/** Place of a vertex as shown. `lift` 0 skin … 1 standing, `fold` 0 flat … 1 on the body. */
export function shownPlace(places: PatchPlaces, v: number, lift: number, fold: number): Vec3 {
  const mix = (k: number): number => {
    const standing = places.skin[3 * v + k] + lift * (places.standing[3 * v + k] - places.skin[3 * v + k]);
    return places.flat[3 * v + k] + fold * (standing - places.flat[3 * v + k]);
  };
  return [mix(0), mix(1), mix(2)];
}

/** Nearest hit of a ray with a part as shown. Cost: linear in its faces. */
export function hitPatch(
  mesh: Pick<HalfEdgeMesh, 'faces'>,
  places: PatchPlaces,
  lift: number,
  fold: number,
  origin: Vec3,
  direction: Vec3,
): { readonly face: number; readonly weights: Vec3; readonly distance: number } | undefined {
  let best: { face: number; weights: Vec3; distance: number } | undefined;
  for (let h = 0; h < mesh.faces.length; h += 3) {
    const a = shownPlace(places, mesh.faces[h], lift, fold);
    const b = shownPlace(places, mesh.faces[h + 1], lift, fold);
    const c = shownPlace(places, mesh.faces[h + 2], lift, fold);
    const hit = hitTriangle(a, b, c, origin, direction);
    if (hit && (!best || hit[2] < best.distance)) best = { face: h / 3, weights: [1 - hit[0] - hit[1], hit[0], hit[1]], distance: hit[2] };
  }
  return best;
}

/** Weights of the second and third corner, and the distance along the ray. @source [moller-trumbore1997] */
function hitTriangle(a: Vec3, b: Vec3, c: Vec3, o: Vec3, d: Vec3): Vec3 | undefined {
  const [e1x, e1y, e1z] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [e2x, e2y, e2z] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const [px, py, pz] = [d[1] * e2z - d[2] * e2y, d[2] * e2x - d[0] * e2z, d[0] * e2y - d[1] * e2x];
  const determinant = e1x * px + e1y * py + e1z * pz;
  if (determinant === 0) return undefined;
  const [tx, ty, tz] = [o[0] - a[0], o[1] - a[1], o[2] - a[2]];
  const u = (tx * px + ty * py + tz * pz) / determinant;
  if (u < 0 || u > 1) return undefined;
  const [qx, qy, qz] = [ty * e1z - tz * e1y, tz * e1x - tx * e1z, tx * e1y - ty * e1x];
  const v = (d[0] * qx + d[1] * qy + d[2] * qz) / determinant;
  if (v < 0 || u + v > 1) return undefined;
  const distance = (e2x * qx + e2y * qy + e2z * qz) / determinant;
  return distance > 0 ? [u, v, distance] : undefined;
}
