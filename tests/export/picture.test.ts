/* Also png.ts and area-colors.ts. */
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { areaColor } from '../../src/export/area-colors.ts';
import { drawPicture, type Shape } from '../../src/export/picture.ts';
import { base64, crc32, encodePng } from '../../src/export/png.ts';

const square = (z: number, color: readonly [number, number, number], half = 10): Shape => ({
  positions: Float64Array.of(-half, -half, z, half, -half, z, half, half, z, -half, half, z),
  faces: Uint32Array.of(0, 1, 2, 0, 2, 3),
  colorOf: () => color,
  liftMm: 0,
});
const view = { right: [1, 0, 0], up: [0, 1, 0], width: 100, height: 100 } as const;
const pixel = ({ rgb, width }: { readonly rgb: Uint8Array; readonly width: number }, x: number, y: number): number[] =>
  Array.from(rgb.subarray(3 * (y * width + x), 3 * (y * width + x) + 3));

describe('drawPicture', () => {
  it('shows what is nearer, whatever the order [invariant]', () => {
    const [near, far] = [square(5, [200, 0, 0], 5), square(0, [0, 0, 200])];
    for (const shapes of [
      [near, far],
      [far, near],
    ]) {
      const picture = drawPicture(shapes, view);
      expect(pixel(picture, 50, 50)[0]).toBeGreaterThan(0);
      expect(pixel(picture, 50, 50)[2]).toBe(0);
      expect(pixel(picture, 10, 50)[2]).toBeGreaterThan(0);
    }
  });
  it('fills the frame but for its rim, and leaves the rest white [closed form: 92 of 100 pixels]', () => {
    const picture = drawPicture([square(0, [10, 20, 30])], view);
    let drawn = 0;
    for (let k = 0; k < picture.rgb.length; k += 3) if (picture.rgb[k] !== 255) drawn++;
    expect(drawn).toBe(92 * 92);
    expect(pixel(picture, 1, 1)).toEqual([255, 255, 255]);
    expect(picture.toPixel([0, 0, 0])).toEqual([50, 50]);
  });
  it('darkens what is seen from behind', () => {
    const behind = drawPicture([square(0, [200, 200, 200])], { ...view, right: [-1, 0, 0] });
    expect(pixel(behind, 50, 50)[0]).toBeLessThan(pixel(drawPicture([square(0, [200, 200, 200])], view), 50, 50)[0]);
  });
});

describe('encodePng', () => {
  it('has chunks with true checks and the pixels within [PNG specification, node:zlib]', () => {
    const rgb = Uint8Array.from({ length: 12 }, (_, k) => 20 * k);
    const bytes = encodePng({ width: 2, height: 2, rgb });
    const data = new DataView(bytes.buffer);
    let at = 8;
    const names: string[] = [];
    while (at < bytes.length) {
      const length = data.getUint32(at);
      const body = bytes.subarray(at + 4, at + 8 + length);
      names.push(String.fromCharCode(...body.subarray(0, 4)));
      expect(data.getUint32(at + 8 + length)).toBe(crc32(body));
      if (names.at(-1) === 'IDAT')
        expect(Array.from(inflateSync(body.subarray(4)))).toEqual([0, ...rgb.subarray(0, 6), 0, ...rgb.subarray(6)]);
      at += 12 + length;
    }
    expect(names).toEqual(['IHDR', 'IDAT', 'IEND']);
  });
  it('knows the check of an empty IEND [PNG specification: AE426082]', () => {
    expect(crc32(Uint8Array.of(0x49, 0x45, 0x4e, 0x44))).toBe(0xae426082);
  });
});

describe('base64', () => {
  it('agrees with the platform for every remainder [RFC 4648; second route: Buffer]', () => {
    for (const length of [0, 1, 2, 3, 4, 5, 255]) {
      const bytes = Uint8Array.from({ length }, (_, k) => (k * 37) & 255);
      expect(base64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
    }
  });
});

describe('areaColor', () => {
  it('gives seven colours and begins again', () => {
    expect(new Set(Array.from({ length: 7 }, (_, k) => areaColor(k).join())).size).toBe(7);
    expect(areaColor(7)).toEqual(areaColor(0));
  });
});
