/*
 * Dense block kernels in WebAssembly SIMD: the products that a factorisation spends its time on. AssemblyScript; the twins in plain typed
 * arrays are in ../kernel.ts and give the same bits.
 *
 * Blocks are column-major doubles in linear memory. Addresses and strides are bytes. A complex block is two real ones, its imaginary part a
 * fixed distance behind. Rows go by four; where a block's height is not a multiple of four the caller starts higher up, in rows that
 * nobody reads. Every element takes its terms one after another in the order of k, however the blocks are cut: so cutting them differently
 * changes no bit. Multiplication and subtraction round separately: a fused one would give other bits on other machines.
 */

/** c − a·b, rounded twice. */
function less(c: v128, a: v128, b: v128): v128 {
  return f64x2.sub(c, f64x2.mul(a, b));
}

/** c + a·b, rounded twice. */
export function more(c: v128, a: v128, b: v128): v128 {
  return f64x2.add(c, f64x2.mul(a, b));
}

/** C −= A·Bᵀ, four rows by four columns: eight accumulators, two loads of A and four of B a step. */
function subtract4x4(k: i32, a: usize, aStep: usize, b: usize, bStep: usize, c: usize, cStep: usize): void {
  const d = c + cStep;
  const e = d + cStep;
  const f = e + cStep;
  let c0 = v128.load(c);
  let c1 = v128.load(c, 16);
  let d0 = v128.load(d);
  let d1 = v128.load(d, 16);
  let e0 = v128.load(e);
  let e1 = v128.load(e, 16);
  let f0 = v128.load(f);
  let f1 = v128.load(f, 16);
  for (; k > 0; k--) {
    const a0 = v128.load(a);
    const a1 = v128.load(a, 16);
    let x = v128.load64_splat(b);
    c0 = less(c0, a0, x);
    c1 = less(c1, a1, x);
    x = v128.load64_splat(b, 8);
    d0 = less(d0, a0, x);
    d1 = less(d1, a1, x);
    x = v128.load64_splat(b, 16);
    e0 = less(e0, a0, x);
    e1 = less(e1, a1, x);
    x = v128.load64_splat(b, 24);
    f0 = less(f0, a0, x);
    f1 = less(f1, a1, x);
    a += aStep;
    b += bStep;
  }
  v128.store(c, c0);
  v128.store(c, c1, 16);
  v128.store(d, d0);
  v128.store(d, d1, 16);
  v128.store(e, e0);
  v128.store(e, e1, 16);
  v128.store(f, f0);
  v128.store(f, f1, 16);
}

/** C −= A·Bᵀ, four rows by two columns. */
function subtract4x2(k: i32, a: usize, aStep: usize, b: usize, bStep: usize, c: usize, cStep: usize): void {
  const d = c + cStep;
  let c0 = v128.load(c);
  let c1 = v128.load(c, 16);
  let d0 = v128.load(d);
  let d1 = v128.load(d, 16);
  for (; k > 0; k--) {
    const a0 = v128.load(a);
    const a1 = v128.load(a, 16);
    let x = v128.load64_splat(b);
    c0 = less(c0, a0, x);
    c1 = less(c1, a1, x);
    x = v128.load64_splat(b, 8);
    d0 = less(d0, a0, x);
    d1 = less(d1, a1, x);
    a += aStep;
    b += bStep;
  }
  v128.store(c, c0);
  v128.store(c, c1, 16);
  v128.store(d, d0);
  v128.store(d, d1, 16);
}

/** C −= A·Bᵀ, four rows by one column. */
function subtract4x1(k: i32, a: usize, aStep: usize, b: usize, bStep: usize, c: usize): void {
  let c0 = v128.load(c);
  let c1 = v128.load(c, 16);
  for (; k > 0; k--) {
    const x = v128.load64_splat(b);
    c0 = less(c0, v128.load(a), x);
    c1 = less(c1, v128.load(a, 16), x);
    a += aStep;
    b += bStep;
  }
  v128.store(c, c0);
  v128.store(c, c1, 16);
}

