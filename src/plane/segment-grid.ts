/*
 * Pairs of segments that may meet: a grid of about one cell an edge, each segment dropped into the cells that its box touches.
 */
import type { F64 } from '../base/arrays.ts';

/**
 * Visits each pair of segments whose boxes, each grown by half of `margin`, meet; once, the lower index first.
 * @param ends x0 y0 x1 y1 a segment, shape 4·count
 * Cost: near linear for segments of like length; never more than about four cells a segment in all.
 */
export function forEachClosePair(ends: F64, margin: number, visit: (e: number, g: number) => void): void {
  const total = ends.length / 4;
  if (total === 0) return;
  const boxes = boxesOf(ends, margin / 2);
  const { cellStart, cellEdge, columns, cellSize, minX, minY } = gridOf(boxes, total);
  for (let cell = 0; cell < cellStart.length - 1; cell++) {
    const cellX = cell % columns;
    const cellY = (cell - cellX) / columns;
    for (let p = cellStart[cell]; p < cellStart[cell + 1]; p++) {
      const e = 4 * cellEdge[p];
      for (let q = p + 1; q < cellStart[cell + 1]; q++) {
        const g = 4 * cellEdge[q];
        const lowX = Math.max(boxes[e], boxes[g]);
        const lowY = Math.max(boxes[e + 1], boxes[g + 1]);
        if (lowX > Math.min(boxes[e + 2], boxes[g + 2]) || lowY > Math.min(boxes[e + 3], boxes[g + 3])) continue;
        // A pair that shares several cells is visited in the one that holds the lower corner of the common box.
        if (Math.floor((lowX - minX) / cellSize) !== cellX || Math.floor((lowY - minY) / cellSize) !== cellY) continue;
        visit(e / 4, g / 4);
      }
    }
  }
}

/** Least x, least y, largest x, largest y of each segment, grown. */
function boxesOf(ends: F64, grow: number): Float64Array {
  const boxes = new Float64Array(ends.length);
  for (let i = 0; i < ends.length; i += 4) {
    boxes[i] = Math.min(ends[i], ends[i + 2]) - grow;
    boxes[i + 1] = Math.min(ends[i + 1], ends[i + 3]) - grow;
    boxes[i + 2] = Math.max(ends[i], ends[i + 2]) + grow;
    boxes[i + 3] = Math.max(ends[i + 1], ends[i + 3]) + grow;
  }
  return boxes;
}

interface Grid {
  readonly cellStart: Uint32Array;
  readonly cellEdge: Uint32Array;
  readonly columns: number;
  readonly cellSize: number;
  readonly minX: number;
  readonly minY: number;
}

function gridOf(boxes: F64, total: number): Grid {
  let [minX, minY, maxX, maxY, length] = [Infinity, Infinity, -Infinity, -Infinity, 0];
  for (let i = 0; i < boxes.length; i += 4) {
    minX = Math.min(minX, boxes[i]);
    minY = Math.min(minY, boxes[i + 1]);
    maxX = Math.max(maxX, boxes[i + 2]);
    maxY = Math.max(maxY, boxes[i + 3]);
    length += Math.max(boxes[i + 2] - boxes[i], boxes[i + 3] - boxes[i + 1]);
  }
  const width = maxX - minX;
  const height = maxY - minY;
  const cellSize = Math.max(length / total, Math.sqrt((width * height) / (4 * total)), width / (4 * total), height / (4 * total)) || 1;
  const columns = Math.floor(width / cellSize) + 1;
  const rows = Math.floor(height / cellSize) + 1;
  const cellStart = new Uint32Array(columns * rows + 1);
  const forEachCell = (e: number, act: (cell: number) => void): void => {
    const fromX = Math.floor((boxes[4 * e] - minX) / cellSize);
    const fromY = Math.floor((boxes[4 * e + 1] - minY) / cellSize);
    const toX = Math.floor((boxes[4 * e + 2] - minX) / cellSize);
    const toY = Math.floor((boxes[4 * e + 3] - minY) / cellSize);
    for (let y = fromY; y <= toY; y++) for (let x = fromX; x <= toX; x++) act(y * columns + x);
  };
  for (let e = 0; e < total; e++) forEachCell(e, (cell) => cellStart[cell + 1]++);
  for (let cell = 0; cell < columns * rows; cell++) cellStart[cell + 1] += cellStart[cell];
  const cellEdge = new Uint32Array(cellStart[columns * rows]);
  const next = cellStart.slice();
  for (let e = 0; e < total; e++) forEachCell(e, (cell) => (cellEdge[next[cell]++] = e));
  return { cellStart, cellEdge, columns, cellSize, minX, minY };
}
