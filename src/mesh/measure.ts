/*
 * Areas, normals, volume and size of a mesh. Lengths in the mesh's unit (mm).
 */
import type { Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

/** Twice the area vector of face f: cross product of two edges, pointing outward. */
export function faceCross(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, f: number): Vec3 {
  const p = mesh.positions;
  const a = 3 * mesh.faces[3 * f];
  const b = 3 * mesh.faces[3 * f + 1];
  const c = 3 * mesh.faces[3 * f + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

/** Area of each face, mm²; shape faceCount. */
export function faceAreas(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const areas = new Float64Array(mesh.faces.length / 3);
  for (let f = 0; f < areas.length; f++) {
    const [x, y, z] = faceCross(mesh, f);
    areas[f] = Math.hypot(x, y, z) / 2;
  }
  return areas;
}

/** Area of the whole surface, mm². */
export function surfaceArea(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): number {
  return faceAreas(mesh).reduce((sum, area) => sum + area, 0);
}

/** Signed volume enclosed by a closed mesh, mm³; positive when faces look outward. Meaningless for open meshes. */
export function enclosedVolume(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): number {
  const p = mesh.positions;
  let six = 0;
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const a = 3 * mesh.faces[3 * f];
    const [x, y, z] = faceCross(mesh, f);
    six += p[a] * x + p[a + 1] * y + p[a + 2] * z;
  }
  return six / 6;
}

/** Unit normal of each face, outward; zero where the face has no area. Shape 3·faceCount. */
export function faceNormals(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const normals = new Float64Array(mesh.faces.length);
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const [x, y, z] = faceCross(mesh, f);
    const length = Math.hypot(x, y, z);
    if (!(length > 0)) continue;
    normals[3 * f] = x / length;
    normals[3 * f + 1] = y / length;
    normals[3 * f + 2] = z / length;
  }
  return normals;
}

/** Unit normal of each vertex: face area vectors summed around it. Shape 3·vertexCount. */
export function vertexNormals(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): Float64Array {
  const normals = new Float64Array(mesh.positions.length);
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const cross = faceCross(mesh, f);
    for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) normals[3 * mesh.faces[3 * f + i] + k] += cross[k];
  }
  for (let v = 0; v < normals.length; v += 3) {
    const length = Math.hypot(normals[v], normals[v + 1], normals[v + 2]);
    if (length > 0) for (let k = 0; k < 3; k++) normals[v + k] /= length;
  }
  return normals;
}

/** Corners of the axis-parallel box around all positions, mm. */
export function bounds(mesh: Pick<HalfEdgeMesh, 'positions'>): { readonly min: Vec3; readonly max: Vec3 } {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < mesh.positions.length; i++) {
    const k = i % 3;
    const x = mesh.positions[i];
    if (x < min[k]) min[k] = x;
    if (x > max[k]) max[k] = x;
  }
  return { min, max };
}
