/*
 * The multifrontal walk on plain typed arrays: assembling fronts, factoring them, and the two triangular solves. Twin of
 * wasm/fronts.as.ts, same names and bits.
 *
 * A front is a supernode's columns (its panel, kept as part of L) with the square of its rows below (its update matrix, handed to the parent
 * and then forgotten). Both are assembled from the matrix's own entries and the children's update matrices; the panel is factored; the
 * update matrix takes −L₂L₂ᴴ. A front is real until an imaginary entry enters its subtree.
 * @source [duff1983], [liu1992]
 */
import { addressPlace } from './front-plan.ts';
import { factorPanel, subtractProduct, subtractProductComplex } from './kernel.ts';

/** The three walks over the fronts in one memory. `table` is the address of the table of addresses. */
export interface Kernel {
  /**
   * Assembles and factors fronts from … to.
   * @param entryBase first entry whose value stands in the value buffers. @param pivotShare a pivot must exceed this share of its diagonal entry.
   * @returns −1, or the column whose pivot is too small.
   */
  readonly eliminate: (table: number, from: number, to: number, entryBase: number, pivotShare: number) => number;
  /** L y = b in place, for a complex vector or two real ones. */
  readonly forward: (table: number, count: number) => void;
  /** Lᴴ x = y in place. */
  readonly backward: (table: number, count: number) => void;
}

interface Views {
  readonly f: Float64Array;
  readonly i: Int32Array;
  readonly u: Uint32Array;
  readonly b: Uint8Array;
}

/** The walks in plain typed arrays. */
export function createPlainKernel(buffer: ArrayBuffer): Kernel {
  const views = { f: new Float64Array(buffer), i: new Int32Array(buffer), u: new Uint32Array(buffer), b: new Uint8Array(buffer) };
  return {
    eliminate: (table, from, to, entryBase, pivotShare) => eliminate(views, places(views, table), from, to, entryBase, pivotShare),
    forward: (table, count) => forward(views, places(views, table), count),
    backward: (table, count) => backward(views, places(views, table), count),
  };
}

type Places = Readonly<Record<keyof typeof addressPlace, number>>;

/** Array places instead of addresses: doubles and integers each in their own unit. */
function places(views: Views, table: number): Places {
  const at = (name: keyof typeof addressPlace, bytes: number): number => views.u[table / 4 + addressPlace[name]] / bytes;
  return {
    first: at('first', 4),
    rowStart: at('rowStart', 4),
    rows: at('rows', 4),
    firstChild: at('firstChild', 4),
    sibling: at('sibling', 4),
    isComplex: at('isComplex', 1),
    panelPlace: at('panelPlace', 4),
    updatePlace: at('updatePlace', 4),
    panels: at('panels', 8),
    updates: at('updates', 8),
    entryStart: at('entryStart', 4),
    entryRow: at('entryRow', 4),
    valuesReal: at('valuesReal', 8),
    valuesImaginary: at('valuesImaginary', 8),
    place: at('place', 4),
    relative: at('relative', 4),
    runEnd: at('runEnd', 4),
    floors: at('floors', 8),
    work: at('work', 8),
    xReal: at('xReal', 8),
    xImaginary: at('xImaginary', 8),
    tReal: at('tReal', 8),
    tImaginary: at('tImaginary', 8),
  };
}

function eliminate(views: Views, p: Places, from: number, to: number, entryBase: number, pivotShare: number): number {
  const { f, i: int, u: unsigned, b } = views;
  for (let front = from; front < to; front++) {
    const column = int[p.first + front];
    const width = int[p.first + front + 1] - column;
    const row = int[p.rowStart + front];
    const count = int[p.rowStart + front + 1] - row;
    const side = (count + 3) & ~3;
    const height = width + side;
    const isComplex = b[p.isComplex + front] === 1;
    const panel = p.panels + unsigned[p.panelPlace + front];
    const update = p.updates + unsigned[p.updatePlace + front];
    const panelFar = width * height;
    const updateFar = side * side;
    f.fill(0, panel, panel + (isComplex ? 2 : 1) * panelFar);
    f.fill(0, update, update + (isComplex ? 2 : 1) * updateFar);
    for (let k = 0; k < width; k++) int[p.place + column + k] = k;
    for (let k = 0; k < count; k++) int[p.place + int[p.rows + row + k]] = width + k;
    takeEntries(views, p, column, width, panel, height, isComplex ? panelFar : 0, entryBase, pivotShare);
    for (let child = int[p.firstChild + front]; child >= 0; child = int[p.sibling + child]) {
      takeChild(views, p, child, panel, width, height, panelFar, update, side, updateFar);
    }
    const fault = factorPanel(f, panel, height, width, isComplex ? panelFar : 0, p.floors);
    if (fault >= 0) return column + fault;
    if (count === 0) continue;
    const low = panel + width;
    if (isComplex) {
      subtractProductComplex(f, side, side, width, low, height, panelFar, low, height, panelFar, update, side, updateFar, true);
    } else {
      subtractProduct(f, side, side, width, low, height, low, height, update, side, true);
    }
  }
  return -1;
}

function takeEntries(
  views: Views,
  p: Places,
  column: number,
  width: number,
  panel: number,
  height: number,
  panelFar: number,
  entryBase: number,
  pivotShare: number,
): void {
  const { f, i: int } = views;
  for (let j = 0; j < width; j++) {
    const target = panel + j * height;
    for (let q = int[p.entryStart + column + j], stop = int[p.entryStart + column + j + 1]; q < stop; q++) {
      const o = int[p.place + int[p.entryRow + q]];
      f[target + o] = f[p.valuesReal + q - entryBase];
      if (panelFar > 0) f[target + panelFar + o] = f[p.valuesImaginary + q - entryBase];
    }
    f[p.floors + j] = pivotShare * f[target + j];
  }
}

