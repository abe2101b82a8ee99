/*
 * sin, cos, tan, asin, acos, atan, atan2, exp, log, pow, cbrt that give the same bits in every engine: ECMAScript leaves the last bits of
 * Math.sin and its like to the engine, and they differ. Built from + − × ÷ and Math.sqrt, which IEEE 754 rounds one way only.
 * Method: reduce the argument, keep what rounding lost in a second number ("two-part" values hi + lo) [dekker1971], sum a Taylor or atanh
 * series on the short interval that is left, round once at the end. Errors at most 1 ulp (tan 2 ulp) for every finite argument;
 * trigonometric arguments of any size are reduced with as many digits of π as they need.
 */

const bits = new DataView(new ArrayBuffer(8));

/** π and π/2 as hi + lo; the hi parts are the nearest doubles. */
const piLow = 1.2246467991473532e-16;
const halfPi = 1.5707963267948966;
const halfPiLow = 6.123233995736766e-17;
/** π/2 in three parts of 33, 33 and 53 bits, so that k·part is exact for |k| < 2²⁰ [cody-waite1980]. */
const halfPi1 = 1.5707963267341256;
const halfPi2 = 6.077100506303966e-11;
const halfPi3 = 2.0222662487959506e-21;
/** ln 2 in two parts: 40 bits, so that k·part is exact for |k| < 2¹³, and the rest. */
const ln2Head = 0.6931471805592082;
const ln2Tail = 7.371002565167799e-13;
/** atan(k/16) rounded, and what the rounding lost. */
const atanHead: readonly number[] = [
  0, 0.06241880999595735, 0.12435499454676144, 0.18534794999569476, 0.24497866312686414, 0.3028848683749714, 0.35877067027057225,
  0.4124104415973873, 0.4636476090008061, 0.5123894603107377, 0.5585993153435624, 0.6022873461349642, 0.6435011087932844,
  0.6823165548747481, 0.7188299996216245, 0.7531512809621944, 0.7853981633974483,
];
const atanTail: readonly number[] = [
  0, -1.5490756308295046e-18, -3.1253241424539383e-18, 4.180692268843079e-18, 1.0698755618734451e-17, -1.1010827903001369e-17,
  -2.4623815582638635e-17, -1.587652227770689e-17, 2.2698777452961687e-17, -2.5462781472855804e-17, -5.4556305485916264e-18,
  2.950430737228402e-17, 1.5834785051444286e-17, 6.943223671560008e-18, -2.1478388444456983e-17, -2.4256934659182068e-17,
  3.061616997868383e-17,
];

/** What rounding lost in p = a·b: a·b − p, exact unless it under- or overflows [dekker1971]. */
function productError(a: number, b: number, p: number): number {
  const splitA = 134217729 * a;
  const splitB = 134217729 * b;
  const aHead = splitA - (splitA - a);
  const bHead = splitB - (splitB - b);
  const aTail = a - aHead;
  const bTail = b - bHead;
  return aTail * bTail - (p - aHead * bHead - aTail * bHead - aHead * bTail);
}

/** What rounding lost in s = a + b, exact [knuth1969]. */
function sumError(a: number, b: number, s: number): number {
  const bSeen = s - a;
  return a - (s - bSeen) + (b - bSeen);
}

/** 2ᵏ for −1022 ≤ k ≤ 1023. */
function powerOfTwo(k: number): number {
  bits.setUint32(0, (k + 1023) << 20);
  bits.setUint32(4, 0);
  return bits.getFloat64(0);
}

/** x·2ᵏ, rounded once, also where the result is subnormal or overflows. */
function scaleByPowerOfTwo(x: number, k: number): number {
  if (k > 1023) return x * powerOfTwo(1023) * powerOfTwo(Math.min(k - 1023, 1023));
  if (k < -1022) return x * powerOfTwo(Math.max(k + 969, -1022)) * powerOfTwo(-969);
  return x * powerOfTwo(k);
}

