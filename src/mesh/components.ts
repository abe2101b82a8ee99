/*
 * Connected components of a mesh, by faces that share an edge.
 */
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

/**
 * Labels each face with its component, numbered by the lowest face.
 * @returns labels of shape faceCount, and the count
 */
export function faceComponents(mesh: Pick<HalfEdgeMesh, 'faces' | 'twin'>): { readonly labels: Int32Array; readonly count: number } {
  const faceTotal = mesh.faces.length / 3;
  const labels = new Int32Array(faceTotal).fill(-1);
  const stack = new Uint32Array(faceTotal);
  let count = 0;
  for (let seed = 0; seed < faceTotal; seed++) {
    if (labels[seed] !== -1) continue;
    let top = 0;
    stack[top++] = seed;
    labels[seed] = count;
    while (top > 0) {
      const f = stack[--top];
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const g = mesh.twin[h];
        if (g === -1) continue;
        // Truncation of a non-negative quotient is its floor, and an integer operation.
        const neighbour = (g / 3) | 0;
        if (labels[neighbour] !== -1) continue;
        labels[neighbour] = count;
        stack[top++] = neighbour;
      }
    }
    count++;
  }
  return { labels, count };
}
