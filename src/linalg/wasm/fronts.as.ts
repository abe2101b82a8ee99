/*
 * The multifrontal walk in WebAssembly: assembling fronts, factoring them, and the two triangular solves. AssemblyScript; the twins in plain
 * typed arrays are in ../plain-kernel.ts and give the same bits. The layout of the memory is that of ../front-plan.ts.
 */
import { factorPanel, more, subtractProduct, subtractProductComplex } from './blocks.as';

// Places in the table of addresses; see ../front-plan.ts.
const FIRST: usize = 0;
const ROW_START: usize = 1;
const ROWS: usize = 2;
const FIRST_CHILD: usize = 3;
const SIBLING: usize = 4;
const IS_COMPLEX: usize = 5;
const PANEL_PLACE: usize = 6;
const UPDATE_PLACE: usize = 7;
const PANELS: usize = 8;
const UPDATES: usize = 9;
const ENTRY_START: usize = 10;
const ENTRY_ROW: usize = 11;
const VALUES_REAL: usize = 12;
const VALUES_IMAGINARY: usize = 13;
const PLACE: usize = 14;
const RELATIVE: usize = 15;
const RUN_END: usize = 16;
const FLOORS: usize = 17;
const WORK: usize = 18;
const X_REAL: usize = 19;
const X_IMAGINARY: usize = 20;
const T_REAL: usize = 21;
const T_IMAGINARY: usize = 22;

function address(table: usize, place: usize): usize {
  return <usize>load<u32>(table + (place << 2));
}

function int(array: usize, k: i32): i32 {
  return load<i32>(array + ((<usize>k) << 2));
}

function unsigned(array: usize, k: i32): usize {
  return <usize>load<u32>(array + ((<usize>k) << 2));
}

function setInt(array: usize, k: i32, value: i32): void {
  store<i32>(array + ((<usize>k) << 2), value);
}

/**
 * Assembles and factors fronts from … to.
 * @param entryBase first entry whose value stands in the value buffers. @param pivotShare a pivot must exceed this share of its diagonal entry.
 * @returns −1, or the column whose pivot is too small.
 */
export function eliminate(table: usize, from: i32, to: i32, entryBase: i32, pivotShare: f64): i32 {
  const first = address(table, FIRST);
  const rowStart = address(table, ROW_START);
  const rows = address(table, ROWS);
  const firstChild = address(table, FIRST_CHILD);
  const sibling = address(table, SIBLING);
  const isComplex = address(table, IS_COMPLEX);
  const panelPlace = address(table, PANEL_PLACE);
  const updatePlace = address(table, UPDATE_PLACE);
  const panels = address(table, PANELS);
  const updates = address(table, UPDATES);
  const place = address(table, PLACE);
  const floors = address(table, FLOORS);
  const work = address(table, WORK);
  for (let f = from; f < to; f++) {
    const column = int(first, f);
    const width = int(first, f + 1) - column;
    const row = int(rowStart, f);
    const count = int(rowStart, f + 1) - row;
    const side = (count + 3) & ~3;
    const height = width + side;
    const complex = <i32>load<u8>(isComplex + <usize>f);
    const panel = panels + (unsigned(panelPlace, f) << 3);
    const update = updates + (unsigned(updatePlace, f) << 3);
    const panelFar = (<usize>width * <usize>height) << 3;
    const updateFar = (<usize>side * <usize>side) << 3;
    memory.fill(panel, 0, panelFar << complex);
    memory.fill(update, 0, updateFar << complex);
    for (let i = 0; i < width; i++) setInt(place, column + i, i);
    for (let i = 0; i < count; i++) setInt(place, int(rows, row + i), width + i);
    takeEntries(table, column, width, panel, height, complex ? panelFar : 0, entryBase, pivotShare);
    for (let c = int(firstChild, f); c >= 0; c = int(sibling, c)) {
      const childRow = int(rowStart, c);
      const childComplex = <i32>load<u8>(isComplex + <usize>c);
      const childUpdate = updates + (unsigned(updatePlace, c) << 3);
      takeChild(
        table,
        childRow,
        int(rowStart, c + 1) - childRow,
        childUpdate,
        childComplex,
        panel,
        width,
        height,
        panelFar,
        update,
        side,
        updateFar,
      );
    }
    const fault = factorPanel(panel, height, width, complex ? panelFar : 0, floors, work);
    if (fault >= 0) return column + fault;
    if (count === 0) continue;
    const low = panel + ((<usize>width) << 3);
    const step = (<usize>height) << 3;
    const updateStep = (<usize>side) << 3;
    if (complex)
      subtractProductComplex(side, side, width, low, step, panelFar, low, step, panelFar, update, updateStep, updateFar, 1, work);
    else subtractProduct(side, side, width, low, step, low, step, update, updateStep, 1, work);
  }
  return -1;
}

