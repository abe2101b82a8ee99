import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../src/base/hash.ts';
import { createRandom } from '../../src/base/random.ts';

const ascii = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('sha256', () => {
  it('gives the published digest of "abc" [fips180 example B.1]', () => {
    expect(sha256(ascii('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('gives the published digest of a message of two blocks [fips180 example B.2]', () => {
    const message = 'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq';
    expect(sha256(ascii(message))).toBe('248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1');
  });

  it('gives the published digest of a million letters a [fips180 example B.3]', () => {
    expect(sha256(ascii('a'.repeat(1_000_000)))).toBe('cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0');
  });

  it('agrees with another implementation at every length around a block, in one chunk or several [second route]', () => {
    const random = createRandom(7);
    const bytes = Uint8Array.from({ length: 200 }, () => Math.floor(random() * 256));
    for (let length = 0; length <= 200; length++) {
      const expected = createHash('sha256').update(bytes.subarray(0, length)).digest('hex');
      expect(sha256(bytes.subarray(0, length))).toBe(expected);
      const cut = Math.floor(random() * (length + 1));
      expect(sha256(bytes.subarray(0, cut), bytes.subarray(cut, length))).toBe(expected);
    }
  });
});
