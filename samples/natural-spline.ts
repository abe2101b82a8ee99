/*
 * The natural cubic spline through points: second derivatives by the tridiagonal system, zero at both ends; straight on outside.
 */

/** A twice differentiable function with f(x[i]) = y[i]. @param x rising, at least two */
export function naturalSpline(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = x.length;
  const diagonal = new Float64Array(n).fill(1);
  const right = new Float64Array(n);
  const upper = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const [left, step] = [x[i] - x[i - 1], x[i + 1] - x[i]];
    diagonal[i] = 2 * (left + step) - left * upper[i - 1];
    upper[i] = step / diagonal[i];
    right[i] = (6 * ((y[i + 1] - y[i]) / step - (y[i] - y[i - 1]) / left) - left * right[i - 1]) / diagonal[i];
  }
  const second = new Float64Array(n);
  for (let i = n - 2; i > 0; i--) second[i] = right[i] - upper[i] * second[i + 1];
  const inside = (at: number): number => {
    let i = 0;
    while (i < n - 2 && at > x[i + 1]) i++;
    const h = x[i + 1] - x[i];
    const [a, b] = [(x[i + 1] - at) / h, (at - x[i]) / h];
    return a * y[i] + b * y[i + 1] + (((a * a - 1) * a * second[i] + (b * b - 1) * b * second[i + 1]) * h * h) / 6;
  };
  const end = n - 1;
  const first = x[1] - x[0];
  const last = x[end] - x[end - 1];
  const slopeFirst = (y[1] - y[0]) / first - (first * second[1]) / 6;
  const slopeLast = (y[end] - y[end - 1]) / last + (last * second[end - 1]) / 6;
  return (at) => (at < x[0] ? y[0] + (at - x[0]) * slopeFirst : at > x[end] ? y[end] + (at - x[end]) * slopeLast : inside(at));
}
