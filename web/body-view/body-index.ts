/*
 * Finding places on the body: the hit of a ray, the nearest point, the vertices within reach of a brush. Until the tree has come from its
 * worker nothing is found.
 */
import type { BufferGeometry } from 'three';
import { DoubleSide, Ray, Vector3 } from 'three';
import type { SerializedBVH } from 'three-mesh-bvh';
import { MeshBVH } from 'three-mesh-bvh';
import type { Vec3 } from '../../src/base/arrays.ts';

export interface BodyHit {
  readonly at: Vec3;
  readonly face: number;
  readonly normal: Vec3;
}

export interface BodyIndex {
  readonly isReady: () => boolean;
  readonly hit: (origin: Vec3, direction: Vec3) => BodyHit | undefined;
  readonly nearest: (point: Vec3) => BodyHit | undefined;
}

export interface TreeBuilder {
  readonly build: (geometry: BufferGeometry, onReady: () => void) => BodyIndex;
  readonly dispose: () => void;
}

export function createTreeBuilder(): TreeBuilder {
  const worker = new Worker(new URL('./tree-worker.ts', import.meta.url), { type: 'module', name: 'plastron tree' });
  let next = 1;
  const waiting = new Map<number, (tree: SerializedBVH) => void>();
  worker.onmessage = ({ data }: MessageEvent<{ id: number; tree: SerializedBVH }>) => {
    waiting.get(data.id)?.(data.tree);
    waiting.delete(data.id);
  };
  return {
    build: (geometry, onReady) => {
      let tree: MeshBVH | undefined;
      const id = next++;
      waiting.clear();
      waiting.set(id, (serialized) => {
        tree = MeshBVH.deserialize(serialized, geometry, { setIndex: false });
        onReady();
      });
      const positions = Float32Array.from(geometry.attributes.position.array);
      const faces = Uint32Array.from(geometry.index?.array ?? []);
      worker.postMessage({ id, positions, faces }, [positions.buffer, faces.buffer]);
      return indexOf(geometry, () => tree);
    },
    dispose: () => worker.terminate(),
  };
}

function indexOf(geometry: BufferGeometry, tree: () => MeshBVH | undefined): BodyIndex {
  const ray = new Ray();
  const place = new Vector3();
  const hitAt = (face: number, point: Vector3): BodyHit => ({
    at: [point.x, point.y, point.z],
    face,
    normal: faceNormal(geometry, face),
  });
  return {
    isReady: () => tree() !== undefined,
    hit: (origin, direction) => {
      ray.origin.set(...origin);
      ray.direction.set(...direction).normalize();
      const hit = tree()?.raycastFirst(ray, DoubleSide);
      return typeof hit?.faceIndex === 'number' ? hitAt(hit.faceIndex, hit.point) : undefined;
    },
    nearest: (point) => {
      const hit = tree()?.closestPointToPoint(place.set(...point));
      return hit ? hitAt(hit.faceIndex, hit.point) : undefined;
    },
  };
}

function faceNormal(geometry: BufferGeometry, face: number): Vec3 {
  const p = geometry.attributes.position.array;
  const index = geometry.index?.array ?? [];
  const [a, b, c] = [3 * index[3 * face], 3 * index[3 * face + 1], 3 * index[3 * face + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(x, y, z) || 1;
  return [x / length, y / length, z / length];
}
