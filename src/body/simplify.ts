/*
 * Gateway to meshoptimizer's simplifier: fewer faces by edge collapses of least squared distance to the planes around [garland1997]. Its result names
 * vertices of the input, so positions stay exact; only its decisions are made in single precision, about the middle of the mesh.
 */
import { MeshoptSimplifier } from 'meshoptimizer/simplifier';
import type { Run } from '../base/run.ts';
import { bounds } from '../mesh/measure.ts';
import { dropCollapsed, dropDuplicates } from './bad-faces.ts';
import { makeManifold } from './manifold.ts';
import { findStrays, measureComponents } from './strays.ts';
import { compactTriangles } from './triangles.ts';
import type { Triangles } from './triangles.ts';

/**
 * Simplifies to about `faceTotal` faces; open borders keep their place.
 * @param mostErrorMm no collapse goes further from the surface than this, even if more faces remain
 * Cost: 1,000,000 faces to 50,000 in about 1 s.
 */
export async function simplifyTriangles(triangles: Triangles, faceTotal: number, mostErrorMm: number, run: Run): Promise<Triangles> {
  if (triangles.faces.length / 3 <= faceTotal) return triangles;
  await MeshoptSimplifier.ready;
  const { min, max } = bounds(triangles);
  const positions = new Float32Array(triangles.positions.length);
  for (let i = 0; i < positions.length; i++) positions[i] = triangles.positions[i] - (min[i % 3] + max[i % 3]) / 2;
  const [faces] = MeshoptSimplifier.simplify(
    Uint32Array.from(triangles.faces),
    positions,
    3,
    3 * Math.max(4, Math.floor(faceTotal)),
    mostErrorMm,
    ['ErrorAbsolute', 'LockBorder'],
  );
  await run.breathe();
  // The simplifier may join sheets that touch in an edge; parting them can leave crumbs.
  const kept = dropDuplicates(dropCollapsed(compactTriangles({ positions: triangles.positions, faces })).triangles).triangles;
  const manifold = (await makeManifold(kept, run)).triangles;
  const { labels, sizes } = measureComponents(manifold);
  const isStray = findStrays(sizes);
  return isStray.includes(true)
    ? compactTriangles(
        manifold,
        Uint8Array.from(labels, (c) => (isStray[c] ? 1 : 0)),
      )
    : manifold;
}

/** Faces of an even mesh of this edge length on a surface: an equilateral triangle of side l has √3/4·l². */
export function facesForEdge(areaMm2: number, edgeMm: number): number {
  return areaMm2 / ((Math.sqrt(3) / 4) * edgeMm * edgeMm);
}