/** The power of two k with 2ᵏ ≤ |x| < 2ᵏ⁺¹, for finite x that are not zero. */
function exponentOf(x: number): number {
  bits.setFloat64(0, x);
  const field = (bits.getUint32(0) >>> 20) & 0x7ff;
  if (field > 0) return field - 1023;
  bits.setFloat64(0, x * 18014398509481984);
  return ((bits.getUint32(0) >>> 20) & 0x7ff) - 1077;
}

/* ——— sine, cosine, tangent ——— */

/** atan(1/n)·2ᵇ by its alternating series. */
function inverseAtanFixed(n: bigint, b: bigint): bigint {
  let power = (1n << b) / n;
  let sum = 0n;
  for (let k = 1n; power !== 0n; k += 2n) {
    sum += (k & 2n) === 0n ? power / k : -(power / k);
    power /= n * n;
  }
  return sum;
}

/** x ≥ 2²⁰ minus the nearest multiple of π/2, by whole numbers of 1280 binary places: [quadrant, hi, lo]. Slow, and right for every double. */
function reduceHuge(x: number): readonly [number, number, number] {
  const places = 1280n;
  const halfPiFixed = 2n * (4n * inverseAtanFixed(5n, places) - inverseAtanFixed(239n, places));
  const exponent = exponentOf(x) - 52;
  const fraction = BigInt(x * powerOfTwo(-exponent)) << (places + BigInt(exponent));
  const quotient = (2n * fraction + halfPiFixed) / (2n * halfPiFixed);
  const rest = (fraction - quotient * halfPiFixed) >> (places - 200n);
  const unit = powerOfTwo(-200);
  const head = Number(rest) * unit;
  return [Number(quotient & 3n), head, Number(rest - BigInt(head / unit)) * unit];
}

/** x ≥ 0 minus the nearest multiple of π/2: [quadrant, hi, lo], |hi + lo| ≤ π/4 and a little. */
function reduceAngle(x: number): readonly [number, number, number] {
  if (x <= 0.785) return [0, x, 0];
  if (x >= 1048576) return reduceHuge(x);
  const k = Math.floor(x / halfPi + 0.5);
  const first = x - k * halfPi1;
  const part = k * halfPi2;
  const second = first - part;
  const lost = sumError(first, -part, second) - k * halfPi3;
  const head = second + lost;
  return [k & 3, head, second - head + lost];
}

/** sin(r + tail), |r| ≤ π/4: Taylor to r¹⁷; the first term left out is below 2⁻⁶³ of the sum. */
function sineNear(r: number, tail: number): number {
  const z = r * r;
  const series =
    -1 / 6 +
    z *
      (1 / 120 +
        z *
          (-1 / 5040 +
            z * (1 / 362880 + z * (-1 / 39916800 + z * (1 / 6227020800 + z * (-1 / 1307674368000 + z * (1 / 355687428096000)))))));
  return r + (r * z * series + tail * (1 - 0.5 * z));
}

/** cos(r + tail), |r| ≤ π/4: Taylor to r¹⁶; what rounding loses in 1 − r²/2 is carried along. */
function cosineNear(r: number, tail: number): number {
  const z = r * r;
  const half = 0.5 * z;
  const head = 1 - half;
  const series =
    1 / 24 +
    z * (-1 / 720 + z * (1 / 40320 + z * (-1 / 3628800 + z * (1 / 479001600 + z * (-1 / 87178291200 + z * (1 / 20922789888000))))));
  return head + (1 - head - half - 0.5 * productError(r, r, z) + (z * z * series - r * tail));
}

/** Sine of x in radians. */
export function sin(x: number): number {
  if (!Number.isFinite(x)) return NaN;
  const size = Math.abs(x);
  if (size < 7.450580596923828e-9) return x;
  const [quadrant, head, tail] = reduceAngle(size);
  const value = (quadrant & 1) === 0 ? sineNear(head, tail) : cosineNear(head, tail);
  return quadrant >= 2 !== x < 0 ? -value : value;
}

