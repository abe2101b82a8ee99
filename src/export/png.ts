/*
 * PNG files of pictures [png-spec]: signature, IHDR, one IDAT of unfiltered rows, IEND; and their base64 for pages that stand alone.
 */
import type { Picture } from './picture.ts';
import { deflate } from './zip.ts';

/** The bytes of an 8-bit RGB PNG. */
export function encodePng({ width, height, rgb }: Pick<Picture, 'width' | 'height' | 'rgb'>): Uint8Array {
  const rows = new Uint8Array(height * (3 * width + 1));
  for (let row = 0; row < height; row++) rows.set(rgb.subarray(3 * width * row, 3 * width * (row + 1)), row * (3 * width + 1) + 1);
  const head = [...bigEndian(width), ...bigEndian(height), 8, 2, 0, 0, 0];
  const chunks = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', Uint8Array.from(head)),
    chunk('IDAT', deflate(rows)),
    chunk('IEND', new Uint8Array(0)),
  ];
  return Uint8Array.from(chunks.flatMap((part) => Array.from(part)));
}

function chunk(name: string, body: Uint8Array): Uint8Array {
  const named = new Uint8Array(4 + body.length);
  named.set([...name].map((sign) => sign.charCodeAt(0)));
  named.set(body, 4);
  return Uint8Array.from([...bigEndian(body.length), ...named, ...bigEndian(crc32(named))]);
}

const bigEndian = (value: number): readonly number[] => [(value >>> 24) & 255, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];

/** Cyclic redundancy check with polynomial 0xEDB88320, reflected, as PNG and zip use it. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Base64 of bytes [rfc4648 §4]. */
export function base64(bytes: Uint8Array): string {
  let out = '';
  for (let k = 0; k < bytes.length; k += 3) {
    const word = (bytes[k] << 16) | ((bytes[k + 1] ?? 0) << 8) | (bytes[k + 2] ?? 0);
    out += alphabet[(word >> 18) & 63] + alphabet[(word >> 12) & 63];
    out += (k + 1 < bytes.length ? alphabet[(word >> 6) & 63] : '=') + (k + 2 < bytes.length ? alphabet[word & 63] : '=');
  }
  return out;
}
