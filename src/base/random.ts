/*
 * Seeded random numbers: a 32-bit state stepped by a Weyl constant and scrambled by two multiply–xor–shift rounds.
 * Same seed, same numbers in every engine; `Math.random` is banned. Not for secrets.
 */

/**
 * A generator of numbers in [0, 1) with 32 bits of resolution.
 * @param seed any integer; only its low 32 bits count.
 */
export function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let x = state;
    x = Math.imul(x ^ (x >>> 16), 0x21f0aaad);
    x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
    return ((x ^ (x >>> 15)) >>> 0) / 4294967296;
  };
}
