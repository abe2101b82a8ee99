/*
 * Small shaded pictures of meshes for the build sheet: straight parallel view, depth buffer, light from the upper left of the viewer. Plain
 * arithmetic, so the same pixels in every engine. The view is given by the directions that point right and up on the picture.
 */
import type { F64, U32, Vec2, Vec3 } from '../base/arrays.ts';

export interface Shape {
  /** mm, 3·n. */
  readonly positions: F64;
  readonly faces: U32;
  /** Colour of each face, 0…255. */
  readonly colorOf: (face: number) => readonly [number, number, number];
  /** Drawn this much nearer to the viewer, mm, so that a part shows on the body beneath it. */
  readonly liftMm: number;
}

export interface View {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly width: number;
  readonly height: number;
}

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** RGB, row by row from the top; 3·width·height. */
  readonly rgb: Uint8Array;
  /** Place of a point on the picture, pixels from the lower left. */
  readonly toPixel: (point: Vec3) => Vec2;
}

/** Share of the picture left free at its edge. */
const rim = 0.04;
const paper = 255;

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/**
 * Draws the shapes as large as fits the view.
 * @param focus the shape that sets the frame; absent: all
 */
export function drawPicture(shapes: readonly Shape[], view: View, focus: readonly Shape[] = shapes): Picture {
  const { right, up, width, height } = view;
  const towards = cross(right, up);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { positions } of focus)
    for (let k = 0; k < positions.length; k += 3) {
      const point: Vec3 = [positions[k], positions[k + 1], positions[k + 2]];
      const [x, y] = [dot(point, right), dot(point, up)];
      [minX, maxX, minY, maxY] = [Math.min(minX, x), Math.max(maxX, x), Math.min(minY, y), Math.max(maxY, y)];
    }
  const scale = Math.min((width * (1 - 2 * rim)) / (maxX - minX), (height * (1 - 2 * rim)) / (maxY - minY));
  const toPixel = (point: Vec3): Vec2 => [
    width / 2 + (dot(point, right) - (minX + maxX) / 2) * scale,
    height / 2 + (dot(point, up) - (minY + maxY) / 2) * scale,
  ];
  const rgb = new Uint8Array(3 * width * height).fill(paper);
  const depth = new Float64Array(width * height).fill(-Infinity);
  for (const shape of shapes) {
    const { positions, faces } = shape;
    const vertex = new Float64Array(positions.length);
    for (let k = 0; k < positions.length; k += 3) {
      const point: Vec3 = [positions[k], positions[k + 1], positions[k + 2]];
      const [x, y] = toPixel(point);
      vertex.set([x, y, dot(point, towards) * scale + shape.liftMm * scale], k);
    }
    for (let f = 0; f < faces.length / 3; f++) fillFaceInto(rgb, depth, view, vertex, faces, f, shape.colorOf(f));
  }
  return { width, height, rgb, toPixel };
}

/** Draws one face: pixels whose middle lies within, where it is nearer than what is there. Seen from behind it is darker. */
function fillFaceInto(
  rgb: Uint8Array,
  depth: Float64Array,
  { width, height }: View,
  vertex: F64,
  faces: U32,
  f: number,
  color: readonly [number, number, number],
): void {
  const [a, b, c] = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
  const [ax, ay, az, bx, by, bz, cx, cy, cz] = [...[a, b, c].flatMap((v) => [vertex[v], vertex[v + 1], vertex[v + 2]])];
  const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  if (area === 0) return;
  const normal = cross([bx - ax, by - ay, bz - az], [cx - ax, cy - ay, cz - az]);
  const length = Math.hypot(...normal);
  const facing = normal[2] < 0 ? -1 : 1;
  // Light direction (−0.37, 0.45, 0.81): over the viewer's left shoulder.
  const light = Math.max(0, (facing * (-0.37 * normal[0] + 0.45 * normal[1] + 0.81 * normal[2])) / length);
  const shade = (0.42 + 0.58 * light) * (facing < 0 ? 0.7 : 1);
  const rowFrom = Math.max(0, Math.ceil(Math.min(ay, by, cy) - 0.5));
  const rowTo = Math.min(height - 1, Math.floor(Math.max(ay, by, cy) - 0.5));
  const columnFrom = Math.max(0, Math.ceil(Math.min(ax, bx, cx) - 0.5));
  const columnTo = Math.min(width - 1, Math.floor(Math.max(ax, bx, cx) - 0.5));
  for (let row = rowFrom; row <= rowTo; row++)
    for (let column = columnFrom; column <= columnTo; column++) {
      const [x, y] = [column + 0.5, row + 0.5];
      const wa = ((bx - x) * (cy - y) - (by - y) * (cx - x)) / area;
      const wb = ((cx - x) * (ay - y) - (cy - y) * (ax - x)) / area;
      const wc = 1 - wa - wb;
      if (wa < 0 || wb < 0 || wc < 0) continue;
      const z = wa * az + wb * bz + wc * cz;
      const pixel = (height - 1 - row) * width + column;
      if (z <= depth[pixel]) continue;
      depth[pixel] = z;
      for (let k = 0; k < 3; k++) rgb[3 * pixel + k] = Math.round(color[k] * shade);
    }
}
