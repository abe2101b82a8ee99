/*
 * Drawings as SVG path data. Parts keep y up; the paper turns them over.
 */
import type { F64, U32 } from '../../src/base/arrays.ts';
import type { Curve, Drawing, LayerName } from '../../src/draft/drawing.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../../src/mesh/half-edge-mesh.ts';

const show = (value: number): string => (Math.round(value * 100) / 100).toString();

export function curvePath({ start, segments, closed }: Curve): string {
  const pieces = segments.map((segment) => {
    switch (segment.kind) {
      case 'line':
        return `L${show(segment.to[0])} ${show(segment.to[1])}`;
      case 'cubic':
        return `C${[...segment.c1, ...segment.c2, ...segment.to].map(show).join(' ')}`;
      default:
        return segment satisfies never;
    }
  });
  return `M${show(start[0])} ${show(start[1])}${pieces.join('')}${closed ? 'Z' : ''}`;
}

/** All paths of each layer as one path. @param isWanted which paths count */
export function layerPaths(drawing: Drawing, isWanted: (part: string | undefined) => boolean = () => true): ReadonlyMap<LayerName, string> {
  const layers = new Map<LayerName, string>();
  for (const path of drawing.paths) if (isWanted(path.part)) layers.set(path.layer, (layers.get(path.layer) ?? '') + curvePath(path.curve));
  return layers;
}

/** Closed polygons, 2·n each. */
export const polygonPath = (...rings: readonly ArrayLike<number>[]): string => rings.map((ring) => `${polylinePath(ring)}Z`).join('');

export function polylinePath(points: ArrayLike<number>): string {
  let path = '';
  for (let i = 0; i + 1 < points.length; i += 2) path += `${i === 0 ? 'M' : 'L'}${show(points[i])} ${show(points[i + 1])}`;
  return path;
}

/** The plane points along a chain of half-edges, its end included. */
export function chainPoints(mesh: Pick<HalfEdgeMesh, 'faces'>, flat: F64, halfEdges: U32): Float64Array {
  const points = new Float64Array(2 * halfEdges.length + 2);
  halfEdges.forEach((h, i) => {
    points[2 * i] = flat[2 * mesh.faces[h]];
    points[2 * i + 1] = flat[2 * mesh.faces[h] + 1];
  });
  const end = mesh.faces[nextHalfEdge(halfEdges[halfEdges.length - 1])];
  points[2 * halfEdges.length] = flat[2 * end];
  points[2 * halfEdges.length + 1] = flat[2 * end + 1];
  return points;
}

export function lengthOf(points: ArrayLike<number>): number {
  let length = 0;
  for (let i = 2; i + 1 < points.length; i += 2) length += Math.hypot(points[i] - points[i - 2], points[i + 1] - points[i - 1]);
  return length;
}
