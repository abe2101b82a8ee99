import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { asciiText, createTextScanner, lineOf } from '../../src/read/text-scanner.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const parsed = (text: string): number => createTextScanner(bytesOf(text)).number();

describe('createTextScanner', () => {
  it('reads any decimal to the same bits as the engine’s own parser [second route]', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.integer({ min: 0, max: 20 }), (value, digits) => {
        for (const text of [String(value), value.toExponential(digits), value.toPrecision(Math.max(1, digits))])
          expect(Object.is(parsed(text), Number.isFinite(Number(text)) ? Number(text) : NaN), text).toBe(true);
      }),
      { seed: 11, numRuns: 2000 },
    );
  });

  it('reads signs, bare points and exponents [spec: C number grammar]', () => {
    for (const [text, value] of [
      ['+1', 1],
      ['-2.', -2],
      ['.5', 0.5],
      ['-.25e1', -2.5],
      ['3.1E+2', 310],
      ['1e-7', 1e-7],
      ['123456789012345678901234567890', 123456789012345678901234567890],
      ['0.1000000000000000055511151231257827', 0.1],
    ] as const)
      expect(parsed(text), text).toBe(value);
  });

  it('gives NaN for what is no finite number, and stays at its start [invariant]', () => {
    for (const text of ['nan', 'inf', '1.#IND', '1,5', '--1', '1e', '1e999', '3.1+e2', '0x10', '', '-']) {
      const scan = createTextScanner(bytesOf(text));
      expect(scan.number(), text).toBeNaN();
      expect(scan.at(), text).toBe(0);
    }
  });

  it('joins a line that ends in a backslash with the next one, with LF and CRLF [spec: OBJ line continuation]', () => {
    for (const end of ['\n', '\r\n']) {
      const scan = createTextScanner(bytesOf(`1 \\${end} 2${end}3`));
      expect(scan.number()).toBe(1);
      expect(scan.atLineEnd()).toBe(false);
      expect(scan.number()).toBe(2);
      expect(scan.atLineEnd()).toBe(true);
      scan.skipLine();
      expect(scan.number()).toBe(3);
    }
  });

  it('counts lines for LF, CRLF and CR alone [closed form]', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const text = ['a', 'b', 'c'].join(end);
      expect(lineOf(bytesOf(text), text.length)).toBe(3);
      expect(lineOf(bytesOf(text), 0)).toBe(1);
    }
  });

  it('shows words without their unprintable letters [closed form]', () => {
    expect(asciiText(bytesOf('aé\tb'), 0, 9)).toBe('a???b');
    expect(createTextScanner(bytesOf('word next')).word()).toBe('word');
  });
});
