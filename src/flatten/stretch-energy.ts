/*
 * Energies of the form E(z) = Σ A (h(σ₁) + h(σ₂)), with value, gradient and Hessian; faces must not be flipped.
 *   symmetric Dirichlet  h(σ) = σ² + σ⁻² − 2 = (σ − 1/σ)²: the excess over an isometry, so that nearly flat pieces keep all their digits
 *   least worst          h(σ) = e^{s ((σ − 1/σ)² − c)}, one exponential for each singular value (algorithms as measured there reach the
 *                        best ratio; an exponential of the summed energy only rescales)
 * Analytic eigensystem. With α = a e^{iφ}, β = b e^{iθ} (frames of `face-frames`), σ₁ = a + b, σ₂ = a − b:
 *   gradient   A [ (h₁′ + h₂′) ∂a + (h₁′ − h₂′) ∂b ]
 *   Hessian    A [ h₁″ (∂a + ∂b)² + h₂″ (∂a − ∂b)² + (h₁′ + h₂′)/a (a∂φ)² + (h₁′ − h₂′)/b (b∂θ)² ]
 * Only the third (turning) eigenvalue can be negative, where a face is squeezed; setting it to 0 there makes the sum positive
 * semi-definite ("projected"). [smith2019] §4 has the same modes as twist and flip; in complex form no singular vectors are needed.
 */
import type { F64, U32, U8 } from '../base/arrays.ts';
import type { EdgePattern } from '../mesh/cotangent.ts';
import type { BlockPattern } from '../mesh/block-pattern.ts';
import { exp } from '../base/elementary.ts';

/** The function h of the singular values. */
export type Density =
  | { readonly kind: 'symmetric-dirichlet' }
  /**
   * `shift` is c: without it e^{s…} overflows from s = 64 on, and a line search takes ∞ ≤ ∞ for progress. Faces flagged in `plainFaces` keep
   * the symmetric Dirichlet h.
   */
  | { readonly kind: 'exponential'; readonly sharpness: number; readonly shift: number; readonly plainFaces: U8 };

export const symmetricDirichletDensity: Density = { kind: 'symmetric-dirichlet' };

/** Writes h, h′, h″ at σ > 0 on face f into `target`. */
function densityInto(target: Float64Array, density: Density, f: number, sigma: number): void {
  const inverse = 1 / sigma;
  const inverse2 = inverse * inverse;
  const plain = (sigma - inverse) * (sigma - inverse);
  const plain1 = 2 * (sigma - inverse2 * inverse);
  const plain2 = 2 + 6 * inverse2 * inverse2;
  if (density.kind === 'symmetric-dirichlet' || density.plainFaces[f] === 1) {
    target[0] = plain;
    target[1] = plain1;
    target[2] = plain2;
    return;
  }
  const s = density.sharpness;
  const e = exp(s * (plain - density.shift));
  target[0] = e;
  target[1] = s * plain1 * e;
  target[2] = s * (plain2 + s * plain1 * plain1) * e;
}

/**
 * The energy alone; ∞ where a face is flipped or collapsed.
 * @param frames of `faceFrames`, shape 4·faceCount
 * @param plane plane positions, shape 2·n
 */
export function stretchEnergy(faces: U32, frames: F64, plane: F64, density: Density): number {
  const h = new Float64Array(3);
  const isPlain = density.kind === 'symmetric-dirichlet';
  let energy = 0;
  for (let f = 0; f < faces.length / 3; f++) {
    const a = 2 * faces[3 * f];
    const b = 2 * faces[3 * f + 1];
    const c = 2 * faces[3 * f + 2];
    const gr = frames[4 * f];
    const gi = frames[4 * f + 1];
    const k = frames[4 * f + 2];
    const ux = plane[b] - plane[a];
    const uy = plane[b + 1] - plane[a + 1];
    const vx = plane[c] - plane[a];
    const vy = plane[c + 1] - plane[a + 1];
    const determinant = 4 * gr * k * (ux * vy - uy * vx);
    if (!(determinant > 0)) return Infinity;
    const ar = ux * gr - uy * gi + k * vy;
    const ai = ux * gi + uy * gr - k * vx;
    const br = ux * gr + uy * gi - k * vy;
    const bi = uy * gr - ux * gi + k * vx;
    const square = br * br + bi * bi;
    if (isPlain) {
      // (σ₁ − 1/σ₁)² + (σ₂ − 1/σ₂)² by the determinant D and σ₁ − σ₂ = 2|β|: 4|β|² (1 + D⁻²) + 2 (D − 1)²/D, no root and no cancellation.
      const beside = determinant - 1;
      energy += frames[4 * f + 3] * (4 * square * (1 + 1 / (determinant * determinant)) + (2 * beside * beside) / determinant);
      continue;
    }
    const sigma1 = Math.sqrt(ar * ar + ai * ai) + Math.sqrt(square);
    densityInto(h, density, f, sigma1);
    const one = h[0];
    densityInto(h, density, f, determinant / sigma1);
    energy += frames[4 * f + 3] * (one + h[0]);
  }
  return energy;
}