/** Puts the matrix's own entries of a front's columns into its panel and notes the floor of each pivot. */
function takeEntries(
  table: usize,
  column: i32,
  width: i32,
  panel: usize,
  height: i32,
  panelFar: usize,
  entryBase: i32,
  pivotShare: f64,
): void {
  const entryStart = address(table, ENTRY_START);
  const entryRow = address(table, ENTRY_ROW);
  const real = address(table, VALUES_REAL);
  const imaginary = address(table, VALUES_IMAGINARY);
  const place = address(table, PLACE);
  const floors = address(table, FLOORS);
  for (let j = 0; j < width; j++) {
    const target = panel + ((<usize>j * <usize>height) << 3);
    const stop = int(entryStart, column + j + 1);
    for (let q = int(entryStart, column + j); q < stop; q++) {
      const o = (<usize>int(place, int(entryRow, q))) << 3;
      const s = (<usize>(q - entryBase)) << 3;
      store<f64>(target + o, load<f64>(real + s));
      if (panelFar) store<f64>(target + panelFar + o, load<f64>(imaginary + s));
    }
    store<f64>(floors + ((<usize>j) << 3), pivotShare * load<f64>(target + ((<usize>j) << 3)));
  }
}

/** Adds the lower triangle of a child's update matrix to a front, by runs of neighbouring rows. */
function takeChild(
  table: usize,
  childRow: i32,
  childCount: i32,
  childUpdate: usize,
  childComplex: i32,
  panel: usize,
  width: i32,
  height: i32,
  panelFar: usize,
  update: usize,
  side: i32,
  updateFar: usize,
): void {
  const rows = address(table, ROWS);
  const place = address(table, PLACE);
  const relative = address(table, RELATIVE);
  const runEnd = address(table, RUN_END);
  for (let i = 0; i < childCount; i++) setInt(relative, i, int(place, int(rows, childRow + i)));
  let stop = childCount;
  for (let i = childCount - 1; i >= 0; i--) {
    if (i + 1 < childCount && int(relative, i + 1) !== int(relative, i) + 1) stop = i + 1;
    setInt(runEnd, i, stop);
  }
  const childSide = (childCount + 3) & ~3;
  const childStep = (<usize>childSide) << 3;
  const childFar = <usize>childSide * childStep;
  for (let j = 0; j < childCount; j++) {
    const source = childUpdate + <usize>j * childStep;
    const column = int(relative, j);
    let target = panel + ((<usize>column * <usize>height) << 3);
    let far = panelFar;
    if (column >= width) {
      target = update + ((<usize>(column - width) * <usize>side) << 3) - ((<usize>width) << 3);
      far = updateFar;
    }
    for (let i = j; i < childCount;) {
      const end = int(runEnd, i);
      const to = target + ((<usize>int(relative, i)) << 3);
      const at = source + ((<usize>i) << 3);
      addRun(to, at, end - i);
      if (childComplex) addRun(to + far, at + childFar, end - i);
      i = end;
    }
  }
}

function addRun(target: usize, source: usize, count: i32): void {
  for (; count >= 2; count -= 2) {
    v128.store(target, f64x2.add(v128.load(target), v128.load(source)));
    target += 16;
    source += 16;
  }
  if (count > 0) store<f64>(target, load<f64>(target) + load<f64>(source));
}

/**
 * Forward substitution L y = b for a complex vector, or two real ones, in place.
 * Each front gathers what its columns take from the rows below and subtracts it at the end.
 */
