/*
 * A signed field sampled on the nodes of a regular grid, kept only in blocks of 4×4×4 nodes near its zero level (a narrow band): a field at 3 mm
 * around a torso has 4 million nodes, of which one in ten is needed. The field must not change faster than `steepest` per mm.
 */
import type { F64, I32, Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';

/** Negative inside, positive outside, zero on the wanted surface; mm. */
export type LevelField = (x: number, y: number, z: number) => number;

export interface DistanceGrid {
  /** Place of node 0 0 0, mm. */
  readonly origin: Vec3;
  /** Distance of nodes, mm. */
  readonly step: number;
  /** Blocks along x, y, z. */
  readonly blocks: readonly [number, number, number];
  /** Block (x·by + y)·bz + z → its place in `values`, or −1 where the surface is far. */
  readonly slot: I32;
  /** Field at the middle of each block. */
  readonly middle: F64;
  /** 64 nodes a slot, z fastest. */
  readonly values: F64;
}

export const blockSize = 4;
const blockNodes = blockSize * blockSize * blockSize;
/** The field may change this much faster than distance does (distances that grow along the body). */
const steepest = 1.25;

/** Samples the band of a field in a box. Cost: one evaluation a block, 64 a block near the surface. */
export async function sampleBand(
  field: LevelField,
  box: { readonly min: Vec3; readonly max: Vec3 },
  step: number,
  run: Run,
): Promise<DistanceGrid> {
  const width = blockSize * step;
  const [bx, by, bz] = [0, 1, 2].map((k) => Math.ceil((box.max[k] - box.min[k]) / width) + 1);
  const slot = new Int32Array(bx * by * bz).fill(-1);
  const middle = new Float64Array(slot.length);
  const near = steepest * (Math.sqrt(3) / 2) * (width + step);
  let used = 0;
  for (let b = 0; b < slot.length; b++) {
    if (b % 1024 === 0) await run.breathe();
    const [x, y, z] = blockPlace(b, by, bz);
    middle[b] = field(box.min[0] + (x + 0.5) * width, box.min[1] + (y + 0.5) * width, box.min[2] + (z + 0.5) * width);
    if (Math.abs(middle[b]) <= near) slot[b] = used++;
  }
  const grid = { origin: box.min, step, blocks: [bx, by, bz] as const, slot, middle, values: new Float64Array(used * blockNodes) };
  const at = (i: number, j: number, k: number): number => field(box.min[0] + i * step, box.min[1] + j * step, box.min[2] + k * step);
  for (let b = 0; b < slot.length; b++) {
    if (slot[b] === -1) continue;
    if (slot[b] % 16 === 0) await run.breathe();
    const [x, y, z] = blockPlace(b, by, bz);
    sampleBlockInto(grid.values, slot[b] * blockNodes, step, (i, j, k) => at(4 * x + i, 4 * y + j, 4 * z + k));
  }
  fillAmbiguities(grid, grid.values);
  return grid;
}

/**
 * Samples a block: first every second node each way; a node beside one whose value is too large for the level to come near takes over that value
 * (its sign is sure, and no crossing uses it), the rest are evaluated.
 */
function sampleBlockInto(values: Float64Array, at: number, step: number, field: LevelField): void {
  const sure = 3 * steepest * Math.sqrt(3) * step;
  for (let n = 0; n < blockNodes; n++) if ((n & 21) === 0) values[at + n] = field(n >> 4, (n >> 2) & 3, n & 3);
  for (let n = 0; n < blockNodes; n++) {
    if ((n & 21) === 0) continue;
    const near = values[at + (n & ~21)];
    values[at + n] = Math.abs(near) > sure ? near : field(n >> 4, (n >> 2) & 3, n & 3);
  }
}

const blockPlace = (b: number, by: number, bz: number): readonly [number, number, number] => [
  Math.floor(b / (by * bz)),
  Math.floor(b / bz) % by,
  b % bz,
];

/** Place of a node in `values`, or −1 where its block is not kept. */
export function nodeIndex(grid: DistanceGrid, i: number, j: number, k: number): number {
  const [, by, bz] = grid.blocks;
  const slot = grid.slot[((i >> 2) * by + (j >> 2)) * bz + (k >> 2)];
  return slot === -1 ? -1 : slot * blockNodes + ((i & 3) << 4) + ((j & 3) << 2) + (k & 3);
}

/** Field at a node; far from the surface that of its block's middle. */
export function nodeValue(grid: DistanceGrid, i: number, j: number, k: number): number {
  const n = nodeIndex(grid, i, j, k);
  if (n !== -1) return grid.values[n];
  const [, by, bz] = grid.blocks;
  return grid.middle[((i >> 2) * by + (j >> 2)) * bz + (k >> 2)];
}

/** Calls `visit` for every node of a kept block whose neighbours at +1 exist. */
export function forEachNode(grid: DistanceGrid, visit: (i: number, j: number, k: number) => void): void {
  const [bx, by, bz] = grid.blocks;
  for (let b = 0; b < grid.slot.length; b++) {
    if (grid.slot[b] === -1) continue;
    const [x, y, z] = blockPlace(b, by, bz);
    for (let n = 0; n < blockNodes; n++) {
      const [i, j, k] = [4 * x + (n >> 4), 4 * y + ((n >> 2) & 3), 4 * z + (n & 3)];
      if (i + 1 < 4 * bx && j + 1 < 4 * by && k + 1 < 4 * bz) visit(i, j, k);
    }
  }
}

/**
 * Makes the inside well composed [latecki1997]: wherever two inside nodes meet only across a square's or a cube's diagonal, outside nodes
 * become inside, until none is left. Then a net with one vertex a cell is a manifold. Moves the level by less than a step, in gaps that
 * are narrower than one.
 */
function fillAmbiguities(grid: DistanceGrid, values: Float64Array): void {
  const toFill = cornersToFill();
  for (let isChanged = true; isChanged;) {
    isChanged = false;
    forEachNode(grid, (i, j, k) => {
      let signs = 0;
      for (let c = 0; c < 8; c++) if (nodeValue(grid, i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2)) < 0) signs |= 1 << c;
      const c = toFill[signs];
      if (c === -1) return;
      const n = nodeIndex(grid, i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2));
      if (n === -1) return;
      values[n] = -0.01 * grid.step;
      isChanged = true;
    });
  }
}

