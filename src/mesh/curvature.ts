/*
 * Curvature of a triangle mesh where it lives: in the vertices, as angle defects.
 */
import { atan2 } from '../base/elementary.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

/**
 * Angle defect 2π − Σ angles of each inner vertex, turning π − Σ angles of each border vertex, rad; 0 for a vertex without a face.
 * Gauss–Bonnet: their sum is 2π·χ for a mesh whose vertices have one fan of faces each.
 * One arc tangent a vertex: the corners' unit numbers are multiplied, and only the full turns are counted on the way.
 * Shape vertexCount. Cost: linear.
 */
export function angleDefects(mesh: HalfEdgeMesh): Float64Array {
  const { positions: p, faces, twin } = mesh;
  const total = p.length / 3;
  const real = new Float64Array(total).fill(1);
  const imaginary = new Float64Array(total);
  const turns = new Int32Array(total);
  const isBorder = new Uint8Array(total);
  const isUsed = new Uint8Array(total);
  for (let h = 0; h < faces.length; h++) {
    const v = faces[h];
    const b = 3 * faces[h % 3 === 2 ? h - 2 : h + 1];
    const c = 3 * faces[h % 3 === 0 ? h + 2 : h - 1];
    const a = 3 * v;
    isUsed[v] = 1;
    if (twin[h] === -1) {
      isBorder[v] = 1;
      isBorder[b / 3] = 1;
    }
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const cosine = ux * vx + uy * vy + uz * vz;
    const sine = Math.sqrt(nx * nx + ny * ny + nz * nz);
    const size = Math.sqrt(cosine * cosine + sine * sine);
    const x = (real[v] * cosine - imaginary[v] * sine) / size;
    const y = (real[v] * sine + imaginary[v] * cosine) / size;
    // A corner is below π: the sum passes a full turn exactly where the direction crosses from below to above the positive axis.
    if (imaginary[v] < 0 && y >= 0) turns[v]++;
    real[v] = x;
    imaginary[v] = y;
  }
  const defects = new Float64Array(total);
  for (let v = 0; v < total; v++) {
    if (isUsed[v] === 0) continue;
    const angle = atan2(imaginary[v], real[v]);
    const sum = (angle < 0 ? angle + 2 * Math.PI : angle) + 2 * Math.PI * turns[v];
    defects[v] = (isBorder[v] === 1 ? Math.PI : 2 * Math.PI) - sum;
  }
  return defects;
}
