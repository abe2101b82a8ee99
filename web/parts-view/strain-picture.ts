/*
 * The strain of a flat part as a picture: each pixel's value is interpolated in its triangle. It reaches a little over the border; the
 * paper clips it with the outline.
 */
import type { F64 } from '../../src/base/arrays.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import { strainTable } from '../colours/strain-map.ts';
import { cornerStrain } from '../body-view/strain-values.ts';
import { boxOf } from './box.ts';

export interface StrainPicture {
  readonly address: string;
  /** Place in the part's own plane, mm: lower left corner and size. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface StrainLook {
  readonly strainEnd: number;
  readonly band: { readonly from: number; readonly to: number } | undefined;
}

const pxPerMm = 1.4;
const mostPx = 900;
/** The picture reaches this far over the border, pixels. */
const bleedPx = 2;

/** Pixels of the picture, r g b a, top row first. */
export function strainPixels(
  mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>,
  part: FlatPart,
  look: StrainLook,
): {
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
  readonly across: number;
  readonly down: number;
  readonly place: Omit<StrainPicture, 'address'>;
} {
  const { positions: q } = part;
  const box = boxOf(q);
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const scale = Math.min(pxPerMm, mostPx / Math.max(1, size));
  const margin = bleedPx / scale;
  const [left, top] = [box.minX - margin, box.maxY + margin];
  const across = Math.max(1, Math.ceil((box.maxX - box.minX + 2 * margin) * scale));
  const down = Math.max(1, Math.ceil((box.maxY - box.minY + 2 * margin) * scale));
  const pixels = new Uint8ClampedArray(4 * across * down);
  const depth = new Float32Array(across * down).fill(-Infinity);
  const table = strainTable(256);
  const { atVertex, ofFace } = cornerStrain(mesh, part);
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const corners = [0, 1, 2].map((i) => mesh.faces[3 * f + i]);
    const [ax, bx, cx] = corners.map((v) => (q[2 * v] - left) * scale);
    const [ay, by, cy] = corners.map((v) => (top - q[2 * v + 1]) * scale);
    const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
    if (area === 0) continue;
    // How far outside a pixel may lie, as a weight: the bleed over the height belonging to the longest edge.
    const longest = Math.max(Math.hypot(bx - ax, by - ay), Math.hypot(cx - bx, cy - by), Math.hypot(ax - cx, ay - cy));
    const slack = (-bleedPx * longest) / Math.abs(area);
    const isIn = !look.band || (ofFace[f] >= look.band.from && ofFace[f] <= look.band.to);
    const [x0, x1] = [
      Math.max(0, Math.floor(Math.min(ax, bx, cx) - bleedPx)),
      Math.min(across - 1, Math.ceil(Math.max(ax, bx, cx) + bleedPx)),
    ];
    const [y0, y1] = [
      Math.max(0, Math.floor(Math.min(ay, by, cy) - bleedPx)),
      Math.min(down - 1, Math.ceil(Math.max(ay, by, cy) + bleedPx)),
    ];
    for (let y = y0; y <= y1; y++)
      for (let x = x0; x <= x1; x++) {
        const second = ((x + 0.5 - ax) * (cy - ay) - (cx - ax) * (y + 0.5 - ay)) / area;
        const third = ((bx - ax) * (y + 0.5 - ay) - (x + 0.5 - ax) * (by - ay)) / area;
        const inside = Math.min(1 - second - third, second, third);
        const at = y * across + x;
        // The triangle that a pixel lies in wins over one that only bleeds into it.
        if (inside < slack || inside <= depth[at]) continue;
        depth[at] = Math.min(0, inside);
        const strain = (1 - second - third) * atVertex[corners[0]] + second * atVertex[corners[1]] + third * atVertex[corners[2]];
        const entry = 4 * Math.round(127.5 + 127.5 * Math.min(1, Math.max(-1, strain / look.strainEnd)));
        for (let k = 0; k < 3; k++)
          pixels[4 * at + k] = isIn ? (look.band ? table[entry + k] * 0.45 : table[entry + k]) : 0.4 * table[entry + k] + 140;
        pixels[4 * at + 3] = 255;
      }
  }
  return { pixels, across, down, place: { x: left, y: top - down / scale, width: across / scale, height: down / scale } };
}

let queue: Promise<unknown> = Promise.resolve();
const nextTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

const painted = new WeakMap<FlatPart, { readonly key: string; readonly picture: Promise<StrainPicture> }>();
const forgotten = new FinalizationRegistry<Promise<StrainPicture>>(
  (picture) => void picture.then(({ address }) => URL.revokeObjectURL(address)),
);

/** The picture as an address for an image, kept as long as the part itself and painted again only for another look. */
export function strainPicture(
  mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>,
  owner: FlatPart,
  positions: F64,
  look: StrainLook,
): Promise<StrainPicture> {
  const key = JSON.stringify(look);
  const known = painted.get(owner);
  if (known?.key === key) return known.picture;
  void known?.picture.then(({ address }) => setTimeout(() => URL.revokeObjectURL(address), 1000));
  // One part a turn: painting all at once would hold the page up.
  const picture = queue.then(nextTurn).then(() => paintStrain(mesh, { ...owner, positions }, look));
  queue = picture.catch(() => undefined);
  painted.set(owner, { key, picture });
  forgotten.register(owner, picture);
  return picture;
}

async function paintStrain(mesh: Pick<HalfEdgeMesh, 'positions' | 'faces'>, part: FlatPart, look: StrainLook): Promise<StrainPicture> {
  const { pixels, across, down, place } = strainPixels(mesh, part, look);
  const canvas = new OffscreenCanvas(across, down);
  canvas.getContext('2d')?.putImageData(new ImageData(pixels, across, down), 0, 0);
  return { ...place, address: URL.createObjectURL(await canvas.convertToBlob()) };
}
