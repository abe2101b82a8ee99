import { describe, expect, it } from 'vitest';
import type { CodeRequest } from '../../src/draft/notch-codes.ts';
import { assignCodes, codeText, isPalindrome, mostTicks } from '../../src/draft/notch-codes.ts';

const request = (seam: string, lengthMm: number, count: number, room = count): CodeRequest => ({ seam, lengthMm, count, room });
const keyOf = (code: readonly number[]): string => [codeText(code), codeText([...code].reverse())].sort()[0];

describe('assignCodes', () => {
  it('gives no code twice, not even mirrored, and none that reads the same reversed [contract: Notches]', () => {
    const requests = Array.from({ length: 60 }, (_, i) => request(`S${i + 1}`, 700 - 5 * i, 2 + (i % 4), 8));
    const codes = assignCodes(requests);
    expect(codes.size).toBe(60);
    expect(new Set([...codes.values()].map(keyOf)).size).toBe(60);
    for (const code of codes.values()) {
      expect(isPalindrome(code)).toBe(false);
      expect(code.length).toBeGreaterThanOrEqual(2);
      expect(Math.max(...code)).toBeLessThanOrEqual(mostTicks);
    }
  });

  it('serves the longest seam first, with the fewest ticks [contract: Notches]', () => {
    const codes = assignCodes([request('S1', 50, 2), request('S2', 300, 2), request('S3', 100, 2)]);
    expect(codeText(codes.get('S2') ?? [])).toBe('2-1');
    expect(codeText(codes.get('S3') ?? [])).toBe('3-1');
    expect((codes.get('S1') ?? []).reduce((a, b) => a + b)).toBe(5);
  });

  it('has (k² − k)/2 codes of two notches with up to k ticks, and no more [closed form: unordered pairs of unlike counts]', () => {
    const codes = assignCodes(Array.from({ length: 9 }, (_, i) => request(`S${i}`, 100 - i, 2)));
    expect(codes.size).toBe((mostTicks * mostTicks - mostTicks) / 2);
  });

  it('lengthens a code where there is room when the short ones have run out [contract: Notches]', () => {
    const codes = assignCodes(Array.from({ length: 9 }, (_, i) => request(`S${i}`, 100 - i, 2, 3)));
    expect(codes.size).toBe(9);
    expect(codes.get('S8')?.length).toBe(3);
  });

  it('gives a seam of 12 mm no more ticks than stand between its first notch and its end [closed form: 0.35·L/2 = 2.1 mm]', () => {
    expect(codeText(assignCodes([request('S1', 12, 2)]).get('S1') ?? [])).toBe('2-1');
    expect(assignCodes([request('S1', 12, 2), request('S2', 11, 2)]).size).toBe(1);
  });

  it('does not depend on the order of the seams [invariant]', () => {
    const requests = [request('S1', 50, 2), request('S2', 300, 3), request('S3', 100, 2)];
    expect(assignCodes([...requests].reverse())).toEqual(assignCodes(requests));
  });
});
