/*
 * Dense block kernels on plain typed arrays: the fall-back where WebAssembly is not to be had, and the oracle of the kernels in wasm/. Same
 * names, same order of every sum, hence the same bits; a third of the speed.
 *
 * Blocks are column-major in one Float64Array; places and strides count doubles. A complex block is two real ones, its imaginary part a
 * fixed distance behind. Heights are multiples of four.
 */

/**
 * C −= A·Bᵀ with C m × n, A m × k, B n × k; m a multiple of four.
 * @param isLower whether only rows i ≥ j of C are wanted; whatever lies above may change.
 */
export function subtractProduct(
  f: Float64Array,
  m: number,
  n: number,
  k: number,
  a: number,
  aStep: number,
  b: number,
  bStep: number,
  c: number,
  cStep: number,
  isLower: boolean,
): void {
  let j = 0;
  for (; j + 2 <= n; j += 2) {
    for (let i = isLower ? j & ~3 : 0; i < m; i += 4) subtract4x2(f, k, a + i, aStep, b + j, bStep, c + j * cStep + i, cStep);
  }
  if (j < n) for (let i = isLower ? j & ~3 : 0; i < m; i += 4) subtract4x1(f, k, a + i, aStep, b + j, bStep, c + j * cStep + i);
}

function subtract4x2(f: Float64Array, k: number, a: number, aStep: number, b: number, bStep: number, c: number, cStep: number): void {
  const d = c + cStep;
  let c0 = f[c];
  let c1 = f[c + 1];
  let c2 = f[c + 2];
  let c3 = f[c + 3];
  let d0 = f[d];
  let d1 = f[d + 1];
  let d2 = f[d + 2];
  let d3 = f[d + 3];
  for (; k > 0; k--) {
    const a0 = f[a];
    const a1 = f[a + 1];
    const a2 = f[a + 2];
    const a3 = f[a + 3];
    const x = f[b];
    const y = f[b + 1];
    c0 -= a0 * x;
    c1 -= a1 * x;
    c2 -= a2 * x;
    c3 -= a3 * x;
    d0 -= a0 * y;
    d1 -= a1 * y;
    d2 -= a2 * y;
    d3 -= a3 * y;
    a += aStep;
    b += bStep;
  }
  f[c] = c0;
  f[c + 1] = c1;
  f[c + 2] = c2;
  f[c + 3] = c3;
  f[d] = d0;
  f[d + 1] = d1;
  f[d + 2] = d2;
  f[d + 3] = d3;
}

function subtract4x1(f: Float64Array, k: number, a: number, aStep: number, b: number, bStep: number, c: number): void {
  let c0 = f[c];
  let c1 = f[c + 1];
  let c2 = f[c + 2];
  let c3 = f[c + 3];
  for (; k > 0; k--) {
    const x = f[b];
    c0 -= f[a] * x;
    c1 -= f[a + 1] * x;
    c2 -= f[a + 2] * x;
    c3 -= f[a + 3] * x;
    a += aStep;
    b += bStep;
  }
  f[c] = c0;
  f[c + 1] = c1;
  f[c + 2] = c2;
  f[c + 3] = c3;
}

/** C −= A·Bᴴ, complex; imaginary parts lie aFar, bFar, cFar behind. See `subtractProduct`. */
export function subtractProductComplex(
  f: Float64Array,
  m: number,
  n: number,
  k: number,
  a: number,
  aStep: number,
  aFar: number,
  b: number,
  bStep: number,
  bFar: number,
  c: number,
  cStep: number,
  cFar: number,
  isLower: boolean,
): void {
  for (let j = 0; j < n; j++) {
    for (let i = isLower ? j & ~1 : 0; i < m; i += 2) {
      subtractComplex2x1(f, k, a + i, aStep, aFar, b + j, bStep, bFar, c + j * cStep + i, cFar);
    }
  }
}

