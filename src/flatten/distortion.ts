/*
 * What a plane map does to each face: its two singular values, and the energies that sum them up.
 * On a face with local coordinate w = u + iv (its own plane) the map is z = αw + βw̄ + const. Then the larger singular value is
 * σ₁ = |α| + |β|, the determinant σ₁σ₂ = |α|² − |β|² is (plane area)/(surface area) with its sign, and σ₂ carries that sign.
 * We take σ₂ as determinant/σ₁, not |α| − |β|: a nearly collapsed face keeps all its digits.
 */
import type { F64 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';

/** Per face: σ₁ ≥ |σ₂|, σ₂ negative on a flipped face, and the area on the surface. */
export interface FaceDistortion {
  readonly sigma1: F64;
  readonly sigma2: F64;
  /** Area on the surface, squared unit of the mesh. */
  readonly area: F64;
}

/**
 * Singular values of a plane map, face by face.
 * @param mesh surface positions, shape 3·n, and faces
 * @param plane plane positions, same unit, shape 2·n
 * @returns arrays of shape faceCount; a face without area gives σ₁ = σ₂ = 0
 */
export function faceDistortion(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, plane: F64): FaceDistortion {
  const { positions: p, faces } = mesh;
  const total = faces.length / 3;
  const sigma1 = new Float64Array(total);
  const sigma2 = new Float64Array(total);
  const area = new Float64Array(total);
  for (let f = 0; f < total; f++) {
    const va = faces[3 * f];
    const vb = faces[3 * f + 1];
    const vc = faces[3 * f + 2];
    const ux = p[3 * vb] - p[3 * va];
    const uy = p[3 * vb + 1] - p[3 * va + 1];
    const uz = p[3 * vb + 2] - p[3 * va + 2];
    const vx = p[3 * vc] - p[3 * va];
    const vy = p[3 * vc + 1] - p[3 * va + 1];
    const vz = p[3 * vc + 2] - p[3 * va + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    area[f] = twice / 2;
    if (twice === 0) continue;
    // Local frame: u = (l, 0), v = (d, twice/l). Plane edges: U, V. Jacobian columns: U/l and (V − U·d/l)·l/twice.
    const l = Math.sqrt(ux * ux + uy * uy + uz * uz);
    const share = (ux * vx + uy * vy + uz * vz) / (l * l);
    const Ux = plane[2 * vb] - plane[2 * va];
    const Uy = plane[2 * vb + 1] - plane[2 * va + 1];
    const Vx = plane[2 * vc] - plane[2 * va];
    const Vy = plane[2 * vc + 1] - plane[2 * va + 1];
    const j00 = Ux / l;
    const j10 = Uy / l;
    const j01 = ((Vx - share * Ux) * l) / twice;
    const j11 = ((Vy - share * Uy) * l) / twice;
    const ar = j00 + j11;
    const ai = j10 - j01;
    const br = j00 - j11;
    const bi = j10 + j01;
    const first = (Math.sqrt(ar * ar + ai * ai) + Math.sqrt(br * br + bi * bi)) / 2;
    sigma1[f] = first;
    sigma2[f] = first === 0 ? 0 : (Ux * Vy - Uy * Vx) / (twice * first);
  }
  return { sigma1, sigma2, area };
}

/** ½ Σ A (σ₁ − σ₂)², σ₂ signed, squared unit of the mesh. 0 for a conformal map. @source [levy2002] */
export function conformalEnergy(distortion: FaceDistortion): number {
  let energy = 0;
  for (let f = 0; f < distortion.area.length; f++) {
    const difference = distortion.sigma1[f] - distortion.sigma2[f];
    energy += distortion.area[f] * difference * difference;
  }
  return energy / 2;
}

/**
 * Σ A (σ₁² + σ₂² + σ₁⁻² + σ₂⁻²) / Σ A: 4 for an isometry, more for anything else, ∞ where a face is collapsed. Even in σ₂, so a flip
 * does not show in it. @source [smith-schaefer2015] eq. 3
 */
export function symmetricDirichlet(distortion: FaceDistortion): number {
  let energy = 0;
  let total = 0;
  for (let f = 0; f < distortion.area.length; f++) {
    const first = distortion.sigma1[f] * distortion.sigma1[f];
    const second = distortion.sigma2[f] * distortion.sigma2[f];
    energy += distortion.area[f] * (first + second + 1 / first + 1 / second);
    total += distortion.area[f];
  }
  return energy / total;
}

/** Σ A ((σ₁ − 1)² + (σ₂ − 1)²), σ₂ signed, squared unit of the mesh: the as-rigid-as-possible energy. @source [liu2008] eq. 4 */
export function rigidEnergy(distortion: FaceDistortion): number {
  let energy = 0;
  for (let f = 0; f < distortion.area.length; f++) {
    const first = distortion.sigma1[f] - 1;
    const second = distortion.sigma2[f] - 1;
    energy += distortion.area[f] * (first * first + second * second);
  }
  return energy;
}

/** Signed plane area of all faces, Σ A σ₁σ₂, squared unit of the plane. */
export function planeArea(mesh: Pick<HalfEdgeMesh, 'faces'>, plane: F64): number {
  const { faces } = mesh;
  let twice = 0;
  for (let h = 0; h < faces.length; h += 3) {
    const a = 2 * faces[h];
    const b = 2 * faces[h + 1];
    const c = 2 * faces[h + 2];
    twice += (plane[b] - plane[a]) * (plane[c + 1] - plane[a + 1]) - (plane[b + 1] - plane[a + 1]) * (plane[c] - plane[a]);
  }
  return twice / 2;
}
