/*
 * Gateway to clipper2-ts: offsets and set operations of polygons. Coordinates are rounded to 0.1 µm inside the package, so results are exact to
 * that. Round joins use the engine's sine, whose last bit may differ; after rounding to 0.1 µm it does not show.
 * Outlines counter-clockwise, holes clockwise, 2·n, mm; "non-zero" winding decides what is inside.
 */
import type { Path64, Paths64 } from 'clipper2-ts';
import { ClipType, Clipper, EndType, FillRule, JoinType } from 'clipper2-ts';
import type { F64 } from '../base/arrays.ts';

/** Package units a millimetre. */
const scale = 10_000;

export interface OffsetOptions {
  readonly join: 'round' | 'miter' | 'bevel';
  /** Longest miter as a multiple of the distance. */
  readonly miterLimit: number;
  /** Largest distance between an arc and its polygon, mm. */
  readonly arcToleranceMm: number;
}

export const offsetDefaults: OffsetOptions = { join: 'round', miterLimit: 3, arcToleranceMm: 0.01 };

const joins = { round: JoinType.Round, miter: JoinType.Miter, bevel: JoinType.Bevel } as const;

/**
 * Polygons grown (positive distance) or shrunk (negative) by a distance; holes shrink when the outline grows.
 * @returns outlines counter-clockwise, holes clockwise; empty when nothing is left.
 */
export function offsetPolygons(polygons: readonly F64[], distanceMm: number, options: Partial<OffsetOptions> = {}): Float64Array[] {
  const { join, miterLimit, arcToleranceMm } = { ...offsetDefaults, ...options };
  const clean = Clipper.union(toPaths(polygons), FillRule.NonZero);
  return fromPaths(Clipper.inflatePaths(clean, distanceMm * scale, joins[join], EndType.Polygon, miterLimit, arcToleranceMm * scale));
}

export type SetOperation = 'union' | 'intersection' | 'difference';

const operations = { union: ClipType.Union, intersection: ClipType.Intersection, difference: ClipType.Difference } as const;

/** Union, intersection or difference of two sets of polygons. */
export function combinePolygons(operation: SetOperation, first: readonly F64[], second: readonly F64[]): Float64Array[] {
  return fromPaths(Clipper.booleanOp(operations[operation], toPaths(first), toPaths(second), FillRule.NonZero));
}

/** The polygons with loops and overlaps resolved: what lies to the left of more edges than to the right (positive winding). */
export function resolveCrossings(polygons: readonly F64[]): Float64Array[] {
  return fromPaths(Clipper.union(toPaths(polygons), FillRule.Positive));
}

function toPaths(polygons: readonly F64[]): Paths64 {
  return polygons.map((points) => {
    const path: Path64 = [];
    for (let i = 0; i < points.length; i += 2) path.push({ x: Math.round(points[i] * scale), y: Math.round(points[i + 1] * scale) });
    return path;
  });
}

function fromPaths(paths: Paths64): Float64Array[] {
  return paths.map((path) => Float64Array.from(path.flatMap(({ x, y }) => [x / scale, y / scale])));
}
