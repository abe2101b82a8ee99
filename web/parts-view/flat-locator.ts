/*
 * Which face of a flat part lies under a point: a grid of cells over the plane, each with the faces whose box meets it.
 */
import type { F64, U32 } from '../../src/base/arrays.ts';

export interface FlatHit {
  readonly face: number;
  readonly weights: readonly [number, number, number];
}

export interface FlatLocator {
  /** The face at a point in the plane, mm. */
  readonly at: (x: number, y: number) => FlatHit | undefined;
}

/** Cost: linear in faces to build; a query looks at the few faces of one cell. */
export function createFlatLocator(positions: F64, faces: U32): FlatLocator {
  const total = faces.length / 3;
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 2) {
    minX = Math.min(minX, positions[i]);
    maxX = Math.max(maxX, positions[i]);
    minY = Math.min(minY, positions[i + 1]);
    maxY = Math.max(maxY, positions[i + 1]);
  }
  const across = Math.max(1, Math.ceil(Math.sqrt(total / 2)));
  const cellX = (maxX - minX) / across || 1;
  const cellY = (maxY - minY) / across || 1;
  const column = (x: number): number => Math.min(across - 1, Math.max(0, Math.floor((x - minX) / cellX)));
  const row = (y: number): number => Math.min(across - 1, Math.max(0, Math.floor((y - minY) / cellY)));
  const cells: number[][] = Array.from({ length: across * across }, () => []);
  for (let f = 0; f < total; f++) {
    const xs = [0, 1, 2].map((i) => positions[2 * faces[3 * f + i]]);
    const ys = [0, 1, 2].map((i) => positions[2 * faces[3 * f + i] + 1]);
    for (let r = row(Math.min(...ys)); r <= row(Math.max(...ys)); r++)
      for (let c = column(Math.min(...xs)); c <= column(Math.max(...xs)); c++) cells[r * across + c].push(f);
  }
  return {
    at: (x, y) => {
      if (x < minX || x > maxX || y < minY || y > maxY) return undefined;
      for (const face of cells[row(y) * across + column(x)]) {
        const weights = weightsIn(positions, faces, face, x, y);
        if (weights) return { face, weights };
      }
      return undefined;
    },
  };
}

function weightsIn(p: F64, faces: U32, face: number, x: number, y: number): readonly [number, number, number] | undefined {
  const [a, b, c] = [2 * faces[3 * face], 2 * faces[3 * face + 1], 2 * faces[3 * face + 2]];
  const area = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[c] - p[a]) * (p[b + 1] - p[a + 1]);
  if (area === 0) return undefined;
  const second = ((x - p[a]) * (p[c + 1] - p[a + 1]) - (p[c] - p[a]) * (y - p[a + 1])) / area;
  const third = ((p[b] - p[a]) * (y - p[a + 1]) - (x - p[a]) * (p[b + 1] - p[a + 1])) / area;
  const first = 1 - second - third;
  return first >= 0 && second >= 0 && third >= 0 ? [first, second, third] : undefined;
}
