/*
 * Closed-form singular values of 2×2 Jacobians, sign kept: J = U diag(σ₁, σ₂) Vᵀ with U and V proper rotations, σ₁ ≥ |σ₂|, σ₂ < 0 where
 * J turns its face over. Flat arrays, four numbers a face, row by row: (a b; c d) = (∂x/∂s ∂x/∂t; ∂y/∂s ∂y/∂t).
 *
 * J splits into a turn with scale, (σ₁+σ₂)/2 · R(θ−φ) = (E −H; H E), and a mirrored one, (σ₁−σ₂)/2 · R(θ)·diag(1,−1)·R(−φ) = (F G; G −F), with
 * E = (a+d)/2, F = (a−d)/2, G = (b+c)/2, H = (c−b)/2, U = R(θ), V = R(φ). The nearest rotation to J is R(θ−φ). No angle is ever formed: turns
 * are unit complex numbers and the one half angle is a square root.
 */
import type { F64 } from '../base/arrays.ts';

/** Singular values and rotations of many Jacobians. */
export interface SignedSingularValues {
  /** σ₁ ≥ |σ₂|, shape faceCount. */
  readonly first: Float64Array<ArrayBuffer>;
  /** σ₂, negative where the face is turned over; shape faceCount. */
  readonly second: Float64Array<ArrayBuffer>;
  /** cos θ, sin θ of U = R(θ), shape 2·faceCount. */
  readonly left: Float64Array<ArrayBuffer>;
  /** cos φ, sin φ of V = R(φ), shape 2·faceCount. */
  readonly right: Float64Array<ArrayBuffer>;
}

/**
 * Signed singular values and both rotations of each Jacobian.
 * σ₁ = Q + R, σ₂ = det J / σ₁ with Q = √(E²+H²), R = √(F²+G²): the quotient keeps a σ₂ that Q − R would round away.
 * Where J is a multiple of a rotation or a reflection V is not determined and is the unit matrix or half of the free turn.
 * @param jacobians shape 4·faceCount. Precondition: each number nought or of a size whose square is one too.
 */
export function signedSingularValues(jacobians: F64): SignedSingularValues {
  const count = jacobians.length / 4;
  const first = new Float64Array(count);
  const second = new Float64Array(count);
  const left = new Float64Array(2 * count);
  const right = new Float64Array(2 * count);
  for (let f = 0; f < count; f++) {
    const a = jacobians[4 * f];
    const b = jacobians[4 * f + 1];
    const c = jacobians[4 * f + 2];
    const d = jacobians[4 * f + 3];
    const e = (a + d) / 2;
    const h = (c - b) / 2;
    const g = (b + c) / 2;
    const k = (a - d) / 2;
    const turn = Math.sqrt(e * e + h * h);
    const mirror = Math.sqrt(k * k + g * g);
    const sigma = turn + mirror;
    first[f] = sigma;
    second[f] = sigma > 0 ? (a * d - b * c) / sigma : 0;
    // Unit complex numbers of θ − φ and θ + φ.
    const dr = turn > 0 ? e / turn : 1;
    const di = turn > 0 ? h / turn : 0;
    const sr = mirror > 0 ? k / mirror : dr;
    const si = mirror > 0 ? g / mirror : di;
    // e^{2iφ} = e^{i(θ+φ)} · conj e^{i(θ−φ)}; its root with the numerically larger part first.
    const pr = sr * dr + si * di;
    const pi = si * dr - sr * di;
    let vr: number;
    let vi: number;
    if (pr >= 0) {
      vr = Math.sqrt((1 + pr) / 2);
      vi = pi / (2 * vr);
    } else {
      vi = Math.sqrt((1 - pr) / 2);
      vr = pi / (2 * vi);
    }
    right[2 * f] = vr;
    right[2 * f + 1] = vi;
    left[2 * f] = vr * dr - vi * di;
    left[2 * f + 1] = vr * di + vi * dr;
  }
  return { first, second, left, right };
}

/**
 * The rotation nearest to each Jacobian in the Frobenius norm, R(θ−φ) = (E −H; H E)/√(E²+H²); never a reflection.
 * @returns cos, sin a face, shape 2·faceCount; (1, 0) where every rotation is equally near.
 */
export function nearestRotations(jacobians: F64): Float64Array<ArrayBuffer> {
  const count = jacobians.length / 4;
  const rotations = new Float64Array(2 * count);
  for (let f = 0; f < count; f++) {
    const e = jacobians[4 * f] + jacobians[4 * f + 3];
    const h = jacobians[4 * f + 2] - jacobians[4 * f + 1];
    const length = Math.sqrt(e * e + h * h);
    rotations[2 * f] = length > 0 ? e / length : 1;
    rotations[2 * f + 1] = length > 0 ? h / length : 0;
  }
  return rotations;
}
