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
  const values = new Float64Array(used * blockNodes);
  for (let b = 0; b < slot.length; b++) {
    if (slot[b] === -1) continue;
    if (slot[b] % 16 === 0) await run.breathe();
    const [x, y, z] = blockPlace(b, by, bz);
    for (let n = 0; n < blockNodes; n++)
      values[slot[b] * blockNodes + n] = field(
        box.min[0] + x * width + (n >> 4) * step,
        box.min[1] + y * width + ((n >> 2) & 3) * step,
        box.min[2] + z * width + (n & 3) * step,
      );
  }
  fillAmbiguities({ origin: box.min, step, blocks: [bx, by, bz], slot, middle, values }, values);
  return { origin: box.min, step, blocks: [bx, by, bz], slot, middle, values };
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
  const inside = (i: number, j: number, k: number): boolean => nodeValue(grid, i, j, k) < 0;
  const fill = (i: number, j: number, k: number): void => {
    const n = nodeIndex(grid, i, j, k);
    if (n !== -1) values[n] = -0.01 * grid.step;
  };
  for (let isChanged = true; isChanged;) {
    isChanged = false;
    forEachNode(grid, (i, j, k) => {
      for (let axis = 0; axis < 3; axis++) {
        const [u, v] = [unit((axis + 1) % 3), unit((axis + 2) % 3)];
        const [a, b] = [inside(i, j, k), inside(i + u[0], j + u[1], k + u[2])];
        const c = inside(i + u[0] + v[0], j + u[1] + v[1], k + u[2] + v[2]);
        const d = inside(i + v[0], j + v[1], k + v[2]);
        if (a !== c || b !== d || a === b) continue;
        if (a) fill(i + u[0], j + u[1], k + u[2]);
        else fill(i, j, k);
        isChanged = true;
      }
      for (let corner = 0; corner < 4; corner++) {
        const pair = diagonalPair(inside, i, j, k, corner);
        if (pair === undefined) continue;
        fill(...pair);
        isChanged = true;
      }
    });
  }
}

const unit = (axis: number): readonly [number, number, number] => [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];

/** A node to fill if the cube at i j k is all of one kind but for two nodes across this diagonal. */
function diagonalPair(
  inside: (i: number, j: number, k: number) => boolean,
  i: number,
  j: number,
  k: number,
  corner: number,
): readonly [number, number, number] | undefined {
  const at = (c: number): readonly [number, number, number] => [i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2)];
  const kind = inside(...at(corner));
  if (inside(...at(7 - corner)) !== kind) return undefined;
  for (let c = 0; c < 8; c++) if (c !== corner && c !== 7 - corner && inside(...at(c)) === kind) return undefined;
  return kind ? at(corner ^ 1) : at(corner);
}
