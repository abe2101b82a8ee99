/*
 * Gateway to the WebAssembly kernels: one compiled module a thread, one memory a factorisation, and the plain kernels where WebAssembly is
 * missing or forbidden. Both give the same bits, so no result depends on which is used.
 */
import { createPlainKernel } from './fronts.ts';
import type { Kernel } from './fronts.ts';
import { kernelBytes } from './wasm/kernel-bytes.ts';

const pageBytes = 65536;
/** What a WebAssembly memory of 32-bit addresses can hold, less a page. */
export const mostBytes = 65535 * pageBytes;

/** A memory with the kernels bound to it. */
export interface KernelMemory {
  readonly name: 'wasm' | 'plain';
  readonly buffer: ArrayBuffer;
  readonly kernel: Kernel;
  readonly workBytes: number;
}

/** Bytes from base64 text; the engine-neutral library has no decoder. */
function decode(text: string): Uint8Array<ArrayBuffer> {
  const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
  const value = new Uint8Array(128);
  for (let k = 0; k < 64; k++) value[digits.charCodeAt(k)] = k;
  const length = text.endsWith('==') ? (text.length / 4) * 3 - 2 : text.endsWith('=') ? (text.length / 4) * 3 - 1 : (text.length / 4) * 3;
  const bytes = new Uint8Array(length);
  for (let k = 0, at = 0; k < text.length; k += 4) {
    const word =
      (value[text.charCodeAt(k)] << 18) |
      (value[text.charCodeAt(k + 1)] << 12) |
      (value[text.charCodeAt(k + 2)] << 6) |
      value[text.charCodeAt(k + 3)];
    for (let shift = 16; shift >= 0 && at < length; shift -= 8) bytes[at++] = word >> shift;
  }
  return bytes;
}

/** A constant that is computed when first asked for. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** The compiled module; undefined where the engine has no WebAssembly, no vectors in it, or a policy forbids it. */
const compiled = once((): WebAssembly.Module | undefined => {
  if (typeof WebAssembly === 'undefined') return undefined;
  try {
    return new WebAssembly.Module(decode(kernelBytes));
  } catch {
    // Refused by a content policy, or no SIMD: the plain kernels do the same, slower.
    return undefined;
  }
});

/**
 * A memory of at least so many bytes with its kernels, all nought.
 * @throws RangeError where the engine cannot give so much.
 */
export function createKernelMemory(bytes: number, prefer: 'wasm' | 'plain' = 'wasm'): KernelMemory {
  const pages = Math.ceil(bytes / pageBytes);
  const module = prefer === 'wasm' ? compiled() : undefined;
  if (module === undefined) {
    const buffer = new ArrayBuffer(pages * pageBytes);
    return { name: 'plain', buffer, kernel: createPlainKernel(buffer), workBytes: 0 };
  }
  const memory = new WebAssembly.Memory({ initial: pages, maximum: pageBytes });
  const { exports } = new WebAssembly.Instance(module, { env: { memory } });
  const { workBytes, ...kernel } = exports as unknown as Kernel & { readonly workBytes: () => number };
  return { name: 'wasm', buffer: memory.buffer, kernel, workBytes: workBytes() };
}

/** Scratch that the block kernels need, bytes; asked for before a memory is made. */
export const kernelWorkBytes = 16 * 96 * (192 + 4 + 2 * 64);
