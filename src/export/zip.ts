/*
 * Gateway to fflate on this floor: the zip of all files, and the deflate of PDF streams. The time in a zip is local by nature; written
 * from the job's date without a zone it gives the same bytes wherever it runs.
 */
import { zipSync, zlibSync, type Zippable } from 'fflate';
import type { U8 } from '../base/arrays.ts';
import type { Exporter, OutputFile } from './exporter.ts';

/** Bytes that fflate may read; it never writes into them. */
const plainBytes = (bytes: U8): Uint8Array => bytes as Uint8Array;

/** A zlib stream (deflate with its two-byte head), as PDF's FlateDecode wants it. */
export const deflate = (bytes: U8): Uint8Array => zlibSync(plainBytes(bytes), { level: 6 });

/**
 * A zip of files, in order of path.
 * @param date ISO date that every entry carries, noon
 */
export function zipFiles(files: readonly Pick<OutputFile, 'path' | 'bytes'>[], date: string): Uint8Array {
  const entries: Zippable = {};
  const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  for (const { path, bytes } of sorted) entries[path] = plainBytes(bytes);
  return zipSync(entries, { level: 6, mtime: `${date}T12:00:00` });
}

export const zip: Exporter = {
  format: 'zip',
  title: 'Everything in one zip',
  write: async (input, options) => [
    { path: 'all.zip', format: 'zip', mediaType: 'application/zip', bytes: zipFiles(input.files ?? [], options.date) },
  ],
};
