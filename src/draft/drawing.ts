/*
 * The narrow waist between drafting and files: paths and labels on named layers, mm, x right, y up, as seen on the traced face.
 */
import type { Vec2 } from '../base/arrays.ts';

/** Layer names of the contract: SVG group id = DXF layer. */
export const layerNames = [
  'CUT',
  'CUT_INSIDE',
  'NOTCH',
  'SCORE',
  'DRAWN',
  'REFERENCE',
  'BEVEL_OUTER',
  'BEVEL_INNER',
  'ARROW',
  'TEXT',
  'TEST_SQUARE',
  'SHEET',
] as const;

export type LayerName = (typeof layerNames)[number];

/** A straight piece to `to`, or a cubic Bézier to `to` with control points `c1`, `c2`. */
export type Segment =
  { readonly kind: 'line'; readonly to: Vec2 } | { readonly kind: 'cubic'; readonly c1: Vec2; readonly c2: Vec2; readonly to: Vec2 };

/** A curve; when `closed`, the last segment ends at `start`. */
export interface Curve {
  readonly start: Vec2;
  readonly segments: readonly Segment[];
  readonly closed: boolean;
}

export interface DrawingPath {
  readonly layer: LayerName;
  readonly curve: Curve;
  /** Part that the path belongs to; absent on sheet marks. */
  readonly part?: string;
}

/** Text as text (for DXF TEXT, PDF text layer, screen readers); its strokes stand as paths on TEXT as well. */
export interface DrawingLabel {
  readonly text: string;
  readonly at: Vec2;
  /** Height of a capital letter, mm. */
  readonly heightMm: number;
  /** Counter-clockwise, radians. */
  readonly angle: number;
  readonly part?: string;
}

export interface Drawing {
  readonly paths: readonly DrawingPath[];
  readonly labels: readonly DrawingLabel[];
}