/** Cosine of x in radians. */
export function cos(x: number): number {
  if (!Number.isFinite(x)) return NaN;
  const [quadrant, head, tail] = reduceAngle(Math.abs(x));
  const value = (quadrant & 1) === 0 ? cosineNear(head, tail) : sineNear(head, tail);
  return quadrant === 1 || quadrant === 2 ? -value : value;
}

/** Tangent of x in radians: sine over cosine, at most 2 ulp. */
export function tan(x: number): number {
  if (!Number.isFinite(x)) return NaN;
  const size = Math.abs(x);
  if (size < 7.450580596923828e-9) return x;
  const [quadrant, head, tail] = reduceAngle(size);
  const sine = sineNear(head, tail);
  const cosine = cosineNear(head, tail);
  const value = (quadrant & 1) === 0 ? sine / cosine : -cosine / sine;
  return x < 0 ? -value : value;
}

/* ——— inverse tangent, sine, cosine ——— */

/**
 * from + sign·(atan(y/x) + extra) for 0 ≤ y ≤ x, x > 0, `from` in two parts. With c = k/16 nearest to y/x: atan(y/x) = atan c + atan t,
 * t = (y − c·x)/(x + c·y), |t| ≤ 1/31; the quotient's own rounding error is found and added, so that only the last addition rounds.
 */
function atanOctant(y: number, x: number, extra: number, from: number, fromTail: number, sign: number): number {
  const k = Math.floor((16 * y) / x + 0.5);
  const c = k / 16;
  const cx = c * x;
  const cy = c * y;
  const above = y - cx;
  const below = x + cy;
  const aboveTail = -productError(c, x, cx);
  const belowTail = sumError(x, cy, below) + productError(c, y, cy);
  const t = above / below;
  const tb = t * below;
  const tail = (above - tb - productError(t, below, tb) + aboveTail - t * belowTail) / below;
  const z = t * t;
  const series = z * (-1 / 3 + z * (1 / 5 + z * (-1 / 7 + z * (1 / 9 + z * (-1 / 11)))));
  const start = from + sign * atanHead[k];
  const startTail = sumError(from, sign * atanHead[k], start) + (fromTail + sign * atanTail[k]);
  const head = start + sign * t;
  return head + (sumError(start, sign * t, head) + (startTail + sign * (tail + t * series + extra)));
}

/** atan2(y, ±x) + extra, minus x where `isLeft`, for y, x ≥ 0, not both zero, neither huge nor subnormal. */
function angleInHalfPlane(y: number, x: number, extra: number, isLeft: boolean): number {
  if (y > x) return atanOctant(x, y, -extra, halfPi, halfPiLow, isLeft ? 1 : -1);
  return isLeft ? atanOctant(y, x, extra, Math.PI, piLow, -1) : atanOctant(y, x, extra, 0, 0, 1);
}

/** Angle of the vector (x, y) from the x axis, −π … π, with the signs of zero and infinity of Math.atan2. */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return NaN;
  const isLeft = x < 0 || Object.is(x, -0);
  const sign = y < 0 || Object.is(y, -0) ? -1 : 1;
  let [ay, ax] = [Math.abs(y), Math.abs(x)];
  if (ay === 0) return isLeft ? sign * Math.PI : y;
  if (ax === Infinity || ay === Infinity) {
    const angle = ax !== Infinity ? halfPi : ay !== Infinity ? 0 : halfPi / 2;
    return sign * (isLeft ? (angle === 0 ? Math.PI : ay === Infinity && ax === Infinity ? 1.5 * halfPi : angle) : angle);
  }
  const shift = -Math.max(exponentOf(ay), ax === 0 ? -1074 : exponentOf(ax));
  [ay, ax] = [scaleByPowerOfTwo(ay, shift), scaleByPowerOfTwo(ax, shift)];
  if (ay < 8.673617379884035e-19 && !isLeft) return y / x;
  if (ay < 1e-200) return sign * Math.PI;
  return sign * (ax < 1e-200 ? halfPi : angleInHalfPlane(ay, ax, 0, isLeft));
}