function subtractComplex2x1(
  f: Float64Array,
  k: number,
  a: number,
  aStep: number,
  aFar: number,
  b: number,
  bStep: number,
  bFar: number,
  c: number,
  cFar: number,
): void {
  let r0 = f[c];
  let r1 = f[c + 1];
  let i0 = f[c + cFar];
  let i1 = f[c + cFar + 1];
  for (; k > 0; k--) {
    const p0 = f[a];
    const p1 = f[a + 1];
    const q0 = f[a + aFar];
    const q1 = f[a + aFar + 1];
    const x = f[b];
    const y = f[b + bFar];
    r0 = r0 - p0 * x - q0 * y;
    r1 = r1 - p1 * x - q1 * y;
    i0 = i0 - q0 * x + p0 * y;
    i1 = i1 - q1 * x + p1 * y;
    a += aStep;
    b += bStep;
  }
  f[c] = r0;
  f[c + 1] = r1;
  f[c + cFar] = i0;
  f[c + cFar + 1] = i1;
}

/** Columns from … to of a panel, updated by all columns before `from`. @returns −1, or the first column whose pivot is not above its floor. */
function factorColumns(f: Float64Array, panel: number, height: number, from: number, to: number, floors: number): number {
  for (let j = from; j < to; j++) {
    const column = panel + j * height;
    const pivot = f[column + j];
    if (!(pivot > f[floors + j])) return j;
    const root = Math.sqrt(pivot);
    const inverse = 1 / root;
    f[column + j] = root;
    for (let i = j + 1; i < height; i++) f[column + i] *= inverse;
    for (let k = j + 1; k < to; k++) {
      const x = f[column + k];
      const target = panel + k * height;
      for (let i = k; i < height; i++) f[target + i] -= f[column + i] * x;
    }
  }
  return -1;
}

/** The same for a complex panel whose imaginary part lies `far` behind. */
function factorColumnsComplex(
  f: Float64Array,
  panel: number,
  far: number,
  height: number,
  from: number,
  to: number,
  floors: number,
): number {
  for (let j = from; j < to; j++) {
    const column = panel + j * height;
    const behind = column + far;
    const pivot = f[column + j];
    if (!(pivot > f[floors + j])) return j;
    const root = Math.sqrt(pivot);
    const inverse = 1 / root;
    f[column + j] = root;
    f[behind + j] = 0;
    for (let i = j + 1; i < height; i++) {
      f[column + i] *= inverse;
      f[behind + i] *= inverse;
    }
    for (let k = j + 1; k < to; k++) {
      const x = f[column + k];
      const y = f[behind + k];
      const target = panel + k * height;
      for (let i = k; i < height; i++) {
        const p = f[column + i];
        const q = f[behind + i];
        f[target + i] = f[target + i] - p * x - q * y;
        f[target + far + i] = f[target + far + i] - q * x + p * y;
      }
    }
  }
  return -1;
}

const block = 8;

/**
 * Factors the panel of a front: `width` columns of `height` rows, square part on top.
 * @param far distance of the imaginary part, 0 for a real panel. @param floors pivots must lie above these; shape width.
 * @returns −1, or the column whose pivot is too small.
 */
export function factorPanel(f: Float64Array, panel: number, height: number, width: number, far: number, floors: number): number {
  for (let j = 0; j < width; j += block) {
    const count = Math.min(block, width - j);
    if (j > 0) {
      const i = height - ((height - j + 3) & ~3);
      const c = panel + j * height + i;
      if (far > 0) {
        subtractProductComplex(f, height - i, count, j, panel + i, height, far, panel + j, height, far, c, height, far, false);
      } else {
        subtractProduct(f, height - i, count, j, panel + i, height, panel + j, height, c, height, false);
      }
    }
    const fault =
      far > 0 ? factorColumnsComplex(f, panel, far, height, j, j + count, floors) : factorColumns(f, panel, height, j, j + count, floors);
    if (fault >= 0) return fault;
  }
  return -1;
}
