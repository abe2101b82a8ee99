/*
 * Gateway to three and three-mesh-bvh: nearest points, ray hits and faces within a ball. The tree is built with indirection,
 * because the default build reorders the index.
 */
import type { Box3 } from 'three';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Sphere, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import type { Vec3 } from '../base/arrays.ts';
import type { HalfEdgeMesh } from './half-edge-mesh.ts';
import type { SurfacePoint } from './surface-point.ts';

export interface NearestHit extends SurfacePoint {
  readonly at: Vec3;
  readonly distance: number;
}

/** Queries against one mesh; building costs O(n log n), a query O(log n). */
export interface SpatialIndex {
  /** Nearest point of the surface to a point in space; undefined when nothing lies within `maxDistance` (mm). */
  readonly nearest: (point: Vec3, maxDistance?: number) => NearestHit | undefined;
  /** First hit of a ray from `origin` along `direction` (need not be unit); both sides of faces count. */
  readonly firstHit: (origin: Vec3, direction: Vec3) => NearestHit | undefined;
  /** Faces whose triangle comes within `radius` of the centre, ascending. */
  readonly facesWithin: (centre: Vec3, radius: number) => number[];
}

/** Builds the index. Positions are kept in double precision by three-mesh-bvh only for leaves: results are re-projected onto the exact triangle. */
export function createSpatialIndex(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>): SpatialIndex {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float64Array.from(mesh.positions), 3));
  geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.faces), 1));
  const tree = new MeshBVH(geometry, { indirect: true });
  const hitAt = (face: number, point: Vector3, from: Vec3): NearestHit => {
    const at: Vec3 = [point.x, point.y, point.z];
    const weights = barycentric(mesh, face, at);
    return { face, weights, at, distance: Math.hypot(at[0] - from[0], at[1] - from[1], at[2] - from[2]) };
  };
  return {
    nearest: (point, maxDistance = Infinity) => {
      const hit = tree.closestPointToPoint(new Vector3(...point), undefined, 0, maxDistance);
      // The library prunes boxes by the reach, not the triangles of the last box.
      return hit && hit.distance <= maxDistance ? hitAt(hit.faceIndex, hit.point, point) : undefined;
    },
    firstHit: (origin, direction) => {
      const ray = new Ray(new Vector3(...origin), new Vector3(...direction).normalize());
      const hit = tree.raycastFirst(ray, DoubleSide);
      return typeof hit?.faceIndex === 'number' ? hitAt(hit.faceIndex, hit.point, origin) : undefined;
    },
    facesWithin: (centre, radius) => {
      const sphere = new Sphere(new Vector3(...centre), radius);
      const found: number[] = [];
      tree.shapecast({
        intersectsBounds: (box: Box3) => sphere.intersectsBox(box),
        intersectsTriangle: (triangle, index) => {
          const nearest = triangle.closestPointToPoint(sphere.center, new Vector3());
          if (nearest.distanceTo(sphere.center) <= radius) found.push(index);
          return false;
        },
      });
      return found.sort((a, b) => a - b);
    },
  };
}

/**
 * Barycentric weights of the point's projection onto a face's plane, clamped into the face and normalised to sum 1.
 */
export function barycentric(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, face: number, point: Vec3): Vec3 {
  const p = mesh.positions;
  const [a, b, c] = [3 * mesh.faces[3 * face], 3 * mesh.faces[3 * face + 1], 3 * mesh.faces[3 * face + 2]];
  let [uu, uv, vv, uw, vw] = [0, 0, 0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const u = p[b + k] - p[a + k];
    const v = p[c + k] - p[a + k];
    const w = point[k] - p[a + k];
    uu += u * u;
    uv += u * v;
    vv += v * v;
    uw += u * w;
    vw += v * w;
  }
  const determinant = uu * vv - uv * uv;
  if (!(determinant > 0)) return [1, 0, 0];
  const second = Math.max(0, (vv * uw - uv * vw) / determinant);
  const third = Math.max(0, (uu * vw - uv * uw) / determinant);
  const first = Math.max(0, 1 - second - third);
  const sum = first + second + third;
  return [first / sum, second / sum, third / sum];
}

/** Place of a surface point in space. */
export function placeOf(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, point: SurfacePoint): Vec3 {
  const place: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    const v = 3 * mesh.faces[3 * point.face + i];
    for (let k = 0; k < 3; k++) place[k] += point.weights[i] * mesh.positions[v + k];
  }
  return place;
}
