import { unzipSync } from 'fflate';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { deflate, zip, zipFiles } from '../../src/export/zip.ts';
import { handInput, handOptions } from '../support/drawings.ts';

const files = [
  { path: 'sheets/b.svg', bytes: Uint8Array.of(1, 2, 3) },
  { path: 'a.txt', bytes: new Uint8Array(1000) },
];

describe('zipFiles', () => {
  it('gives every file back [round trip]', () => {
    const back = unzipSync(zipFiles(files, '2026-11-25'));
    expect(Object.keys(back)).toEqual(['a.txt', 'sheets/b.svg']);
    expect(back['sheets/b.svg']).toEqual(Uint8Array.of(1, 2, 3));
  });
  it('depends on content and date alone, not on order [invariant]', () => {
    expect(zipFiles([...files].reverse(), '2026-11-25')).toEqual(zipFiles(files, '2026-11-25'));
    expect(zipFiles(files, '2026-11-26')).not.toEqual(zipFiles(files, '2026-11-25'));
  });
  it('carries the job’s date at noon in every time zone [spec: MS-DOS time in PKZIP]', () => {
    const bytes = zipFiles(files, '2026-11-25');
    const time = bytes[10] | (bytes[11] << 8);
    const date = bytes[12] | (bytes[13] << 8);
    expect(time >> 11).toBe(12);
    expect([1980 + (date >> 9), (date >> 5) & 15, date & 31]).toEqual([2026, 11, 25]);
  });
});

describe('deflate', () => {
  it('is a zlib stream [node:zlib]', () => {
    const bytes = Uint8Array.from({ length: 5000 }, (_, k) => k % 7);
    expect(Uint8Array.from(inflateSync(deflate(bytes)))).toEqual(bytes);
  });
});

describe('zip', () => {
  it('holds the files written so far', async () => {
    const [file] = await zip.write(
      { ...handInput(), files: [{ path: 'x.svg', format: 'svg', mediaType: 'image/svg+xml', bytes: Uint8Array.of(7) }] },
      handOptions,
    );
    expect(file.path).toBe('all.zip');
    expect(Object.keys(unzipSync(Uint8Array.from(file.bytes as Uint8Array)))).toEqual(['x.svg']);
  });
});
