/*
 * The border of a patch in the part's plane: its sides as polylines that keep the way back to the patch. Everything here is seen from outside the
 * body, in the part's frame (up is +y), before the drawing is mirrored for the inner face; the patch lies left of every side.
 */
import type { F64, U32, Vec2, Vec3 } from '../base/arrays.ts';
import { atan2, cos, sin } from '../base/elementary.ts';
import { directionOf } from '../body/axes.ts';
import type { Axis } from '../body/body.ts';
import type { FlatPart } from '../flatten/flat-part.ts';
import { faceCross } from '../mesh/measure.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { Patch, SideKind } from '../patches/patch.ts';
import { arcLengths } from '../plane/polyline.ts';

export interface BorderSide {
  /** Index into the patch's `sides`. */
  readonly index: number;
  /** A1, A2 … */
  readonly id: string;
  readonly kind: SideKind;
  readonly seam?: string;
  readonly line?: string;
  /** Index of the loop that the side belongs to; 0 is the outer one. */
  readonly loop: number;
  /** The side is a whole loop without corners at its ends. */
  readonly closed: boolean;
  /** Boundary half-edges of the patch mesh, in order; shape n. */
  readonly halfEdges: U32;
  /** Plane positions, 2·(n + 1), mm. */
  readonly points: F64;
  /** Arc length in the plane at each point; shape n + 1. */
  readonly lengths: F64;
  readonly lengthMm: number;
}

/** Where a part's drawing points: the body direction that +y of the part shows. */
export type Heading = 'up' | 'front';

/**
 * Mean image of a body direction in the plane: Σ area · J(d − (d·n)n), J the map of each face. Its length over the patch's area says how
 * much of the patch lies along the direction (1: a vertical wall for "up", 0: a flat lid).
 */
export function imageOfDirection(patch: Patch, flat: FlatPart, direction: Vec3): Vec2 {
  const { positions, faces } = patch.mesh;
  let [sumX, sumY, sumArea] = [0, 0, 0];
  for (let f = 0; f < faces.length / 3; f++) {
    const [a, b, c] = [faces[3 * f], faces[3 * f + 1], faces[3 * f + 2]];
    const area = Math.hypot(...faceCross(patch.mesh, f)) / 2;
    let [uu, uv, vv, ud, vd] = [0, 0, 0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const u = positions[3 * b + k] - positions[3 * a + k];
      const v = positions[3 * c + k] - positions[3 * a + k];
      uu += u * u;
      uv += u * v;
      vv += v * v;
      ud += u * direction[k];
      vd += v * direction[k];
    }
    const determinant = uu * vv - uv * uv;
    if (!(determinant > 0)) continue;
    // Tangential part of the direction as p·u + q·v; its image is p·U + q·V.
    const p = (vv * ud - uv * vd) / determinant;
    const q = (uu * vd - uv * ud) / determinant;
    const at = flat.positions;
    sumX += area * (p * (at[2 * b] - at[2 * a]) + q * (at[2 * c] - at[2 * a]));
    sumY += area * (p * (at[2 * b + 1] - at[2 * a + 1]) + q * (at[2 * c + 1] - at[2 * a + 1]));
    sumArea += area;
  }
  return sumArea > 0 ? [sumX / sumArea, sumY / sumArea] : [0, 0];
}

/** Share of a patch that must lie along "up" for the up arrow to mean something; below it the arrow shows the front. */
const uprightShare = 0.1;

/** Plane positions turned so that the body's up (or, on a flat lid, its front) is +y. Shape 2·n, mm. */
export function turnUpright(
  patch: Patch,
  flat: FlatPart,
  up: Axis,
  front: Axis,
): { readonly positions: Float64Array; readonly heading: Heading } {
  let image = imageOfDirection(patch, flat, directionOf(up));
  const heading: Heading = Math.hypot(...image) < uprightShare ? 'front' : 'up';
  if (heading === 'front') image = imageOfDirection(patch, flat, directionOf(front));
  const angle = Math.hypot(...image) > 0 ? Math.PI / 2 - atan2(image[1], image[0]) : 0;
  const [c, s] = [cos(angle), sin(angle)];
  const positions = new Float64Array(flat.positions.length);
  for (let i = 0; i < positions.length; i += 2) {
    positions[i] = c * flat.positions[i] - s * flat.positions[i + 1];
    positions[i + 1] = s * flat.positions[i] + c * flat.positions[i + 1];
  }
  return { positions, heading };
}

/** The sides of a patch in border order, outer loop first. */
export function bordersOf(patch: Patch, positions: F64, letter: string): BorderSide[] {
  const sides: BorderSide[] = [];
  patch.loops.forEach((loop, loopIndex) => {
    for (const index of loop) {
      const side = patch.sides[index];
      const n = side.halfEdges.length;
      const points = new Float64Array(2 * (n + 1));
      for (let i = 0; i <= n; i++) {
        const v = patch.mesh.faces[i < n ? side.halfEdges[i] : nextHalfEdge(side.halfEdges[n - 1])];
        points[2 * i] = positions[2 * v];
        points[2 * i + 1] = positions[2 * v + 1];
      }
      const lengths = arcLengths(points);
      sides.push({
        index,
        id: `${letter}${sides.length + 1}`,
        kind: side.kind,
        ...(side.seam === undefined ? {} : { seam: side.seam }),
        ...(side.line === undefined ? {} : { line: side.line }),
        loop: loopIndex,
        closed: loop.length === 1 && points[0] === points[2 * n] && points[1] === points[2 * n + 1],
        halfEdges: Uint32Array.from(side.halfEdges),
        points,
        lengths,
        lengthMm: lengths[n],
      });
    }
  });
  return sides;
}

/** A, B … Z, AA, AB …: the letter of part number `index`. */
export function partLetter(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : partLetter(Math.floor(index / 26) - 1) + letter;
}
