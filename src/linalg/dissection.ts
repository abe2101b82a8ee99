/*
 * Nested dissection by position: halve a region by a plane, take the smallest vertex separator near it, order both halves before it, go on
 * until regions are small, and order those by minimum degree. Fill and work then grow as n·log n and n^1.5 on surface meshes [george1973].
 *
 * Cutting across the longest axis alone fails on stretched meshes (×100: forty times the work), so the plane is the best of several
 * directions in the two longest axes, judged by how many vertices touch the cut.
 */
import { circleSlack } from '../base/tolerance.ts';
import type { Graph } from './graph.ts';
import { createLeafScratch, maxLeaf, orderLeafInto } from './leaf-order.ts';
import { createCutScratch, cutRegion } from './vertex-cut.ts';
import type { CutScratch } from './vertex-cut.ts';

/** Regions up to this size are ordered by minimum degree. */
const leafSize = 100;
/** Regions above this size try several directions. */
const severalDirections = 400;
/** Directions in the plane of the two longest axes, as shares of each. */
const directions = [1, 0, 0, 1];
/** Points looked at to find axes and medians. */
const sampleSize = 512;

/** Layers a side in which the separator of a region may lie. */
function bandDepth(count: number): number {
  return count > 16000 ? 8 : count > 4000 ? 4 : 2;
}

interface Dissection {
  readonly graph: Graph;
  readonly positions: Float64Array;
  /** Longest edge at each vertex. */
  readonly radius: Float64Array;
  readonly key: Float64Array;
  readonly ids: Int32Array;
  readonly moved: Int32Array;
  readonly cut: CutScratch;
  readonly sample: Float64Array;
  readonly axes: Float64Array;
  regionCount: number;
}

/**
 * Orders the vertices of a graph by nested dissection.
 * @param positions shape 3·vertexCount, numbered as the graph.
 * @returns vertices in order of elimination.
 */
export function* dissect(graph: Graph, positions: Float64Array): Generator<void, Int32Array> {
  const n = graph.vertexCount;
  const work: Dissection = {
    graph,
    positions,
    radius: longestEdges(graph, positions),
    key: new Float64Array(n),
    ids: Int32Array.from({ length: n }, (_, v) => v),
    moved: new Int32Array(n),
    cut: createCutScratch(n),
    sample: new Float64Array(sampleSize + 1),
    axes: new Float64Array(6),
    regionCount: 0,
  };
  const leaf = createLeafScratch(n);
  const pending = [0, n];
  while (pending.length > 0) {
    const high = pending.pop() as number;
    const low = pending.pop() as number;
    const parts = high - low > leafSize ? halve(work, low, high) : undefined;
    if (parts !== undefined) pending.push(low, parts.middle, parts.middle, parts.separator);
    else if (high - low <= maxLeaf) orderLeafInto(work.ids, leaf, graph, low, high);
    if (high - low > 10000) yield;
  }
  return work.ids;
}

function longestEdges(graph: Graph, positions: Float64Array): Float64Array {
  const { vertexCount, start, neighbour } = graph;
  const radius = new Float64Array(vertexCount);
  for (let v = 0; v < vertexCount; v++) {
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    let longest = 0;
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = 3 * neighbour[q];
      const dx = positions[u] - x;
      const dy = positions[u + 1] - y;
      const dz = positions[u + 2] - z;
      const square = dx * dx + dy * dy + dz * dz;
      if (square > longest) longest = square;
    }
    radius[v] = Math.sqrt(longest) * (1 + circleSlack);
  }
  return radius;
}

/** Parts ids[low … high) into near half, far half and separator. @returns where the second and third begin. */
function halve(work: Dissection, low: number, high: number): { middle: number; separator: number } | undefined {
  const { ids, moved, cut } = work;
  const count = high - low;
  const region = ++work.regionCount;
  for (let k = low; k < high; k++) cut.region[ids[k]] = region;
  findAxes(work, low, high);
  let best = 0;
  const isWide = count > severalDirections;
  let least = Infinity;
  for (let d = 0; isWide && d < directions.length; d += 2) {
    const touching = countTouching(work, low, high, region, d);
    if (touching >= least) continue;
    least = touching;
    best = d;
  }
  const threshold = project(work, low, high, best);
  const bank = findBankInto(work, low, high, region, threshold);
  const separatorCount = cutRegion(cut, work.graph, bank, region, bandDepth(count));
  for (let k = 0; k < separatorCount; k++) cut.region[cut.cut[k]] = -1;
  let near = low;
  let far = 0;
  for (let k = low; k < high; k++) {
    const v = ids[k];
    if (cut.region[v] < 0) continue;
    if (cut.side[v] === 0) ids[near++] = v;
    else moved[far++] = v;
  }
  if (near === low || far === 0) return undefined;
  ids.set(moved.subarray(0, far), near);
  ids.set(cut.cut.subarray(0, separatorCount), near + far);
  return { middle: near, separator: near + far };
}