/** C −= A·Bᴴ, complex, four rows by two columns. Imaginary parts lie aFar, bFar, cFar behind. */
function subtractComplex4x2(
  k: i32,
  a: usize,
  aStep: usize,
  aFar: usize,
  b: usize,
  bStep: usize,
  bFar: usize,
  c: usize,
  cStep: usize,
  cFar: usize,
): void {
  const d = c + cStep;
  let c0 = v128.load(c);
  let c1 = v128.load(c, 16);
  let d0 = v128.load(d);
  let d1 = v128.load(d, 16);
  let c2 = v128.load(c + cFar);
  let c3 = v128.load(c + cFar, 16);
  let d2 = v128.load(d + cFar);
  let d3 = v128.load(d + cFar, 16);
  let aNext = a + aFar;
  let bNext = b + bFar;
  for (; k > 0; k--) {
    const a0 = v128.load(a);
    const a1 = v128.load(a, 16);
    const a2 = v128.load(aNext);
    const a3 = v128.load(aNext, 16);
    let x = v128.load64_splat(b);
    c0 = less(c0, a0, x);
    c1 = less(c1, a1, x);
    c2 = less(c2, a2, x);
    c3 = less(c3, a3, x);
    x = v128.load64_splat(b, 8);
    d0 = less(d0, a0, x);
    d1 = less(d1, a1, x);
    d2 = less(d2, a2, x);
    d3 = less(d3, a3, x);
    x = v128.load64_splat(bNext);
    c0 = less(c0, a2, x);
    c1 = less(c1, a3, x);
    c2 = more(c2, a0, x);
    c3 = more(c3, a1, x);
    x = v128.load64_splat(bNext, 8);
    d0 = less(d0, a2, x);
    d1 = less(d1, a3, x);
    d2 = more(d2, a0, x);
    d3 = more(d3, a1, x);
    a += aStep;
    aNext += aStep;
    b += bStep;
    bNext += bStep;
  }
  v128.store(c, c0);
  v128.store(c, c1, 16);
  v128.store(d, d0);
  v128.store(d, d1, 16);
  v128.store(c + cFar, c2);
  v128.store(c + cFar, c3, 16);
  v128.store(d + cFar, d2);
  v128.store(d + cFar, d3, 16);
}

/** C −= A·Bᴴ, complex, four rows by one column. */
function subtractComplex4x1(k: i32, a: usize, aStep: usize, aFar: usize, b: usize, bStep: usize, bFar: usize, c: usize, cFar: usize): void {
  let c0 = v128.load(c);
  let c1 = v128.load(c, 16);
  let c2 = v128.load(c + cFar);
  let c3 = v128.load(c + cFar, 16);
  for (; k > 0; k--) {
    const a0 = v128.load(a);
    const a1 = v128.load(a, 16);
    const a2 = v128.load(a + aFar);
    const a3 = v128.load(a + aFar, 16);
    let x = v128.load64_splat(b);
    c0 = less(c0, a0, x);
    c1 = less(c1, a1, x);
    c2 = less(c2, a2, x);
    c3 = less(c3, a3, x);
    x = v128.load64_splat(b + bFar);
    c0 = less(c0, a2, x);
    c1 = less(c1, a3, x);
    c2 = more(c2, a0, x);
    c3 = more(c3, a1, x);
    a += aStep;
    b += bStep;
  }
  v128.store(c, c0);
  v128.store(c, c1, 16);
  v128.store(c + cFar, c2);
  v128.store(c + cFar, c3, 16);
}

// Sizes of the packed pieces: kBlock × mBlock of A stays in the first cache, kBlock × nBlock of B in the second.
const kBlock: i32 = 96;
const mBlock: i32 = 64;
const nBlock: i32 = 192;

/** Bytes that `subtractProduct` and `subtractProductComplex` need at `work`. */
export function workBytes(): i32 {
  return 16 * kBlock * (nBlock + 4 + 2 * mBlock);
}

/** Copies kCount columns of four rows to one run. */
function packFour(source: usize, step: usize, kCount: i32, target: usize): usize {
  for (let k = 0; k < kCount; k++) {
    v128.store(target, v128.load(source));
    v128.store(target, v128.load(source, 16), 16);
    target += 32;
    source += step;
  }
  return target;
}

/** The same for fewer than four rows; the rest of each group of four is left as it is. */
function packFew(source: usize, step: usize, kCount: i32, target: usize, rows: i32): usize {
  for (let k = 0; k < kCount; k++) {
    for (let t = 0; t < rows; t++) store<f64>(target + ((<usize>t) << 3), load<f64>(source + ((<usize>t) << 3)));
    target += 32;
    source += step;
  }
  return target;
}

/**
 * C −= A·Bᵀ with C m × n, A m × k, B n × k; m a multiple of four.
 * @param isLower 1 where row i of C belongs to column i and only i ≥ j is wanted; whatever lies above may change.
 */
