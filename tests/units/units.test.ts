import { describe, expect, it } from 'vitest';
import { toDegrees, toRadians } from '../../src/units/angle.ts';
import { lengthUnits, parseUnit, unitMm } from '../../src/units/length.ts';

describe('lengths', () => {
  it('hold 25.4 mm to the inch, exactly [international yard and pound agreement, 1959]', () => {
    expect(unitMm.in).toBe(25.4);
    expect([unitMm.mm, unitMm.cm, unitMm.m]).toEqual([1, 10, 1000]);
  });
  it('are known by their word, others are refused with the words that would do [invariant]', () => {
    for (const unit of lengthUnits) expect(parseUnit(unit)).toBe(unit);
    expect(() => parseUnit('ft')).toThrow(expect.objectContaining({ code: 'units/unknown-unit', mend: 'Use one of mm, cm, m, in.' }));
  });
});

describe('angles', () => {
  it('go there and back, a right angle being π/2 [closed form]', () => {
    expect(toRadians(90)).toBe(Math.PI / 2);
    expect(toDegrees(Math.PI)).toBe(180);
    expect(toDegrees(toRadians(33.3))).toBeCloseTo(33.3, 12);
  });
});
