/*
 * Shapes in the turns that they are allowed, each moved so that its box starts at the origin, and the no-fit regions of every pair, made when first asked for.
 */
import type { F64 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import { boxOf, signedArea } from '../plane/polygon.ts';
import { toRadians } from '../units/angle.ts';
import { convexParts } from './convex-parts.ts';
import { withoutHoles } from './grown-outline.ts';
import type { NoFit } from './no-fit.ts';
import { makeNoFit } from './no-fit.ts';

/** A shape to place: its outline and the turns that it may take. */
export interface NestShape {
  /** Outline counter-clockwise, holes clockwise, 2·n each; spacing already included. */
  readonly rings: readonly F64[];
  /** Degrees, counter-clockwise. */
  readonly anglesDeg: readonly number[];
}

export interface Form {
  readonly shape: number;
  readonly angleDeg: number;
  /** Convex parts of the turned shape, its box at the origin. */
  readonly parts: readonly F64[];
  readonly width: number;
  readonly height: number;
  /** Add to the form's position to get the place of the shape's own origin. */
  readonly originX: number;
  readonly originY: number;
}

export interface FormSet {
  readonly forms: readonly Form[];
  /** Forms of each shape. */
  readonly ofShape: readonly (readonly number[])[];
  readonly areas: readonly number[];
  /** Where form b may not lie when form a lies at the origin. */
  readonly noFit: (a: number, b: number) => NoFit;
}

export function makeForms(shapes: readonly NestShape[]): FormSet {
  const forms: Form[] = [];
  const ofShape = shapes.map((shape, i) =>
    shape.anglesDeg.map((angleDeg) => {
      forms.push(turnedForm(shape.rings, i, angleDeg));
      return forms.length - 1;
    }),
  );
  const known = new Map<number, NoFit>();
  return {
    forms,
    ofShape,
    areas: shapes.map((shape) => shape.rings.reduce((sum, ring) => sum + signedArea(ring), 0)),
    noFit: (a, b) => {
      const key = a * forms.length + b;
      let found = known.get(key);
      if (!found) {
        found = makeNoFit(forms[a].parts, forms[b].parts);
        known.set(key, found);
      }
      return found;
    },
  };
}

/** Cosine and sine, exact for quarter turns. */
export function turnOf(angleDeg: number): readonly [number, number] {
  const quarter = (((angleDeg % 360) + 360) % 360) / 90;
  if (Number.isInteger(quarter)) return [[1, 0, -1, 0][quarter], [0, 1, 0, -1][quarter]];
  return [cos(toRadians(angleDeg)), sin(toRadians(angleDeg))];
}

function turnedForm(rings: readonly F64[], shape: number, angleDeg: number): Form {
  const [c, s] = turnOf(angleDeg);
  const turned = rings.map((ring) =>
    Float64Array.from(ring, (value, i) => (i % 2 === 0 ? c * value - s * ring[i + 1] : s * ring[i - 1] + c * value)),
  );
  const { min, max } = boxOf(turned[0]);
  for (const ring of turned) for (let i = 0; i < ring.length; i++) ring[i] -= min[i % 2];
  return {
    shape,
    angleDeg,
    parts: withoutHoles(turned).flatMap(convexParts),
    width: max[0] - min[0],
    height: max[1] - min[1],
    originX: -min[0],
    originY: -min[1],
  };
}
