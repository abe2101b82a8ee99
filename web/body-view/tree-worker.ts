/*
 * Builds the search tree of a body away from the page's own thread; the page gets it ready-made.
 */
import { BufferAttribute, BufferGeometry } from 'three';
import { MeshBVH } from 'three-mesh-bvh';

interface TreeScope {
  onmessage: ((event: MessageEvent<{ id: number; positions: Float32Array; faces: Uint32Array }>) => void) | null;
  postMessage: (message: unknown, transfer: Transferable[]) => void;
}

const scope = self as unknown as TreeScope;

scope.onmessage = ({ data }) => {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(data.positions, 3));
  geometry.setIndex(new BufferAttribute(data.faces, 1));
  const tree = MeshBVH.serialize(new MeshBVH(geometry, { indirect: true }), { cloneBuffers: false });
  scope.postMessage({ id: data.id, tree }, tree.roots);
};
