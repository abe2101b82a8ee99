/*
 * SHA-256 [fips180], for recognising a body file and equal content. Plain 32-bit arithmetic: the same in every engine, and there without
 * the browser's asynchronous service.
 */

/** Fractional parts of the cube roots of the first 64 primes, 32 bits each [fips180 §4.2.2]. */
const roundConstants = Uint32Array.from([
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01, 0x243185be,
  0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa,
  0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967, 0x27b70a85,
  0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3,
  0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070, 0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f,
  0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
]);

/** Fractional parts of the square roots of the first eight primes, 32 bits each [fips180 §5.3.3]. */
const startState = [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19] as const;

/**
 * SHA-256 of the chunks, one after another.
 * @param chunks bytes; typed arrays of any kind are taken as their bytes
 * @returns 64 hexadecimal digits, lower case. Cost: linear, about 200 MB a second.
 * @source [fips180] §6.2
 */
export function sha256(...chunks: readonly ArrayBufferView[]): string {
  const state = Uint32Array.from(startState);
  const schedule = new Uint32Array(64);
  const block = new Uint8Array(64);
  let held = 0;
  let byteTotal = 0;
  for (const chunk of chunks) {
    const bytes = new Uint8Array(chunk.buffer, chunk.byteOffset, chunk.byteLength);
    byteTotal += bytes.length;
    let at = 0;
    while (held + bytes.length - at >= 64) {
      if (held === 0) {
        compressInto(state, schedule, bytes, at);
        at += 64;
      } else {
        block.set(bytes.subarray(at, at + 64 - held), held);
        at += 64 - held;
        held = 0;
        compressInto(state, schedule, block, 0);
      }
    }
    block.set(bytes.subarray(at), held);
    held += bytes.length - at;
  }
  finishInto(state, schedule, block, held, byteTotal);
  return Array.from(state, (word) => word.toString(16).padStart(8, '0')).join('');
}

/** A one bit, zeros, and the length in bits as 64-bit big-endian [fips180 §5.1.1]. */
function finishInto(state: Uint32Array, schedule: Uint32Array, block: Uint8Array, held: number, byteTotal: number): void {
  block[held] = 0x80;
  block.fill(0, held + 1);
  if (held >= 56) {
    compressInto(state, schedule, block, 0);
    block.fill(0);
  }
  const high = Math.floor(byteTotal / 0x20000000);
  const low = (byteTotal << 3) >>> 0;
  for (let i = 0; i < 4; i++) {
    block[56 + i] = (high >>> (24 - 8 * i)) & 255;
    block[60 + i] = (low >>> (24 - 8 * i)) & 255;
  }
  compressInto(state, schedule, block, 0);
}

/** One block of 64 bytes [fips180 §6.2.2]. */
function compressInto(state: Uint32Array, schedule: Uint32Array, bytes: Uint8Array, at: number): void {
  for (let t = 0; t < 16; t++) {
    const i = at + 4 * t;
    schedule[t] = (bytes[i] << 24) | (bytes[i + 1] << 16) | (bytes[i + 2] << 8) | bytes[i + 3];
  }
  for (let t = 16; t < 64; t++) {
    const x = schedule[t - 15];
    const y = schedule[t - 2];
    const small0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
    const small1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
    schedule[t] = (schedule[t - 16] + small0 + schedule[t - 7] + small1) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state;
  for (let t = 0; t < 64; t++) {
    const big1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const choose = (e & f) ^ (~e & g);
    const first = (h + big1 + choose + roundConstants[t] + schedule[t]) | 0;
    const big0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const majority = (a & b) ^ (a & c) ^ (b & c);
    const second = (big0 + majority) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + first) | 0;
    d = c;
    c = b;
    b = a;
    a = (first + second) | 0;
  }
  state[0] += a;
  state[1] += b;
  state[2] += c;
  state[3] += d;
  state[4] += e;
  state[5] += f;
  state[6] += g;
  state[7] += h;
}
