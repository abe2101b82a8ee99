/*
 * Triangles in work: what the mending steps pass on until a half-edge mesh can be built. Lengths in mm.
 */
import type { F64, U32 } from '../base/arrays.ts';

export interface Triangles {
  /** x0 y0 z0 …, shape 3·n. */
  readonly positions: F64;
  /** Shape 3·m, every index below n. */
  readonly faces: U32;
}

/**
 * The triangles without vertices that no face uses, and without the faces that `isDropped` marks; order is kept.
 * @param isDropped one flag a face; undefined drops none
 */
export function compactTriangles(triangles: Triangles, isDropped?: Uint8Array): Triangles {
  const { positions, faces } = triangles;
  const vertexTotal = positions.length / 3;
  const renumber = new Int32Array(vertexTotal).fill(-1);
  let keptCorners = 0;
  for (let h = 0; h < faces.length; h++) {
    if (isDropped !== undefined && isDropped[Math.floor(h / 3)] === 1) continue;
    keptCorners++;
    renumber[faces[h]] = 0;
  }
  let keptVertices = 0;
  for (let v = 0; v < vertexTotal; v++) if (renumber[v] === 0) renumber[v] = keptVertices++;
  if (keptVertices === vertexTotal && keptCorners === faces.length) return triangles;
  const newPositions = new Float64Array(3 * keptVertices);
  for (let v = 0; v < vertexTotal; v++)
    if (renumber[v] !== -1) for (let k = 0; k < 3; k++) newPositions[3 * renumber[v] + k] = positions[3 * v + k];
  const newFaces = new Uint32Array(keptCorners);
  let fill = 0;
  for (let h = 0; h < faces.length; h++) {
    if (isDropped !== undefined && isDropped[Math.floor(h / 3)] === 1) continue;
    newFaces[fill++] = renumber[faces[h]];
  }
  return { positions: newPositions, faces: newFaces };
}