/** Angle whose tangent is x, −π/2 … π/2. */
export function atan(x: number): number {
  const size = Math.abs(x);
  if (Number.isNaN(x) || size < 7.450580596923828e-9) return x;
  const angle = size > 1e17 ? halfPi : angleInHalfPlane(size, 1, 0, false);
  return x < 0 ? -angle : angle;
}

/** √(1 − x²) for 0 ≤ x ≤ 1 as [hi, lo]. */
function coordinateOnCircle(x: number): readonly [number, number] {
  const a = 1 - x;
  const b = 1 + x;
  const square = a * b;
  const root = Math.sqrt(square);
  if (root === 0) return [0, 0];
  const rootSquare = root * root;
  const squareTail = productError(a, b, square) + a * sumError(1, x, b) + b * sumError(1, -x, a);
  return [root, (square - rootSquare - productError(root, root, rootSquare) + squareTail) / (2 * root)];
}

/** Angle whose sine is x, −π/2 … π/2; NaN outside −1 … 1. */
export function asin(x: number): number {
  const size = Math.abs(x);
  if (!(size <= 1)) return NaN;
  if (size < 7.450580596923828e-9) return x;
  // On the unit circle d atan2(y, c) = −y dc, so the root's lost part enters as −x·lo.
  const [cosine, tail] = coordinateOnCircle(size);
  const angle = angleInHalfPlane(size, cosine, -size * tail, false);
  return x < 0 ? -angle : angle;
}

/** Angle whose cosine is x, 0 … π; NaN outside −1 … 1. */
export function acos(x: number): number {
  const size = Math.abs(x);
  if (!(size <= 1)) return NaN;
  if (size < 6.938893903907228e-18) return halfPi;
  const [sine, tail] = coordinateOnCircle(size);
  if (sine === 0) return x < 0 ? Math.PI : 0;
  return angleInHalfPlane(sine, size, size * tail, x < 0);
}

/* ——— exponential, logarithm, powers ——— */

/** e^(x + tail) for |x| ≤ 750: k = round(x/ln 2), Taylor to the 14th power on |r| ≤ ½ ln 2. */
function expTwoPart(x: number, tail: number): number {
  const k = Math.floor(x / 0.6931471805599453 + 0.5);
  const first = x - k * ln2Head;
  const part = k * ln2Tail;
  const r = first - part;
  const rTail = sumError(first, -part, r) + tail;
  let series = 1 / 87178291200;
  for (let i = 13; i >= 2; i--) series = inverseFactorial[i] + r * series;
  const head = 1 + r;
  const square = r * r * series;
  return scaleByPowerOfTwo(head + (sumError(1, r, head) + (square + rTail * (head + square))), k);
}
const inverseFactorial = Float64Array.of(
  1,
  1,
  1 / 2,
  1 / 6,
  1 / 24,
  1 / 120,
  1 / 720,
  1 / 5040,
  1 / 40320,
  1 / 362880,
  1 / 3628800,
  1 / 39916800,
  1 / 479001600,
  1 / 6227020800,
);

/** e to the power x. */
export function exp(x: number): number {
  if (Number.isNaN(x)) return NaN;
  if (x > 709.79) return Infinity;
  if (x < -745.14) return 0;
  return expTwoPart(x, 0);
}

/**
 * ln x for finite x > 0 as [hi, lo], good to about 2⁻⁶⁵: x = 2ᵏ·m, √½ ≤ m < √2, s = (m − 1)/(m + 1), ln m = 2 (s + s³/3 + s⁵/5 + …);
 * s and the cubic term are carried in two parts.
 */