export function forward(table: usize, count: i32): void {
  const first = address(table, FIRST);
  const rowStart = address(table, ROW_START);
  const rows = address(table, ROWS);
  const isComplex = address(table, IS_COMPLEX);
  const panelPlace = address(table, PANEL_PLACE);
  const panels = address(table, PANELS);
  const xReal = address(table, X_REAL);
  const xImaginary = address(table, X_IMAGINARY);
  const tReal = address(table, T_REAL);
  const tImaginary = address(table, T_IMAGINARY);
  for (let f = 0; f < count; f++) {
    const column = int(first, f);
    const width = int(first, f + 1) - column;
    const row = int(rowStart, f);
    const rowCount = int(rowStart, f + 1) - row;
    const side = (rowCount + 3) & ~3;
    const height = width + side;
    const panel = panels + (unsigned(panelPlace, f) << 3);
    const far = load<u8>(isComplex + <usize>f) ? (<usize>width * <usize>height) << 3 : 0;
    memory.fill(tReal, 0, (<usize>side) << 3);
    memory.fill(tImaginary, 0, (<usize>side) << 3);
    const x = xReal + ((<usize>column) << 3);
    const y = xImaginary + ((<usize>column) << 3);
    for (let j = 0; j < width; j++) {
      const source = panel + ((<usize>j * <usize>height) << 3);
      const o = (<usize>j) << 3;
      const inverse = 1.0 / load<f64>(source + o);
      const u = load<f64>(x + o) * inverse;
      const v = load<f64>(y + o) * inverse;
      store<f64>(x + o, u);
      store<f64>(y + o, v);
      if (far) forwardColumnComplex(source, far, j, width, side, x, y, u, v, tReal, tImaginary);
      else forwardColumn(source, j, width, side, x, y, u, v, tReal, tImaginary);
    }
    for (let i = 0; i < rowCount; i++) {
      const o = (<usize>int(rows, row + i)) << 3;
      const s = (<usize>i) << 3;
      store<f64>(xReal + o, load<f64>(xReal + o) - load<f64>(tReal + s));
      store<f64>(xImaginary + o, load<f64>(xImaginary + o) - load<f64>(tImaginary + s));
    }
  }
}

function forwardColumn(
  source: usize,
  j: i32,
  width: i32,
  side: i32,
  x: usize,
  y: usize,
  u: f64,
  v: f64,
  tReal: usize,
  tImaginary: usize,
): void {
  for (let i = j + 1; i < width; i++) {
    const o = (<usize>i) << 3;
    const l = load<f64>(source + o);
    store<f64>(x + o, load<f64>(x + o) - l * u);
    store<f64>(y + o, load<f64>(y + o) - l * v);
  }
  const low = source + ((<usize>width) << 3);
  const uu = f64x2.splat(u);
  const vv = f64x2.splat(v);
  for (let i = 0; i < side; i += 2) {
    const o = (<usize>i) << 3;
    const l = v128.load(low + o);
    v128.store(tReal + o, more(v128.load(tReal + o), l, uu));
    v128.store(tImaginary + o, more(v128.load(tImaginary + o), l, vv));
  }
}

function forwardColumnComplex(
  source: usize,
  far: usize,
  j: i32,
  width: i32,
  side: i32,
  x: usize,
  y: usize,
  u: f64,
  v: f64,
  tReal: usize,
  tImaginary: usize,
): void {
  for (let i = j + 1; i < width; i++) {
    const o = (<usize>i) << 3;
    const l = load<f64>(source + o);
    const m = load<f64>(source + far + o);
    store<f64>(x + o, load<f64>(x + o) - l * u + m * v);
    store<f64>(y + o, load<f64>(y + o) - l * v - m * u);
  }
  const low = source + ((<usize>width) << 3);
  const uu = f64x2.splat(u);
  const vv = f64x2.splat(v);
  const minus = f64x2.splat(-v);
  for (let i = 0; i < side; i += 2) {
    const o = (<usize>i) << 3;
    const l = v128.load(low + o);
    const m = v128.load(low + far + o);
    v128.store(tReal + o, more(more(v128.load(tReal + o), l, uu), m, minus));
    v128.store(tImaginary + o, more(more(v128.load(tImaginary + o), l, vv), m, uu));
  }
}

