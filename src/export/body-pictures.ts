/*
 * The pictures of the build sheet: all parts on the body from the front and from behind, and for each part the view that faces it.
 */
import type { F64, U32, Vec2, Vec3 } from '../base/arrays.ts';
import { directionOf, leftOf } from '../body/axes.ts';
import { areaColor, clay, type Rgb } from './area-colors.ts';
import type { ExportInput } from './exporter.ts';
import { drawPicture, type Picture, type Shape, type View } from './picture.ts';

export interface LetteredPicture {
  readonly title: string;
  readonly picture: Picture;
  /** Where each visible part's letter stands, shares of width and height from the lower left. */
  readonly letters: readonly { readonly letter: string; readonly at: Vec2 }[];
}

export interface BodyPictures {
  readonly whole: readonly LetteredPicture[];
  readonly ofPart: ReadonlyMap<string, Picture>;
  readonly colorOfPart: ReadonlyMap<string, Rgb>;
}

/** Pixels of the large and of the small pictures. */
const large = { width: 420, height: 520 } as const;
const small = { width: 150, height: 190 } as const;
/** Parts are drawn this much nearer than they lie, so that the body does not show through, mm. */
const liftMm = 6;

type Side = 'front' | 'back' | 'left' | 'right';

/** Draws all pictures. Cost: a few hundred thousand face visits a part. */
export function bodyPictures(input: ExportInput): BodyPictures {
  const [up, front] = [input.up ?? 'y', input.front ?? 'z'];
  const views = sideViews(directionOf(up), directionOf(front), leftOf(up, front));
  const body: Shape = { positions: input.bodyMesh.positions, faces: input.bodyMesh.faces, colorOf: () => clay, liftMm: 0 };
  const colors = partColors(input.parts);
  const shapes = new Map<string, Shape & { readonly normal: Vec3; readonly centre: Vec3 }>();
  for (const { part, mesh } of input.pictures) {
    const color = colors.get(part) ?? clay;
    shapes.set(part, {
      positions: mesh.positions,
      faces: mesh.faces,
      colorOf: () => color,
      liftMm,
      ...middleOf(mesh.positions, mesh.faces),
    });
  }
  const worn = [...shapes.values()];
  const framed = worn.length > 0 ? worn : [body];
  const whole = (['front', 'back'] as const).map((side): LetteredPicture => {
    const picture = drawPicture([body, ...worn], { ...views[side].view, ...large }, frameAround(framed));
    const letters = input.parts.flatMap(({ id, letter }) => {
      const shape = shapes.get(id);
      if (shape === undefined || dot(shape.normal, views[side].towards) < 0.25) return [];
      const [x, y] = picture.toPixel(shape.centre);
      return [{ letter, at: [x / large.width, y / large.height] as const }];
    });
    return { title: side === 'front' ? 'From the front' : 'From behind', picture, letters };
  });
  const ofPart = new Map<string, Picture>();
  for (const [part, shape] of shapes) {
    const side = facingSide(shape.normal, views);
    ofPart.set(part, drawPicture([body, shape], { ...views[side].view, ...small }, frameAround(framed)));
  }
  return { whole, ofPart, colorOfPart: colors };
}

/** Mirrored pairs share a colour. */
function partColors(parts: ExportInput['parts']): Map<string, Rgb> {
  const colors = new Map<string, Rgb>();
  let next = 0;
  for (const { id, pair } of parts) {
    const shared = pair === undefined ? undefined : colors.get(pair);
    colors.set(id, shared ?? areaColor(next));
    if (shared === undefined) next++;
  }
  return colors;
}

interface SideView {
  readonly view: Pick<View, 'right' | 'up'>;
  readonly towards: Vec3;
}

const negative = ([x, y, z]: Vec3): Vec3 => [-x, -y, -z];
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** The wearer's left is on the right of a picture from the front. */
function sideViews(up: Vec3, front: Vec3, left: Vec3): Readonly<Record<Side, SideView>> {
  return {
    front: { view: { right: left, up }, towards: front },
    back: { view: { right: negative(left), up }, towards: negative(front) },
    left: { view: { right: negative(front), up }, towards: left },
    right: { view: { right: front, up }, towards: negative(left) },
  };
}

function facingSide(normal: Vec3, views: Readonly<Record<Side, SideView>>): Side {
  return (['front', 'back', 'left', 'right'] as const).reduce((best, side) =>
    dot(normal, views[side].towards) > dot(normal, views[best].towards) + 0.1 ? side : best,
  );
}

/** The worn parts with some body around them, as a shape that only sets the frame. */
function frameAround(shapes: readonly Shape[]): readonly Shape[] {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const { positions } of shapes)
    for (let k = 0; k < positions.length; k++) {
      low[k % 3] = Math.min(low[k % 3], positions[k]);
      high[k % 3] = Math.max(high[k % 3], positions[k]);
    }
  const room = 0.06 * Math.max(...high.map((value, k) => value - low[k]));
  const positions = Float64Array.of(...low.map((value) => value - room), ...high.map((value) => value + room));
  return [{ positions, faces: new Uint32Array(0), colorOf: () => clay, liftMm: 0 }];
}

/** Mean outward normal and the vertex nearest to the mean place. */
function middleOf(positions: F64, faces: U32): { readonly normal: Vec3; readonly centre: Vec3 } {
  const normal: [number, number, number] = [0, 0, 0];
  for (let f = 0; f < faces.length; f += 3) {
    const [a, b, c] = [3 * faces[f], 3 * faces[f + 1], 3 * faces[f + 2]];
    const u = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const v = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    normal[0] += u[1] * v[2] - u[2] * v[1];
    normal[1] += u[2] * v[0] - u[0] * v[2];
    normal[2] += u[0] * v[1] - u[1] * v[0];
  }
  const length = Math.hypot(...normal);
  const mean: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < positions.length; k++) mean[k % 3] += (3 * positions[k]) / positions.length;
  let [best, bestDistance] = [0, Infinity];
  for (let k = 0; k < positions.length; k += 3) {
    const distance = Math.hypot(positions[k] - mean[0], positions[k + 1] - mean[1], positions[k + 2] - mean[2]);
    if (distance < bestDistance) [best, bestDistance] = [k, distance];
  }
  const unit: Vec3 = length > 0 ? [normal[0] / length, normal[1] / length, normal[2] / length] : [0, 0, 1];
  return { normal: unit, centre: [positions[best], positions[best + 1], positions[best + 2]] };
}