/** Where the Hessian and the gradient go: arrays that the caller owns. */
export interface EnergyTarget {
  /** Values in the order of the block pattern. */
  readonly hessian: Float64Array;
  /** Shape 2·unknowns. */
  readonly gradient: Float64Array;
}

/**
 * Energy, gradient and Hessian of a map without flips.
 * @param target both arrays are overwritten
 * @param isProjected negative turning eigenvalues become 0, so that the Hessian is positive semi-definite
 * @returns the energy
 * Cost: linear; 9 ms at 100,000 faces.
 */
export function assembleEnergyInto(
  target: EnergyTarget,
  system: { readonly faces: U32; readonly frames: F64; readonly pattern: EdgePattern; readonly blocks: BlockPattern },
  plane: F64,
  density: Density,
  isProjected: boolean,
): number {
  const { faces, frames, pattern, blocks } = system;
  const { hessian, gradient } = target;
  const { halfEdgeEntry, columnStart } = pattern;
  const { first, second } = blocks;
  const h = new Float64Array(3);
  hessian.fill(0);
  gradient.fill(0);
  let energy = 0;
  for (let f = 0; f < faces.length / 3; f++) {
    const va = faces[3 * f];
    const vb = faces[3 * f + 1];
    const vc = faces[3 * f + 2];
    const gr = frames[4 * f];
    const gi = frames[4 * f + 1];
    const k = frames[4 * f + 2];
    const area = frames[4 * f + 3];
    const ux = plane[2 * vb] - plane[2 * va];
    const uy = plane[2 * vb + 1] - plane[2 * va + 1];
    const vx = plane[2 * vc] - plane[2 * va];
    const vy = plane[2 * vc + 1] - plane[2 * va + 1];
    const ar = ux * gr - uy * gi + k * vy;
    const ai = ux * gi + uy * gr - k * vx;
    const br = ux * gr + uy * gi - k * vy;
    const bi = uy * gr - ux * gi + k * vx;
    const a = Math.sqrt(ar * ar + ai * ai);
    const b = Math.sqrt(br * br + bi * bi);
    const sigma1 = a + b;
    const sigma2 = (4 * gr * k * (ux * vy - uy * vx)) / sigma1;
    densityInto(h, density, f, sigma1);
    const h1 = h[1];
    const hh1 = h[2];
    energy += area * h[0];
    densityInto(h, density, f, sigma2);
    const h2 = h[1];
    const hh2 = h[2];
    energy += area * h[0];
    // Weights of the four modes.
    const w1 = area * hh1;
    const w2 = area * hh2;
    let w3 = (area * (h1 + h2)) / a;
    if (isProjected && w3 < 0) w3 = 0;
    // (h₁′ − h₂′)/b → 2h″ as b → 0; the quotient loses its digits there.
    const w4 = area * (b > a / 100000 ? (h1 - h2) / b : hh1 + hh2);
    const rr = ar / a;
    const ri = ai / a;
    const tr = b > 0 ? br / b : 1;
    const ti = b > 0 ? bi / b : 0;
    // ∂a of corner j: (Re c, −Im c), a∂φ: (Im c, Re c), c = r̄ g_j; ∂b: (Re e, −Im e), b∂θ: (Im e, Re e), e = t̄ ḡ_j. g_b = g, g_c = −ik.
    const cbr = rr * gr + ri * gi;
    const cbi = rr * gi - ri * gr;
    const ccr = -ri * k;
    const cci = -rr * k;
    const ebr = tr * gr - ti * gi;
    const ebi = -tr * gi - ti * gr;
    const ecr = ti * k;
    const eci = tr * k;
    // Modes of corner b and c: (∂a + ∂b), (∂a − ∂b), a∂φ, b∂θ, as x and y parts.
    const b1x = cbr + ebr;
    const b1y = -cbi - ebi;
    const b2x = cbr - ebr;
    const b2y = ebi - cbi;
    const c1x = ccr + ecr;
    const c1y = -cci - eci;
    const c2x = ccr - ecr;
    const c2y = eci - cci;
    // Gradient: h₁′(∂a + ∂b) + h₂′(∂a − ∂b).
    const gbx = area * (h1 * b1x + h2 * b2x);
    const gby = area * (h1 * b1y + h2 * b2y);
    const gcx = area * (h1 * c1x + h2 * c2x);
    const gcy = area * (h1 * c1y + h2 * c2y);
    const ja = 2 * pattern.vertexUnknown[va];
    const jb = 2 * pattern.vertexUnknown[vb];
    const jc = 2 * pattern.vertexUnknown[vc];
    gradient[ja] -= gbx + gcx;
    gradient[ja + 1] -= gby + gcy;
    gradient[jb] += gbx;
    gradient[jb + 1] += gby;
    gradient[jc] += gcx;
    gradient[jc + 1] += gcy;
    // Blocks bb, cc (symmetric) and bc (row b, column c); those with a follow, rows sum to 0.
    const bbxx = w1 * b1x * b1x + w2 * b2x * b2x + w3 * cbi * cbi + w4 * ebi * ebi;
    const bbxy = w1 * b1x * b1y + w2 * b2x * b2y + w3 * cbi * cbr + w4 * ebi * ebr;
    const bbyy = w1 * b1y * b1y + w2 * b2y * b2y + w3 * cbr * cbr + w4 * ebr * ebr;
    const ccxx = w1 * c1x * c1x + w2 * c2x * c2x + w3 * cci * cci + w4 * eci * eci;
    const ccxy = w1 * c1x * c1y + w2 * c2x * c2y + w3 * cci * ccr + w4 * eci * ecr;
    const ccyy = w1 * c1y * c1y + w2 * c2y * c2y + w3 * ccr * ccr + w4 * ecr * ecr;
    const bcxx = w1 * b1x * c1x + w2 * b2x * c2x + w3 * cbi * cci + w4 * ebi * eci;
    const bcxy = w1 * b1x * c1y + w2 * b2x * c2y + w3 * cbi * ccr + w4 * ebi * ecr;
    const bcyx = w1 * b1y * c1x + w2 * b2y * c2x + w3 * cbr * cci + w4 * ebr * eci;
    const bcyy = w1 * b1y * c1y + w2 * b2y * c2y + w3 * cbr * ccr + w4 * ebr * ecr;
    // ab (row a, column b) = −(bb + cb), ca (row c, column a) = −(cb + cc).
    const abxx = -bbxx - bcxx;
    const abxy = -bbxy - bcyx;
    const abyx = -bbxy - bcxy;
    const abyy = -bbyy - bcyy;
    const caxx = -bcxx - ccxx;
    const caxy = -bcyx - ccxy;
    const cayx = -bcxy - ccxy;
    const cayy = -bcyy - ccyy;
    let q = columnStart[ja >> 1];
    hessian[first[q]] -= abxx + caxx;
    hessian[first[q] + 1] -= abxy + cayx;
    hessian[second[q]] -= abyy + cayy;
    q = columnStart[jb >> 1];
    hessian[first[q]] += bbxx;
    hessian[first[q] + 1] += bbxy;
    hessian[second[q]] += bbyy;
    q = columnStart[jc >> 1];
    hessian[first[q]] += ccxx;
    hessian[first[q] + 1] += ccxy;
    hessian[second[q]] += ccyy;
    // A stored block has the higher vertex as row: transpose where the half-edge starts at the lower one.
    q = halfEdgeEntry[3 * f];
    hessian[first[q]] += abxx;
    hessian[first[q] + 1] += ja > jb ? abyx : abxy;
    hessian[second[q]] += ja > jb ? abxy : abyx;
    hessian[second[q] + 1] += abyy;
    q = halfEdgeEntry[3 * f + 1];
    hessian[first[q]] += bcxx;
    hessian[first[q] + 1] += jb > jc ? bcyx : bcxy;
    hessian[second[q]] += jb > jc ? bcxy : bcyx;
    hessian[second[q] + 1] += bcyy;
    q = halfEdgeEntry[3 * f + 2];
    hessian[first[q]] += caxx;
    hessian[first[q] + 1] += jc > ja ? cayx : caxy;
    hessian[second[q]] += jc > ja ? caxy : cayx;
    hessian[second[q] + 1] += cayy;
  }
  return energy;
}