function logTwoPart(x: number): readonly [number, number] {
  let k = exponentOf(x);
  let m = scaleByPowerOfTwo(k < -1022 ? x * 18014398509481984 : x, k < -1022 ? -k - 54 : -k);
  if (m > 1.4142135623730951) [m, k] = [m / 2, k + 1];
  const above = m - 1;
  const below = m + 1;
  const s = above / below;
  const sb = s * below;
  const sTail = (above - sb - productError(s, below, sb) - s * sumError(m, 1, below)) / below;
  const z = s * s;
  const zTail = productError(s, s, z) + 2 * s * sTail;
  const cube = s * z;
  const cubeTail = productError(s, z, cube) + s * zTail + sTail * z;
  const cubic = cube * (2 / 3);
  const cubicTail = productError(cube, 2 / 3, cubic) + cube * twoThirdsTail + cubeTail * (2 / 3);
  let series = 2 / 23;
  for (let n = 21; n >= 5; n -= 2) series = 2 / n + z * series;
  const first = k * ln2Head + 2 * s;
  const second = first + cubic;
  const lost =
    sumError(k * ln2Head, 2 * s, first) + sumError(first, cubic, second) + (cubicTail + 2 * sTail + k * ln2Tail + cube * z * series);
  const head = second + lost;
  return [head, second - head + lost];
}
/** 2/3 less the double nearest to it: the double is (2⁵⁴ − 1)/(3·2⁵³), so ⅓·2⁻⁵³ is missing. */
const twoThirdsTail = 3.700743415417188e-17;

/** Natural logarithm; −Infinity at 0, NaN below. */
export function log(x: number): number {
  if (x === 0) return -Infinity;
  if (!(x > 0)) return NaN;
  return x === Infinity ? Infinity : logTwoPart(x)[0];
}

/** x to the power y, with the special values of Math.pow. */
export function pow(x: number, y: number): number {
  if (y === 0) return 1;
  if (y === 1 || Number.isNaN(x) || Number.isNaN(y)) return y === 1 ? x : NaN;
  const size = Math.abs(x);
  if (Math.abs(y) === Infinity) return size === 1 ? NaN : size > 1 === y > 0 ? Infinity : 0;
  const isWhole = Math.floor(y) === y;
  const isOdd = isWhole && Math.abs(y % 2) === 1;
  const sign = isOdd && (x < 0 || Object.is(x, -0)) ? -1 : 1;
  if (size === 0 || size === Infinity) return sign * ((size === 0) === y > 0 ? 0 : Infinity);
  if (x < 0 && !isWhole) return NaN;
  if (y === 2) return x * x;
  const [head, tail] = logTwoPart(size);
  const product = y * head;
  if (product > 710) return sign * Infinity;
  if (product < -746) return sign * 0;
  // Where |y| is so large that its split overflows, ln|x|·y was already out of range or ln|x| is 0.
  const productTail = Math.abs(y) > 1e290 ? 0 : productError(y, head, product) + y * tail;
  return sign * expTwoPart(product, productTail);
}

/** Cube root: Halley's iteration on 1 ≤ m < 8, then one step with the residual m − r³ in two parts. */
export function cbrt(x: number): number {
  const size = Math.abs(x);
  if (!(size > 0) || size === Infinity) return x;
  const third = Math.floor(exponentOf(size) / 3);
  const m = scaleByPowerOfTwo(scaleByPowerOfTwo(size, -2 * third), -third);
  let r = 0.7 + m * (0.28 - 0.0145 * m);
  for (let i = 0; i < 3; i++) {
    const cube = r * r * r;
    r *= (cube + 2 * m) / (2 * cube + m);
  }
  const square = r * r;
  const cube = square * r;
  const residual = m - cube - (productError(square, r, cube) + r * productError(r, r, square));
  const root = scaleByPowerOfTwo(r + residual / (3 * square), third);
  return x < 0 ? -root : root;
}
