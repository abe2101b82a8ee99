import { describe, expect, it } from 'vitest';
import {
  count,
  degrees,
  factor,
  formatQuantity,
  lengthFine,
  lengthMm,
  parseQuantity,
  percent,
  showBytes,
} from '../../web/fields/quantity.ts';

const narrow = '\u202f';

describe('parseQuantity', () => {
  it.each([
    ['12', 12],
    ['12 mm', 12],
    ['1.5cm', 15],
    ['1,5 cm', 15],
    ['0.3 m', 300],
    ['4 in', 101.6],
    ['4"', 101.6],
    ['1/4 in', 6.35],
    ['3 1/2 in', 88.9],
    ['1 m 20 cm', 1200],
    ['-3', -3],
    ['\u22123 mm', -3],
    ['.5', 0.5],
  ])('reads %s as %f mm [25.4 mm to the inch]', (text, mm) => {
    expect(parseQuantity(text, lengthMm)).toBeCloseTo(mm, 10);
  });

  it.each(['', 'wide', '12 px', '1 2', '3 mm 4', '5 mm -2 mm', '1/0 in', '1..2'])('takes %j for no length', (text) => {
    expect(parseQuantity(text, lengthMm)).toBeUndefined();
  });

  it('reads per cent as ratios, with or without the sign [closed form]', () => {
    expect(parseQuantity('6 %', percent)).toBeCloseTo(0.06, 12);
    expect(parseQuantity('6', percent)).toBeCloseTo(0.06, 12);
  });

  it('reads back what it shows, for every kind of number [round trip]', () => {
    for (const quantity of [lengthMm, lengthFine, percent, degrees, count, factor])
      for (const value of [0, 1, 2.5, -7.25, 1234.5, 0.061]) {
        const text = formatQuantity(value, quantity);
        const again = parseQuantity(text.replace(/^×/, ''), quantity);
        const step = 0.5 * 10 ** -quantity.places * (quantity.units[quantity.shown] ?? 1);
        expect(Math.abs((again ?? NaN) - value), `${text} of ${quantity.shown}`).toBeLessThanOrEqual(step + 1e-12);
      }
  });
});

describe('formatQuantity', () => {
  it('leaves out noughts that say nothing, and has a true minus [typography]', () => {
    expect(formatQuantity(40, lengthMm)).toBe(`40${narrow}mm`);
    expect(formatQuantity(-0.04, lengthMm)).toBe(`0${narrow}mm`);
    expect(formatQuantity(-2.5, lengthMm)).toBe(`\u22122.5${narrow}mm`);
    expect(formatQuantity(0.1, percent)).toBe(`10${narrow}%`);
  });
});

describe('showBytes', () => {
  it('counts in thousands [SI prefixes]', () => {
    expect(showBytes(999)).toBe(`999${narrow}B`);
    expect(showBytes(12_400)).toBe(`12${narrow}kB`);
    expect(showBytes(3_250_000)).toBe(`3.3${narrow}MB`);
  });
});
