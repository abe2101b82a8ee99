/*
 * Strokes become a signed value over the surface: distance along the surface to the strokes' centre lines, less their radius. Painted where
 * it is below 0; its zero level is the area's border, exactly one radius from the stroke. Later strokes win: painting takes the lesser value,
 * erasing the greater of what was there and (radius − distance).
 */
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { SurfacePath, SurfacePoint } from '../mesh/surface-point.ts';
import type { DistanceField } from '../lines/distance-windows.ts';
import { spreadDistance } from '../lines/distance-windows.ts';

/** A stroke on one surface: its points joined by shortest paths. */
export interface SurfaceStroke {
  readonly mode: 'paint' | 'erase';
  readonly path: SurfacePath;
  readonly radiusMm: number;
}

export interface PaintField {
  /** Signed value at a surface point, mm: below 0 inside. Infinity far outside. */
  readonly at: (point: SurfacePoint) => number;
  /** The same at a vertex, faster. */
  readonly atVertex: (v: number) => number;
  /** True if the border may pass the face. */
  readonly reaches: (face: number) => boolean;
  /** The smallest radius that was painted or erased with: the finest shape in the field, mm. */
  readonly finestMm: number;
}

/**
 * The field of strokes in order.
 * @param growMm the border moves outward by this along the surface (inward when negative), mm
 * Cost: one spread of exact distance a run of strokes of the same mode and radius, within the radius.
 */
export function paintField(mesh: HalfEdgeMesh, strokes: readonly SurfaceStroke[], growMm: number): PaintField {
  const layers: { mode: 'paint' | 'erase'; radius: number; field: DistanceField }[] = [];
  for (let i = 0; i < strokes.length;) {
    const { mode, radiusMm } = strokes[i];
    let end = i + 1;
    while (end < strokes.length && strokes[end].mode === mode && strokes[end].radiusMm === radiusMm) end++;
    const paths = strokes.slice(i, end).map((stroke) => stroke.path);
    layers.push({ mode, radius: radiusMm, field: spreadDistance(mesh, paths, radiusMm + Math.abs(growMm)) });
    i = end;
  }
  const fold = (distanceIn: (field: DistanceField) => number): number => {
    let value = Infinity;
    for (const { mode, radius, field } of layers) {
      const distance = distanceIn(field);
      value = mode === 'paint' ? Math.min(value, distance - radius) : Math.max(value, radius - distance);
    }
    return value - growMm;
  };
  return {
    at: (point) => fold((field) => field.at(point)),
    atVertex: (v) => fold((field) => field.vertexDistance[v]),
    reaches: (face) => layers.some(({ field }) => field.reaches(face)),
    finestMm: Math.min(...layers.map(({ radius }) => radius)),
  };
}
