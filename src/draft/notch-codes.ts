/*
 * Codes of notches: how many ticks stand at each notch along a seam, such as 2-1. No code reads the same from both ends, and no two seams of a job
 * share one even when read from the other end, so that a wrong pair, or a right pair turned round, cannot match.
 */

/** Most ticks at one notch: more cannot be told apart at a glance. Common practice. */
export const mostTicks = 4;

/** Most notches to which a short seam's code may be lengthened when shorter codes have run out. */
const mostExtra = 2;

export interface CodeRequest {
  readonly seam: string;
  readonly lengthMm: number;
  /** Notches that the seam's length and curves ask for, two at least. */
  readonly count: number;
  /** Notches that fit on the seam. */
  readonly room: number;
}

/**
 * A code for each seam, longest seam first. Of the codes with the wanted number of notches the one with the fewest ticks is taken.
 * @returns ticks at each notch by seam; seams that no code was left for are missing
 */
export function assignCodes(requests: readonly CodeRequest[]): Map<string, readonly number[]> {
  const taken = new Set<string>();
  const codes = new Map<string, readonly number[]>();
  const inOrder = [...requests].sort((a, b) => b.lengthMm - a.lengthMm || (a.seam < b.seam ? -1 : 1));
  for (const { seam, lengthMm, count, room } of inOrder) {
    const code = freeCode(lengthMm, count, Math.max(count, Math.min(room, count + mostExtra)), taken);
    if (code === undefined) continue;
    taken.add(codeKey(code));
    codes.set(seam, code);
  }
  return codes;
}

/** The code as written: 2-1. */
export const codeText = (code: readonly number[]): string => code.join('-');

/** One key for a code and its mirror image. */
function codeKey(code: readonly number[]): string {
  const [forward, backward] = [codeText(code), codeText([...code].reverse())];
  return forward < backward ? forward : backward;
}

/** True if the code reads the same from both ends. */
export const isPalindrome = (code: readonly number[]): boolean => code.every((ticks, i) => ticks === code[code.length - 1 - i]);

/** Distance between the ticks of one notch, mm. */
export const tickGapMm = 2.5;

/** Share of its spacing by which the first notch stands off the seam's start (`notchShares`). */
export const firstShare = 0.35;

/** Ticks that find room at the first notch, which stands nearest to an end, without passing it; two at least. */
function ticksWithRoom(lengthMm: number, count: number): number {
  const half = (firstShare * lengthMm) / count - 1;
  return Math.max(2, Math.min(mostTicks, Math.floor(1 + (2 * half) / tickGapMm)));
}

function freeCode(lengthMm: number, count: number, longest: number, taken: ReadonlySet<string>): readonly number[] | undefined {
  for (let length = count; length <= longest; length++) {
    const most = ticksWithRoom(lengthMm, length);
    for (let ticks = length + 1; ticks <= length * most; ticks++) {
      const code = codeOfSum(length, ticks, most, taken, []);
      if (code !== undefined) return code;
    }
  }
  return undefined;
}

/** The first free code of a length and number of ticks, larger notches first, so that most codes begin with their largest. */
function codeOfSum(
  length: number,
  ticks: number,
  most: number,
  taken: ReadonlySet<string>,
  begun: readonly number[],
): readonly number[] | undefined {
  const left = length - begun.length;
  if (left === 0) return ticks === 0 && !isPalindrome(begun) && !taken.has(codeKey(begun)) ? begun : undefined;
  for (let next = Math.min(most, ticks - (left - 1)); next >= 1; next--) {
    if (ticks - next > (left - 1) * most) break;
    const code = codeOfSum(length, ticks - next, most, taken, [...begun, next]);
    if (code !== undefined) return code;
  }
  return undefined;
}