/** Backward substitution Lᴴ x = y, in place. Each column's product with the rows below is summed in two lanes, even rows and odd ones. */
export function backward(table: usize, count: i32): void {
  const first = address(table, FIRST);
  const rowStart = address(table, ROW_START);
  const rows = address(table, ROWS);
  const isComplex = address(table, IS_COMPLEX);
  const panelPlace = address(table, PANEL_PLACE);
  const panels = address(table, PANELS);
  const xReal = address(table, X_REAL);
  const xImaginary = address(table, X_IMAGINARY);
  const tReal = address(table, T_REAL);
  const tImaginary = address(table, T_IMAGINARY);
  for (let f = count - 1; f >= 0; f--) {
    const column = int(first, f);
    const width = int(first, f + 1) - column;
    const row = int(rowStart, f);
    const rowCount = int(rowStart, f + 1) - row;
    const side = (rowCount + 3) & ~3;
    const height = width + side;
    const panel = panels + (unsigned(panelPlace, f) << 3);
    const far = load<u8>(isComplex + <usize>f) ? (<usize>width * <usize>height) << 3 : 0;
    for (let i = 0; i < side; i++) {
      const s = (<usize>i) << 3;
      const o = i < rowCount ? (<usize>int(rows, row + i)) << 3 : 0;
      store<f64>(tReal + s, i < rowCount ? load<f64>(xReal + o) : 0);
      store<f64>(tImaginary + s, i < rowCount ? load<f64>(xImaginary + o) : 0);
    }
    const x = xReal + ((<usize>column) << 3);
    const y = xImaginary + ((<usize>column) << 3);
    for (let j = width - 1; j >= 0; j--) {
      const source = panel + ((<usize>j * <usize>height) << 3);
      if (far) backwardColumnComplex(source, far, j, width, side, x, y, tReal, tImaginary);
      else backwardColumn(source, j, width, side, x, y, tReal, tImaginary);
    }
  }
}

function sumOfLanes(v: v128): f64 {
  return f64x2.extract_lane(v, 0) + f64x2.extract_lane(v, 1);
}

function backwardColumn(source: usize, j: i32, width: i32, side: i32, x: usize, y: usize, tReal: usize, tImaginary: usize): void {
  const low = source + ((<usize>width) << 3);
  let uu = f64x2.splat(0);
  let vv = f64x2.splat(0);
  for (let i = 0; i < side; i += 2) {
    const o = (<usize>i) << 3;
    const l = v128.load(low + o);
    uu = more(uu, l, v128.load(tReal + o));
    vv = more(vv, l, v128.load(tImaginary + o));
  }
  const at = (<usize>j) << 3;
  let u = load<f64>(x + at) - sumOfLanes(uu);
  let v = load<f64>(y + at) - sumOfLanes(vv);
  for (let i = j + 1; i < width; i++) {
    const o = (<usize>i) << 3;
    const l = load<f64>(source + o);
    u -= l * load<f64>(x + o);
    v -= l * load<f64>(y + o);
  }
  const inverse = 1.0 / load<f64>(source + at);
  store<f64>(x + at, u * inverse);
  store<f64>(y + at, v * inverse);
}

function backwardColumnComplex(
  source: usize,
  far: usize,
  j: i32,
  width: i32,
  side: i32,
  x: usize,
  y: usize,
  tReal: usize,
  tImaginary: usize,
): void {
  const low = source + ((<usize>width) << 3);
  let uu = f64x2.splat(0);
  let vv = f64x2.splat(0);
  for (let i = 0; i < side; i += 2) {
    const o = (<usize>i) << 3;
    const l = v128.load(low + o);
    const m = v128.load(low + far + o);
    const p = v128.load(tReal + o);
    const q = v128.load(tImaginary + o);
    uu = more(more(uu, l, p), m, q);
    vv = f64x2.sub(more(vv, l, q), f64x2.mul(m, p));
  }
  const at = (<usize>j) << 3;
  let u = load<f64>(x + at) - sumOfLanes(uu);
  let v = load<f64>(y + at) - sumOfLanes(vv);
  for (let i = j + 1; i < width; i++) {
    const o = (<usize>i) << 3;
    const l = load<f64>(source + o);
    const m = load<f64>(source + far + o);
    const p = load<f64>(x + o);
    const q = load<f64>(y + o);
    u = u - l * p - m * q;
    v = v - l * q + m * p;
  }
  const inverse = 1.0 / load<f64>(source + at);
  store<f64>(x + at, u * inverse);
  store<f64>(y + at, v * inverse);
}

export { workBytes } from './blocks.as';