/** How many vertices below the median plane across direction d have a neighbour in the region above it. */
function countTouching(work: Dissection, low: number, high: number, region: number, d: number): number {
  const { ids, positions, radius, axes, graph } = work;
  const { start, neighbour } = graph;
  const regionOf = work.cut.region;
  const x = directions[d] * axes[0] + directions[d + 1] * axes[3];
  const y = directions[d] * axes[1] + directions[d + 1] * axes[4];
  const z = directions[d] * axes[2] + directions[d + 1] * axes[5];
  const threshold = medianAlong(work, low, high, x, y, z);
  let count = 0;
  for (let k = low; k < high; k++) {
    const v = ids[k];
    const gap = threshold - (x * positions[3 * v] + y * positions[3 * v + 1] + z * positions[3 * v + 2]);
    if (gap < 0 || gap > radius[v]) continue;
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = neighbour[q];
      if (regionOf[u] !== region || x * positions[3 * u] + y * positions[3 * u + 1] + z * positions[3 * u + 2] <= threshold) continue;
      count++;
      break;
    }
  }
  return count;
}

/** Projects a region onto direction d. @returns the median of a sample. */
function project(work: Dissection, low: number, high: number, d: number): number {
  const { ids, positions, key, axes } = work;
  const x = directions[d] * axes[0] + directions[d + 1] * axes[3];
  const y = directions[d] * axes[1] + directions[d + 1] * axes[4];
  const z = directions[d] * axes[2] + directions[d + 1] * axes[5];
  for (let k = low; k < high; k++) {
    const v = ids[k];
    key[v] = x * positions[3 * v] + y * positions[3 * v + 1] + z * positions[3 * v + 2];
  }
  return medianAlong(work, low, high, x, y, z);
}

function medianAlong(work: Dissection, low: number, high: number, x: number, y: number, z: number): number {
  const { ids, positions, sample } = work;
  const step = Math.max(1, Math.ceil((high - low) / sampleSize));
  let taken = 0;
  for (let k = low; k < high; k += step) {
    const v = 3 * ids[k];
    sample[taken++] = x * positions[v] + y * positions[v + 1] + z * positions[v + 2];
  }
  return selectInto(sample, taken, (taken - 1) >> 1);
}

/** Puts the first `count` numbers in partial order. @returns the one of the given rank. Cost linear. */
function selectInto(numbers: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = numbers[(low + high) >> 1];
    let i = low;
    let j = high;
    while (i <= j) {
      while (numbers[i] < pivot) i++;
      while (numbers[j] > pivot) j--;
      if (i <= j) {
        const x = numbers[i];
        numbers[i++] = numbers[j];
        numbers[j--] = x;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return numbers[rank];
}

/** Sets the side of each vertex and gathers the near vertices that touch the far side. @returns how many. */
function findBankInto(work: Dissection, low: number, high: number, region: number, threshold: number): number {
  const { ids, key, radius, graph, cut } = work;
  const { start, neighbour } = graph;
  const { side, band, region: regionOf } = cut;
  let count = 0;
  for (let k = low; k < high; k++) {
    const v = ids[k];
    const gap = threshold - key[v];
    side[v] = gap < 0 ? 1 : 0;
    if (gap < 0 || gap > radius[v]) continue;
    for (let q = start[v], stop = start[v + 1]; q < stop; q++) {
      const u = neighbour[q];
      if (regionOf[u] === region && key[u] > threshold) {
        band[count++] = v;
        break;
      }
    }
  }
  return count;
}

/** The two longest axes of a sample of the region, unit length. */
function findAxes(work: Dissection, low: number, high: number): void {
  const { ids, positions, axes } = work;
  const step = Math.max(1, Math.ceil((high - low) / sampleSize));
  let n = 0;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  let xx = 0;
  let yy = 0;
  let zz = 0;
  let xy = 0;
  let xz = 0;
  let yz = 0;
  const o = 3 * ids[low];
  const x0 = positions[o];
  const y0 = positions[o + 1];
  const z0 = positions[o + 2];
  for (let k = low; k < high; k += step) {
    const v = 3 * ids[k];
    const x = positions[v] - x0;
    const y = positions[v + 1] - y0;
    const z = positions[v + 2] - z0;
    sx += x;
    sy += y;
    sz += z;
    xx += x * x;
    yy += y * y;
    zz += z * z;
    xy += x * y;
    xz += x * z;
    yz += y * z;
    n++;
  }
  xx -= (sx * sx) / n;
  yy -= (sy * sy) / n;
  zz -= (sz * sz) / n;
  xy -= (sx * sy) / n;
  xz -= (sx * sz) / n;
  yz -= (sy * sz) / n;
  let ax = 1;
  let ay = 0.7;
  let az = 0.4;
  for (let turn = 0; turn < 10; turn++) {
    const bx = xx * ax + xy * ay + xz * az;
    const by = xy * ax + yy * ay + yz * az;
    const bz = xz * ax + yz * ay + zz * az;
    const length = Math.sqrt(bx * bx + by * by + bz * bz);
    if (!(length > 0)) break;
    ax = bx / length;
    ay = by / length;
    az = bz / length;
  }
  axes[0] = ax;
  axes[1] = ay;
  axes[2] = az;
  let bx = Math.abs(ax) > 0.8 ? 0 : 1;
  let by = 1 - bx;
  let bz = 0.3;
  for (let turn = 0; turn < 10; turn++) {
    let cx = xx * bx + xy * by + xz * bz;
    let cy = xy * bx + yy * by + yz * bz;
    let cz = xz * bx + yz * by + zz * bz;
    const d = cx * ax + cy * ay + cz * az;
    cx -= d * ax;
    cy -= d * ay;
    cz -= d * az;
    const length = Math.sqrt(cx * cx + cy * cy + cz * cz);
    if (!(length > 0)) break;
    bx = cx / length;
    by = cy / length;
    bz = cz / length;
  }
  axes[3] = bx;
  axes[4] = by;
  axes[5] = bz;
}