/** For each pattern of inside corners of a cube (bit c: corner x = c₀, y = c₁, z = c₂): an outside corner to fill, or −1 if it is well composed. */
function cornersToFill(): Int8Array {
  const table = new Int8Array(256).fill(-1);
  for (let signs = 0; signs < 256; signs++) {
    const isInside = (c: number): boolean => ((signs >> c) & 1) === 1;
    for (let c = 0; c < 8; c++)
      for (const across of [3, 5, 6]) {
        // c and its opposite in a square; the other two corners of the square differ from c in one of the two bits.
        const [first, second] = [1, 2, 4].filter((bit) => (across & bit) !== 0);
        if (isInside(c) && isInside(c ^ across) && !isInside(c ^ first) && !isInside(c ^ second)) table[signs] = c ^ first;
      }
    if (table[signs] !== -1) continue;
    for (let c = 0; c < 4; c++) {
      const pair = (1 << c) | (1 << (7 - c));
      if (signs === pair) table[signs] = c ^ 1;
      if (signs === (255 ^ pair)) table[signs] = c;
    }
  }
  return table;
}

/** Trilinear value and gradient at a place in the band: value, ∂x, ∂y, ∂z. */
export function interpolateBand(grid: DistanceGrid, x: number, y: number, z: number): readonly [number, number, number, number] {
  const [u, v, w] = [(x - grid.origin[0]) / grid.step, (y - grid.origin[1]) / grid.step, (z - grid.origin[2]) / grid.step];
  const [i, j, k] = [Math.floor(u), Math.floor(v), Math.floor(w)];
  const [a, b, c] = [u - i, v - j, w - k];
  const at = (di: number, dj: number, dk: number): number => nodeValue(grid, i + di, j + dj, k + dk);
  const [v000, v001, v010, v011] = [at(0, 0, 0), at(0, 0, 1), at(0, 1, 0), at(0, 1, 1)];
  const [v100, v101, v110, v111] = [at(1, 0, 0), at(1, 0, 1), at(1, 1, 0), at(1, 1, 1)];
  const low = (1 - b) * ((1 - c) * v000 + c * v001) + b * ((1 - c) * v010 + c * v011);
  const high = (1 - b) * ((1 - c) * v100 + c * v101) + b * ((1 - c) * v110 + c * v111);
  const alongY = (1 - a) * ((1 - c) * (v010 - v000) + c * (v011 - v001)) + a * ((1 - c) * (v110 - v100) + c * (v111 - v101));
  const alongZ = (1 - a) * ((1 - b) * (v001 - v000) + b * (v011 - v010)) + a * ((1 - b) * (v101 - v100) + b * (v111 - v110));
  return [(1 - a) * low + a * high, (high - low) / grid.step, alongY / grid.step, alongZ / grid.step];
}