export function subtractProduct(
  m: i32,
  n: i32,
  k: i32,
  a: usize,
  aStep: usize,
  b: usize,
  bStep: usize,
  c: usize,
  cStep: usize,
  isLower: i32,
  work: usize,
): void {
  if (k * m <= 3072 || n < 8 || k < 8) {
    tiles(0, m, 0, n, k, a, aStep, b, bStep, c, cStep, isLower);
    return;
  }
  const packedB = work;
  const packedA = work + <usize>(kBlock * (nBlock + 4) * 8);
  for (let k0 = 0; k0 < k; k0 += kBlock) {
    const kCount = min(kBlock, k - k0);
    for (let j0 = 0; j0 < n; j0 += nBlock) {
      const nCount = min(nBlock, n - j0);
      let to = packedB;
      for (let j = 0; j < nCount; j += 4) {
        const from = b + ((<usize>(j0 + j)) << 3) + <usize>k0 * bStep;
        to = nCount - j >= 4 ? packFour(from, bStep, kCount, to) : packFew(from, bStep, kCount, to, nCount - j);
      }
      for (let i0 = isLower ? j0 : 0; i0 < m; i0 += mBlock) {
        const mCount = min(mBlock, m - i0);
        to = packedA;
        for (let i = 0; i < mCount; i += 4) to = packFour(a + ((<usize>(i0 + i)) << 3) + <usize>k0 * aStep, aStep, kCount, to);
        packedTiles(i0, mCount, j0, nCount, kCount, packedA, packedB, c, cStep, isLower);
      }
    }
  }
}

/** The tiles of C −= A·Bᵀ straight from A and B. */
function tiles(
  i0: i32,
  m: i32,
  j0: i32,
  n: i32,
  k: i32,
  a: usize,
  aStep: usize,
  b: usize,
  bStep: usize,
  c: usize,
  cStep: usize,
  isLower: i32,
): void {
  let j = j0;
  for (; j + 4 <= n; j += 4) {
    const bj = b + ((<usize>j) << 3);
    const cj = c + <usize>j * cStep;
    for (let i = isLower ? j : i0; i < m; i += 4) subtract4x4(k, a + ((<usize>i) << 3), aStep, bj, bStep, cj + ((<usize>i) << 3), cStep);
  }
  if (j + 2 <= n) {
    const bj = b + ((<usize>j) << 3);
    const cj = c + <usize>j * cStep;
    for (let i = isLower ? j : i0; i < m; i += 4) subtract4x2(k, a + ((<usize>i) << 3), aStep, bj, bStep, cj + ((<usize>i) << 3), cStep);
    j += 2;
  }
  if (j < n) {
    const bj = b + ((<usize>j) << 3);
    const cj = c + <usize>j * cStep;
    for (let i = isLower ? j & ~3 : i0; i < m; i += 4) subtract4x1(k, a + ((<usize>i) << 3), aStep, bj, bStep, cj + ((<usize>i) << 3));
  }
}

/** The tiles of C −= A·Bᵀ from packed pieces. */
function packedTiles(
  i0: i32,
  mCount: i32,
  j0: i32,
  nCount: i32,
  k: i32,
  packedA: usize,
  packedB: usize,
  c: usize,
  cStep: usize,
  isLower: i32,
): void {
  for (let j = 0; j < nCount; j += 4) {
    const cj = c + <usize>(j0 + j) * cStep + ((<usize>i0) << 3);
    const bj = packedB + ((<usize>(j * k)) << 3);
    const width = nCount - j;
    for (let i = isLower ? max(0, (j0 + j - i0) & ~3) : 0; i < mCount; i += 4) {
      const ai = packedA + ((<usize>(i * k)) << 3);
      const ci = cj + ((<usize>i) << 3);
      if (width >= 4) {
        subtract4x4(k, ai, 32, bj, 32, ci, cStep);
        continue;
      }
      if (width >= 2) subtract4x2(k, ai, 32, bj, 32, ci, cStep);
      if (width & 1) subtract4x1(k, ai, 32, bj + ((<usize>(width - 1)) << 3), 32, ci + <usize>(width - 1) * cStep);
    }
  }
}

/**
 * C −= A·Bᴴ, complex; see `subtractProduct`. Large blocks go through the real tiles with k doubled: Re C −= [Re A, Im A]·[Re B, Im B]ᵀ and
 * Im C −= [Im A, −Re A]·[Re B, Im B]ᵀ, which keeps eight accumulators for each four loads (19 → 26 GF/s).
 */
