/*
 * The second route for spherical caps: maps ρ(θ) of azimuthal symmetry, σ_r = ρ′, σ_t = ρ / sin θ, energy ∫ e(σ_r) + e(σ_t) sin θ dθ minimised
 * over piecewise linear ρ by Newton's method with a tridiagonal system. Independent of meshes, frames and the sparse solver.
 */

/** An energy density of one singular value with its first two derivatives. */
export type RadialDensity = (sigma: number) => readonly [number, number, number];

export const dirichletDensity: RadialDensity = (s) => [s * s + 1 / (s * s), 2 * s - 2 / s ** 3, 2 + 6 / s ** 4];
export const rigidDensity: RadialDensity = (s) => [(s - 1) ** 2, 2 * (s - 1), 2];

export interface RadialMap {
  /** Mean energy over the cap's area. */
  readonly energy: number;
  readonly least: number;
  readonly largest: number;
  readonly rim: number;
}

/**
 * The best map of a cap of half-angle α of the unit sphere.
 * @param rim radius of the rim in the plane; left out, it is free
 */
export function bestRadialMap(halfAngle: number, density: RadialDensity, rim?: number, intervals = 2000): RadialMap {
  const step = halfAngle / intervals;
  const rho = Float64Array.from({ length: intervals + 1 }, (_, i) => (rim === undefined ? i * step : (rim * i) / intervals));
  const free = rim === undefined ? intervals : intervals - 1;
  const evaluate = (): { energy: number; gradient: Float64Array; diagonal: Float64Array; above: Float64Array } => {
    const gradient = new Float64Array(intervals + 1);
    const diagonal = new Float64Array(intervals + 1);
    const above = new Float64Array(intervals + 1);
    let energy = 0;
    for (let i = 0; i < intervals; i++) {
      const middle = (i + 0.5) * step;
      const weight = Math.sin(middle) * step;
      const [e1, d1, h1] = density((rho[i + 1] - rho[i]) / step);
      const [e2, d2, h2] = density((rho[i] + rho[i + 1]) / 2 / Math.sin(middle));
      energy += weight * (e1 + e2);
      const [p, q] = [1 / step, 0.5 / Math.sin(middle)];
      gradient[i] += weight * (-p * d1 + q * d2);
      gradient[i + 1] += weight * (p * d1 + q * d2);
      diagonal[i] += weight * (p * p * h1 + q * q * h2);
      diagonal[i + 1] += weight * (p * p * h1 + q * q * h2);
      above[i] += weight * (-p * p * h1 + q * q * h2);
    }
    return { energy, gradient, diagonal, above };
  };
  for (let iteration = 0; iteration < 60; iteration++) {
    const { gradient, diagonal, above } = evaluate();
    const direction = solveTridiagonal(diagonal, above, gradient, free);
    let length = 1;
    const before = evaluate().energy;
    const kept = Float64Array.from(rho);
    for (;;) {
      for (let i = 1; i <= free; i++) rho[i] = kept[i] - length * direction[i];
      const isIncreasing = rho.every((value, i) => i === 0 || value > rho[i - 1]);
      if (isIncreasing && evaluate().energy <= before) break;
      length /= 2;
      if (length < 1e-12) {
        rho.set(kept);
        break;
      }
    }
    if (Math.max(...direction.map(Math.abs)) < 1e-13) break;
  }
  let [least, largest] = [Infinity, 0];
  for (let i = 0; i < intervals; i++) {
    for (const sigma of [(rho[i + 1] - rho[i]) / step, (rho[i] + rho[i + 1]) / 2 / Math.sin((i + 0.5) * step)]) {
      least = Math.min(least, sigma);
      largest = Math.max(largest, sigma);
    }
  }
  return { energy: evaluate().energy / (1 - Math.cos(halfAngle)), least, largest, rim: rho[intervals] };
}

/** Solves the symmetric tridiagonal system for unknowns 1 … last. */
function solveTridiagonal(diagonal: Float64Array, above: Float64Array, right: Float64Array, last: number): Float64Array {
  const d = Float64Array.from(diagonal);
  const x = Float64Array.from(right);
  for (let i = 2; i <= last; i++) {
    const factor = above[i - 1] / d[i - 1];
    d[i] -= factor * above[i - 1];
    x[i] -= factor * x[i - 1];
  }
  for (let i = last; i >= 1; i--) x[i] = (x[i] - (i < last ? above[i] * x[i + 1] : 0)) / d[i];
  x[0] = 0;
  for (let i = last + 1; i < x.length; i++) x[i] = 0;
  return x;
}
