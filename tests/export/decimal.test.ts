import { describe, expect, it } from 'vitest';
import { decimal } from '../../src/export/decimal.ts';

describe('decimal', () => {
  it('writes plain decimals without trailing zeros [closed form]', () => {
    expect(decimal(1.5, 4)).toBe('1.5');
    expect(decimal(100, 4)).toBe('100');
    expect(decimal(2.00004, 4)).toBe('2');
    expect(decimal(1200, 0)).toBe('1200');
  });
  it('never writes an exponent or a negative nought [XML Schema decimal]', () => {
    expect(decimal(1e-9, 4)).toBe('0');
    expect(decimal(-1e-9, 4)).toBe('0');
    expect(decimal(0.0000012, 7)).toBe('0.0000012');
  });
  it('refuses what is not a number', () => {
    expect(() => decimal(NaN, 2)).toThrow(RangeError);
    expect(() => decimal(Infinity, 2)).toThrow(RangeError);
  });
});
