/*
 * Marks are points in space; here they land: on the body first, then on each layer's surface.
 */
import type { Vec3 } from '../base/arrays.ts';
import { markReachMm } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { SpatialIndex } from '../mesh/spatial.ts';
import { createSpatialIndex, placeOf } from '../mesh/spatial.ts';
import type { SurfacePoint } from '../mesh/surface-point.ts';
import type { Surface } from '../standoff/surface.ts';

export interface Landing extends SurfacePoint {
  readonly at: Vec3;
  readonly distance: number;
}

export interface Ground {
  /** Where a point of space lands on the body; undefined beyond `markReachMm`. */
  readonly land: (at: Vec3) => Landing | undefined;
  /** The same point on a layer's surface. */
  readonly onSurface: (surface: Surface, point: SurfacePoint) => SurfacePoint;
  /** Nearest-point queries on a layer's surface. */
  readonly indexOf: (surface: Surface) => SpatialIndex;
}

/** Prepares landing on a body. Cost: an index of the body, and of each surface whose faces are not the body's. */
export function prepareGround(body: HalfEdgeMesh): Ground {
  const index = createSpatialIndex(body);
  const own = new Map<Surface, SpatialIndex>();
  const pulled = new Map<Surface, SpatialIndex | undefined>();
  return {
    land: (at) => index.nearest(at, markReachMm),
    onSurface: (surface, point) => {
      let known = pulled.get(surface);
      if (!pulled.has(surface))
        pulled.set(surface, (known = hasSameFaces(surface.mesh, body) ? undefined : createSpatialIndex(pullBack(surface, body))));
      if (!known) return { face: point.face, weights: point.weights };
      const hit = known.nearest(placeOf(body, point));
      return hit ? { face: hit.face, weights: hit.weights } : point;
    },
    indexOf: (surface) => {
      const known = own.get(surface) ?? createSpatialIndex(surface.mesh);
      own.set(surface, known);
      return known;
    },
  };
}

function hasSameFaces(a: HalfEdgeMesh, b: HalfEdgeMesh): boolean {
  if (a.faces.length !== b.faces.length) return false;
  for (let h = 0; h < a.faces.length; h++) if (a.faces[h] !== b.faces[h]) return false;
  return true;
}

/** The surface's faces between the body points that its vertices come from: nearest there is nearest in correspondence. */
function pullBack(surface: Surface, body: HalfEdgeMesh): Pick<HalfEdgeMesh, 'positions' | 'faces'> {
  const { face, weights } = surface.toBody;
  const positions = new Float64Array(surface.mesh.positions.length);
  for (let v = 0; v < face.length; v++)
    positions.set(placeOf(body, { face: face[v], weights: [weights[3 * v], weights[3 * v + 1], weights[3 * v + 2]] }), 3 * v);
  return { positions, faces: surface.mesh.faces };
}
