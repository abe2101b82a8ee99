/*
 * A patch: a piece of one layer's surface that is one connected sheet, with its own mesh, the way back, and its border as sides that know their mates.
 */
import type { U32 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import type { Correspondence } from '../mesh/surface-point.ts';

/** The wearer's left, right, or across the plane of symmetry. */
export type BodySide = 'L' | 'R' | 'C';

export type SideKind = 'seam' | 'dart' | 'opening' | 'border';

/** A stretch of a patch's border between two corners; the patch lies to the left of its half-edges. */
export interface Side {
  /** Consecutive boundary half-edges of the patch mesh, in border order; at least one. */
  readonly halfEdges: U32;
  /** 'border' is a painted area's own edge (a finished edge, not joined). */
  readonly kind: SideKind;
  /** The line that cut it, if one did (mirrored lines end in `:mirror`). */
  readonly line?: string;
  /** Seam of which this is one side (seam and dart sides only). */
  readonly seam?: string;
}

/** A mark carried by a patch: a polyline whose points lie in patch faces. */
export interface PatchMark {
  readonly line: string;
  readonly kind: 'drawn' | 'reference';
  readonly closed: boolean;
  readonly points: Correspondence;
}

/** A fitting carried by a patch. */
export interface PatchPoint {
  readonly id: string;
  readonly kind: 'strap' | 'snap' | 'magnet' | 'buckle';
  readonly face: number;
  readonly weights: readonly [number, number, number];
}

export interface Patch {
  /** `area.index.L|R|C` (contract). */
  readonly id: string;
  readonly area: string;
  readonly name: string;
  readonly side: BodySide;
  /** Id of the mirrored patch, where the marks are mirrored. */
  readonly pair?: string;
  readonly layer: number;
  readonly material: string;
  readonly forming: 'bent' | 'domed';
  /** The patch at the neutral plane, mm. */
  readonly mesh: HalfEdgeMesh;
  /** Way back to the layer surface: face and weights there for each patch vertex. */
  readonly toSurface: Correspondence;
  /** Face of the layer surface that each patch face lies in. */
  readonly faceToSurfaceFace: U32;
  /** Boundary loops, each a cyclic list of indices into `sides`; the outer loop first. */
  readonly loops: readonly (readonly number[])[];
  readonly sides: readonly Side[];
  readonly marks: readonly PatchMark[];
  readonly points: readonly PatchPoint[];
  /** Hash of everything above: equal patches are the same object (interned). */
  readonly hash: string;
}

/** Two sides that are glued to each other. The second runs against the first. */
export interface Seam {
  /** S1, S2 … in order of falling length. */
  readonly id: string;
  readonly kind: 'seam' | 'dart';
  readonly line: string;
  readonly sides: readonly [SeamSide, SeamSide];
  /** Length of the line on the layer surface, mm. */
  readonly surfaceMm: number;
}

export interface SeamSide {
  readonly patch: string;
  /** Index into the patch's `sides`. */
  readonly side: number;
}

/** Everything that cutting one job's marks gives. */
export interface CutResult {
  readonly patches: readonly Patch[];
  readonly seams: readonly Seam[];
  /** Length of each resolved line on its surface, mm, with its kind. */
  readonly lines: readonly { readonly id: string; readonly kind: string; readonly lengthMm: number }[];
  readonly areas: readonly { readonly id: string; readonly areaMm2: number }[];
  readonly findings: readonly Finding[];
}
