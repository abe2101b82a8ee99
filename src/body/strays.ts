/*
 * Components by size, and which of them are strays: crumbs of a scan that are small in area and in extent beside the largest component.
 */
import { faceComponents } from '../mesh/components.ts';
import { buildMesh } from '../mesh/build.ts';
import { faceAreas } from '../mesh/measure.ts';
import type { Triangles } from './triangles.ts';

export interface ComponentSize {
  readonly faces: number;
  readonly areaMm2: number;
  /** Diagonal of the box around it, mm. */
  readonly diagonalMm: number;
}

/** A component below both shares of the largest one is a stray. */
export const strayShare = { area: 0.01, diagonal: 0.1 } as const;

/** Labels faces by component and gives each one's size. The triangles must be oriented and manifold. */
export function measureComponents(triangles: Triangles): { readonly labels: Int32Array; readonly sizes: readonly ComponentSize[] } {
  const mesh = buildMesh(triangles.positions, triangles.faces);
  const { labels, count } = faceComponents(mesh);
  const areas = faceAreas(mesh);
  const faces = new Uint32Array(count);
  const area = new Float64Array(count);
  const low = new Float64Array(3 * count).fill(Infinity);
  const high = new Float64Array(3 * count).fill(-Infinity);
  for (let h = 0; h < triangles.faces.length; h++) {
    const c = labels[Math.floor(h / 3)];
    if (h % 3 === 0) {
      faces[c]++;
      area[c] += areas[h / 3];
    }
    for (let k = 0; k < 3; k++) {
      const value = triangles.positions[3 * triangles.faces[h] + k];
      if (value < low[3 * c + k]) low[3 * c + k] = value;
      if (value > high[3 * c + k]) high[3 * c + k] = value;
    }
  }
  const sizes = Array.from(faces, (total, c) => ({
    faces: total,
    areaMm2: area[c],
    diagonalMm: Math.hypot(high[3 * c] - low[3 * c], high[3 * c + 1] - low[3 * c + 1], high[3 * c + 2] - low[3 * c + 2]),
  }));
  return { labels, sizes };
}

/**
 * Which components are strays.
 * @param belowMm where given, everything with a smaller diagonal counts as a stray instead
 */
export function findStrays(sizes: readonly ComponentSize[], belowMm?: number): boolean[] {
  let largest = 0;
  sizes.forEach((size, c) => {
    if (size.areaMm2 > sizes[largest].areaMm2) largest = c;
  });
  return sizes.map((size, c) => {
    if (c === largest) return false;
    if (belowMm !== undefined) return size.diagonalMm < belowMm;
    return size.areaMm2 < strayShare.area * sizes[largest].areaMm2 && size.diagonalMm < strayShare.diagonal * sizes[largest].diagonalMm;
  });
}
