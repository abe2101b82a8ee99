/*
 * Elementary functions by whole-number arithmetic with 320 binary places, as judge for src/base/elementary.ts: series that the code under
 * test does not use where there is a choice (Euler's for atan, atanh(1/3) for ln 2), no floating point anywhere.
 */
export const places = 320n;
const one = 1n << places;

/** A finite double as fixed-point number; exact down to 2⁻³²⁰. */
export function toFixed(x: number): bigint {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  const raw = view.getBigUint64(0);
  const field = (raw >> 52n) & 0x7ffn;
  const mantissa = (raw & 0xfffffffffffffn) | (field === 0n ? 0n : 1n << 52n);
  const shift = (field === 0n ? 1n : field) - 1075n + places;
  const size = shift >= 0n ? mantissa << shift : mantissa >> -shift;
  return raw >> 63n === 1n ? -size : size;
}

/** |value − exact| in units in the last place of the exact result. */
export function ulpsOff(value: number, exact: bigint): number {
  const difference = toFixed(value) - exact;
  const size = exact < 0n ? -exact : exact;
  const exponent = BigInt(size.toString(2).length) - 1n;
  const unit = exponent >= 52n ? 1n << (exponent - 52n) : 1n;
  return Number(((difference < 0n ? -difference : difference) * 1000000n) / unit) / 1e6;
}

const times = (a: bigint, b: bigint): bigint => (a * b) >> places;
const over = (a: bigint, b: bigint): bigint => (a << places) / b;

export function root(a: bigint): bigint {
  const n = a << places;
  let x = 1n << BigInt(Math.ceil((n.toString(2).length + 1) / 2));
  for (;;) {
    const y = (x + n / x) >> 1n;
    if (y >= x) return x;
    x = y;
  }
}

/** Euler's series: atan x = Σ 2²ⁿ(n!)²/(2n+1)! · x²ⁿ⁺¹/(1+x²)ⁿ⁺¹, for any x; used on |x| ≤ 1. */
export function atanFixed(x: bigint): bigint {
  if (x < 0n) return -atanFixed(-x);
  if (x > one) return piFixed / 2n - atanFixed(over(one, x));
  const square = times(x, x);
  const ratio = over(square, one + square);
  let term = over(x, one + square);
  let sum = 0n;
  for (let n = 1n; term !== 0n; n++) {
    sum += term;
    term = (times(term, ratio) * 2n * n) / (2n * n + 1n);
  }
  return sum;
}

/** Størmer's formula: π/4 = 6 atan(1/8) + 2 atan(1/57) + atan(1/239). */
export const piFixed: bigint = 4n * (6n * atanFixed(one / 8n) + 2n * atanFixed(one / 57n) + atanFixed(one / 239n));

function atanhFixed(x: bigint): bigint {
  const square = times(x, x);
  let power = x;
  let sum = 0n;
  for (let n = 1n; power !== 0n && power !== -1n; n += 2n) {
    sum += power / n;
    power = times(power, square);
  }
  return sum;
}
export const ln2Fixed: bigint = 2n * atanhFixed(one / 3n);

/** Natural logarithm of a positive fixed-point number. */
export function logFixed(x: bigint): bigint {
  const k = BigInt(x.toString(2).length) - 1n - places;
  const m = k >= 0n ? x >> k : x << -k;
  return k * ln2Fixed + 2n * atanhFixed(over(m - one, m + one));
}

/** e to a fixed-point power, as mantissa in [0.7, 1.42) and power of two. */
export function expFixed(x: bigint): { mantissa: bigint; exponent: bigint } {
  const twice = 2n * x + ln2Fixed;
  const quotient = twice / (2n * ln2Fixed);
  const exponent = twice < 0n && twice % (2n * ln2Fixed) !== 0n ? quotient - 1n : quotient;
  const r = x - exponent * ln2Fixed;
  let term = one;
  let mantissa = 0n;
  for (let n = 1n; term !== 0n && term !== -1n; n++) {
    mantissa += term;
    term = times(term, r) / n;
  }
  return { mantissa, exponent };
}

export function sinFixed(x: bigint): bigint {
  const turn = 2n * piFixed;
  let r = x % turn;
  if (r > piFixed) r -= turn;
  if (r < -piFixed) r += turn;
  const square = times(r, r);
  let term = r;
  let sum = 0n;
  for (let n = 2n; term !== 0n && term !== -1n; n += 2n) {
    sum += term;
    term = -times(term, square) / (n * (n + 1n));
  }
  return sum;
}

export const cosFixed = (x: bigint): bigint => sinFixed(x + piFixed / 2n);
export const tanFixed = (x: bigint): bigint => over(sinFixed(x), cosFixed(x));
/** asin by atan of x/√(1 − x²). */
export const asinFixed = (x: bigint): bigint =>
  x === one || x === -one ? (x > 0n ? piFixed / 2n : -piFixed / 2n) : atanFixed(over(x, root(one - times(x, x))));
export const acosFixed = (x: bigint): bigint => piFixed / 2n - asinFixed(x);
export const ratioFixed = over;