export function subtractProductComplex(
  m: i32,
  n: i32,
  k: i32,
  a: usize,
  aStep: usize,
  aFar: usize,
  b: usize,
  bStep: usize,
  bFar: usize,
  c: usize,
  cStep: usize,
  cFar: usize,
  isLower: i32,
  work: usize,
): void {
  if (k * m <= 1536 || n < 8 || k < 8) {
    let j = 0;
    for (; j + 2 <= n; j += 2) {
      const bj = b + ((<usize>j) << 3);
      const cj = c + <usize>j * cStep;
      for (let i = isLower ? j & ~3 : 0; i < m; i += 4)
        subtractComplex4x2(k, a + ((<usize>i) << 3), aStep, aFar, bj, bStep, bFar, cj + ((<usize>i) << 3), cStep, cFar);
    }
    if (j < n) {
      const bj = b + ((<usize>j) << 3);
      const cj = c + <usize>j * cStep;
      for (let i = isLower ? j & ~3 : 0; i < m; i += 4)
        subtractComplex4x1(k, a + ((<usize>i) << 3), aStep, aFar, bj, bStep, bFar, cj + ((<usize>i) << 3), cFar);
    }
    return;
  }
  const packedB = work;
  const packedA = work + <usize>(kBlock * (nBlock + 4) * 16);
  const turnedA = packedA + <usize>(kBlock * mBlock * 16);
  for (let k0 = 0; k0 < k; k0 += kBlock) {
    const kCount = min(kBlock, k - k0);
    for (let j0 = 0; j0 < n; j0 += nBlock) {
      const nCount = min(nBlock, n - j0);
      let to = packedB;
      for (let j = 0; j < nCount; j += 4)
        to = packComplex(b + ((<usize>(j0 + j)) << 3) + <usize>k0 * bStep, bStep, bFar, kCount, to, min(4, nCount - j));
      for (let i0 = isLower ? j0 : 0; i0 < m; i0 += mBlock) {
        const mCount = min(mBlock, m - i0);
        packBoth(mCount, kCount, a + ((<usize>i0) << 3) + <usize>k0 * aStep, aStep, aFar, packedA, turnedA);
        packedTiles(i0, mCount, j0, nCount, 2 * kCount, packedA, packedB, c, cStep, isLower);
        packedTiles(i0, mCount, j0, nCount, 2 * kCount, turnedA, packedB, c + cFar, cStep, isLower);
      }
    }
  }
}

/** Packs up to four rows of B, real and imaginary parts by turns. */
function packComplex(source: usize, step: usize, distance: usize, kCount: i32, target: usize, rows: i32): usize {
  for (let k = 0; k < kCount; k++) {
    if (rows === 4) {
      v128.store(target, v128.load(source));
      v128.store(target, v128.load(source, 16), 16);
      v128.store(target, v128.load(source + distance), 32);
      v128.store(target, v128.load(source + distance, 16), 48);
    } else {
      for (let t = 0; t < rows; t++) {
        store<f64>(target + ((<usize>t) << 3), load<f64>(source + ((<usize>t) << 3)));
        store<f64>(target + ((<usize>t) << 3), load<f64>(source + distance + ((<usize>t) << 3)), 32);
      }
    }
    target += 64;
    source += step;
  }
  return target;
}

/** Packs A as (Re, Im) and, turned by −i, as (Im, −Re). */
function packBoth(mCount: i32, kCount: i32, a: usize, aStep: usize, aFar: usize, packed: usize, turned: usize): void {
  for (let i = 0; i < mCount; i += 4) {
    let source = a + ((<usize>i) << 3);
    for (let k = 0; k < kCount; k++) {
      const r0 = v128.load(source);
      const r1 = v128.load(source, 16);
      const i0 = v128.load(source + aFar);
      const i1 = v128.load(source + aFar, 16);
      v128.store(packed, r0);
      v128.store(packed, r1, 16);
      v128.store(packed, i0, 32);
      v128.store(packed, i1, 48);
      v128.store(turned, i0);
      v128.store(turned, i1, 16);
      v128.store(turned, f64x2.neg(r0), 32);
      v128.store(turned, f64x2.neg(r1), 48);
      packed += 64;
      turned += 64;
      source += aStep;
    }
  }
}

/**
 * Columns from … to of a panel, already updated by all columns before `from`: column by column, divide by the root of the pivot and take the
 * products from the columns after it. @returns −1, or the first column whose pivot is not above its floor.
 */