/** Adds the lower triangle of a child's update matrix to a front. */
function takeChild(
  views: Views,
  p: Places,
  child: number,
  panel: number,
  width: number,
  height: number,
  panelFar: number,
  update: number,
  side: number,
  updateFar: number,
): void {
  const { f, i: int, u: unsigned, b } = views;
  const row = int[p.rowStart + child];
  const count = int[p.rowStart + child + 1] - row;
  const childSide = (count + 3) & ~3;
  const childUpdate = p.updates + unsigned[p.updatePlace + child];
  const childFar = b[p.isComplex + child] === 1 ? childSide * childSide : 0;
  for (let k = 0; k < count; k++) int[p.relative + k] = int[p.place + int[p.rows + row + k]];
  for (let j = 0; j < count; j++) {
    const source = childUpdate + j * childSide;
    const column = int[p.relative + j];
    const isPivot = column < width;
    const target = isPivot ? panel + column * height : update + (column - width) * side - width;
    const far = isPivot ? panelFar : updateFar;
    for (let k = j; k < count; k++) {
      const o = target + int[p.relative + k];
      f[o] += f[source + k];
      if (childFar > 0) f[o + far] += f[source + childFar + k];
    }
  }
}

/** Geometry of a front as the solves need it. */
function frontAt(views: Views, p: Places, front: number) {
  const { i: int, u: unsigned, b } = views;
  const column = int[p.first + front];
  const width = int[p.first + front + 1] - column;
  const row = int[p.rowStart + front];
  const count = int[p.rowStart + front + 1] - row;
  const height = width + ((count + 3) & ~3);
  const panel = p.panels + unsigned[p.panelPlace + front];
  return { column, width, row, count, height, panel, far: b[p.isComplex + front] === 1 ? width * height : 0 };
}

function forward(views: Views, p: Places, frontCount: number): void {
  const { f, i: int } = views;
  for (let front = 0; front < frontCount; front++) {
    const { column, width, row, count, height, panel, far } = frontAt(views, p, front);
    const side = height - width;
    f.fill(0, p.tReal, p.tReal + side);
    f.fill(0, p.tImaginary, p.tImaginary + side);
    const x = p.xReal + column;
    const y = p.xImaginary + column;
    for (let j = 0; j < width; j++) {
      const source = panel + j * height;
      const inverse = 1 / f[source + j];
      const u = (f[x + j] *= inverse);
      const v = (f[y + j] *= inverse);
      for (let i = j + 1; i < width; i++) {
        const l = f[source + i];
        const m = far > 0 ? f[source + far + i] : 0;
        f[x + i] = far > 0 ? f[x + i] - l * u + m * v : f[x + i] - l * u;
        f[y + i] = far > 0 ? f[y + i] - l * v - m * u : f[y + i] - l * v;
      }
      const low = source + width;
      for (let i = 0; i < side; i++) {
        const l = f[low + i];
        const m = far > 0 ? f[low + far + i] : 0;
        f[p.tReal + i] = far > 0 ? f[p.tReal + i] + l * u + m * -v : f[p.tReal + i] + l * u;
        f[p.tImaginary + i] = far > 0 ? f[p.tImaginary + i] + l * v + m * u : f[p.tImaginary + i] + l * v;
      }
    }
    for (let i = 0; i < count; i++) {
      const o = int[p.rows + row + i];
      f[p.xReal + o] -= f[p.tReal + i];
      f[p.xImaginary + o] -= f[p.tImaginary + i];
    }
  }
}

/** Sums below the panel run in two lanes, even rows and odd ones, as the vector unit has them. */
function backward(views: Views, p: Places, frontCount: number): void {
  const { f, i: int } = views;
  const lanes = new Float64Array(4);
  for (let front = frontCount - 1; front >= 0; front--) {
    const { column, width, row, count, height, panel, far } = frontAt(views, p, front);
    const side = height - width;
    for (let i = 0; i < side; i++) {
      const o = i < count ? int[p.rows + row + i] : 0;
      f[p.tReal + i] = i < count ? f[p.xReal + o] : 0;
      f[p.tImaginary + i] = i < count ? f[p.xImaginary + o] : 0;
    }
    const x = p.xReal + column;
    const y = p.xImaginary + column;
    for (let j = width - 1; j >= 0; j--) {
      const source = panel + j * height;
      sumBelow(views, p, source + width, far, side, lanes);
      let u = f[x + j] - (lanes[0] + lanes[1]);
      let v = f[y + j] - (lanes[2] + lanes[3]);
      for (let i = j + 1; i < width; i++) {
        const l = f[source + i];
        const m = far > 0 ? f[source + far + i] : 0;
        u = far > 0 ? u - l * f[x + i] - m * f[y + i] : u - l * f[x + i];
        v = far > 0 ? v - l * f[y + i] + m * f[x + i] : v - l * f[y + i];
      }
      const inverse = 1 / f[source + j];
      f[x + j] = u * inverse;
      f[y + j] = v * inverse;
    }
  }
}

function sumBelow(views: Views, p: Places, low: number, far: number, side: number, lanes: Float64Array): void {
  const { f } = views;
  lanes.fill(0);
  for (let i = 0; i < side; i++) {
    const lane = i & 1;
    const l = f[low + i];
    const s = f[p.tReal + i];
    const t = f[p.tImaginary + i];
    if (far === 0) {
      lanes[lane] += l * s;
      lanes[2 + lane] += l * t;
      continue;
    }
    const m = f[low + far + i];
    lanes[lane] = lanes[lane] + l * s + m * t;
    lanes[2 + lane] = lanes[2 + lane] + l * t - m * s;
  }
}
