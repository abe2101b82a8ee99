/*
 * Pairs of crossing faces by three-mesh-bvh's tree and three's triangle test: the second route beside src/standoff/self-hits.ts.
 */
import type { Triangle } from 'three';
import { Box3, BufferAttribute, BufferGeometry, Matrix4 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import type { F64, U32 } from '../../src/base/arrays.ts';

/** Number of pairs of faces without a common vertex whose triangles intersect. */
export function crossingPairs(mesh: { readonly positions: F64; readonly faces: U32 }): number {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float64Array.from(mesh.positions), 3));
  geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.faces), 1));
  const tree = new MeshBVH(geometry);
  // The build sorts the index: faces are read from it.
  const order = geometry.getIndex()?.array ?? [];
  let pairs = 0;
  tree.bvhcast(tree, new Matrix4(), {
    intersectsTriangles: (first, second, f, g) => {
      if (g <= f) return false;
      for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) if (order[3 * f + i] === order[3 * g + j]) return false;
      // The triangle test errs on some nearly coplanar pairs apart from each other: their boxes decide.
      if (boxesMeet(first, second) && first.intersectsTriangle(second)) pairs++;
      return false;
    },
  });
  return pairs;
}

function boxesMeet(first: Triangle, second: Triangle): boolean {
  return new Box3().setFromPoints([first.a, first.b, first.c]).intersectsBox(new Box3().setFromPoints([second.a, second.b, second.c]));
}