function factorColumns(panel: usize, height: i32, from: i32, to: i32, floors: usize): i32 {
  const step = (<usize>height) << 3;
  for (let j = from; j < to; j++) {
    const column = panel + <usize>j * step;
    const pivot = load<f64>(column + ((<usize>j) << 3));
    if (!(pivot > load<f64>(floors + ((<usize>j) << 3)))) return j;
    const root = sqrt<f64>(pivot);
    const inverse = f64x2.splat(1.0 / root);
    for (let i = height - ((height - j) & ~1); i < height; i += 2) {
      const p = column + ((<usize>i) << 3);
      v128.store(p, f64x2.mul(v128.load(p), inverse));
    }
    store<f64>(column + ((<usize>j) << 3), root);
    for (let k = j + 1; k < to; k++) {
      const x = v128.load64_splat(column + ((<usize>k) << 3));
      const target = panel + <usize>k * step;
      for (let i = height - ((height - k + 1) & ~1); i < height; i += 2) {
        const o = (<usize>i) << 3;
        v128.store(target + o, less(v128.load(target + o), v128.load(column + o), x));
      }
    }
  }
  return -1;
}

/** The same for a complex panel whose imaginary part lies `distance` behind. */
function factorColumnsComplex(panel: usize, distance: usize, height: i32, from: i32, to: i32, floors: usize): i32 {
  const step = (<usize>height) << 3;
  for (let j = from; j < to; j++) {
    const column = panel + <usize>j * step;
    const behind = column + distance;
    const pivot = load<f64>(column + ((<usize>j) << 3));
    if (!(pivot > load<f64>(floors + ((<usize>j) << 3)))) return j;
    const root = sqrt<f64>(pivot);
    const inverse = f64x2.splat(1.0 / root);
    for (let i = height - ((height - j) & ~1); i < height; i += 2) {
      const o = (<usize>i) << 3;
      v128.store(column + o, f64x2.mul(v128.load(column + o), inverse));
      v128.store(behind + o, f64x2.mul(v128.load(behind + o), inverse));
    }
    store<f64>(column + ((<usize>j) << 3), root);
    store<f64>(behind + ((<usize>j) << 3), 0);
    for (let k = j + 1; k < to; k++) {
      const x = v128.load64_splat(column + ((<usize>k) << 3));
      const y = v128.load64_splat(behind + ((<usize>k) << 3));
      const target = panel + <usize>k * step;
      const targetBehind = target + distance;
      for (let i = height - ((height - k + 1) & ~1); i < height; i += 2) {
        const o = (<usize>i) << 3;
        const p = v128.load(column + o);
        const q = v128.load(behind + o);
        v128.store(target + o, less(less(v128.load(target + o), p, x), q, y));
        v128.store(targetBehind + o, more(less(v128.load(targetBehind + o), q, x), p, y));
      }
    }
  }
  return -1;
}

const outerBlock: i32 = 64;
const innerBlock: i32 = 8;

/**
 * Factors the panel of a front: `width` columns of `height` rows, square part on top. Blocks of 64 columns take the products of all columns
 * before them at once, blocks of 8 within them those of their own 64.
 * @param distance of the imaginary part, 0 for a real panel. @param floors pivots must lie above these; shape width.
 * @returns −1, or the column whose pivot is too small.
 */
export function factorPanel(panel: usize, height: i32, width: i32, distance: usize, floors: usize, work: usize): i32 {
  const step = (<usize>height) << 3;
  for (let j0 = 0; j0 < width; j0 += outerBlock) {
    const stop = min(width, j0 + outerBlock);
    for (let j = j0; j < stop; j += innerBlock) {
      const count = min(innerBlock, stop - j);
      // The first inner block takes what lies before the outer block, for all of the outer block.
      const from = j === j0 ? 0 : j0;
      const columns = j === j0 ? stop - j0 : count;
      if (j > from) {
        const i = height - ((height - j + 3) & ~3);
        const a = panel + <usize>from * step + ((<usize>i) << 3);
        const b = panel + <usize>from * step + ((<usize>j) << 3);
        const c = panel + <usize>j * step + ((<usize>i) << 3);
        if (distance)
          subtractProductComplex(height - i, columns, j - from, a, step, distance, b, step, distance, c, step, distance, 0, work);
        else subtractProduct(height - i, columns, j - from, a, step, b, step, c, step, 0, work);
      }
      const fault = distance
        ? factorColumnsComplex(panel, distance, height, j, j + count, floors)
        : factorColumns(panel, height, j, j + count, floors);
      if (fault >= 0) return fault;
    }
  }
  return -1;
}
