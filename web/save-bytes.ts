/*
 * Handing a file to the maker.
 */
import type { U8 } from '../src/base/arrays.ts';
import { blobPart } from './store.ts';

export function saveBytes(name: string, mediaType: string, bytes: U8): void {
  const address = URL.createObjectURL(new Blob([blobPart(bytes)], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name.replace(/[/\\:*?"<>|]+/g, '-');
  link.click();
  // The browser reads the address when it begins to save; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
