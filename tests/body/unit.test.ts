/*
 * unit.ts and axes.ts: what a mesh does not say of itself.
 */
import { describe, expect, it } from 'vitest';
import { alongAxis, chooseAxes, directionOf, leftOf } from '../../src/body/axes.ts';
import { chooseUnit } from '../../src/body/unit.ts';

describe('chooseUnit', () => {
  it('takes the maker’s word, and says so when no body has that size [repro: inches said to be metres]', () => {
    expect(chooseUnit(1.7, 'm', 'unknown')).toEqual({ unit: 'm', from: 'given', findings: [] });
    const wrong = chooseUnit(67, 'm', 'unknown');
    expect(wrong).toMatchObject({ unit: 'm', from: 'given' });
    expect(wrong.findings.map((found) => [found.code, found.severity])).toEqual([['body/impossible-size', 'severe']]);
    expect(wrong.findings[0].what).toContain('67 m');
    expect(wrong.findings[0].mend).toContain('in (1702 mm)');
  });

  it('guesses by size, always with a finding [table of common files]', () => {
    for (const [longest, unit] of [
      [1.72, 'm'],
      [0.62, 'm'],
      [1720, 'mm'],
      [620, 'mm'],
      [172, 'cm'],
      [62, 'cm'],
      [17.7, 'cm'],
      [10, 'in'],
    ] as const) {
      const chosen = chooseUnit(longest, undefined, 'unknown');
      expect([chosen.unit, chosen.from], String(longest)).toEqual([unit, 'guess']);
      expect(chosen.findings.map((found) => found.code)).toEqual(['body/guessed-unit']);
    }
  });

  it('calls a guess severe where no unit gives a body [closed form]', () => {
    expect(chooseUnit(100_000, undefined, 'unknown').findings[0].severity).toBe('severe');
    expect(chooseUnit(4, undefined, 'unknown').findings[0].severity).toBe('severe');
    expect(chooseUnit(1.7, undefined, 'unknown').findings[0].severity).toBe('warning');
  });

  it('believes the format unless that is impossible [spec: glTF metres]', () => {
    expect(chooseUnit(1.7, undefined, 'm')).toEqual({ unit: 'm', from: 'file', findings: [] });
    const wrong = chooseUnit(1700, undefined, 'm');
    expect([wrong.unit, wrong.from]).toEqual(['mm', 'guess']);
    expect(wrong.findings[0].what).toContain('1700 m');
  });
});

describe('chooseAxes', () => {
  it('keeps what was chosen and proposes the rest by the tallest side [table]', () => {
    expect(chooseAxes([500, 1700, 300], 'z', 'x')).toEqual({ up: 'z', front: 'x', findings: [] });
    for (const [size, up, front] of [
      [[500, 1700, 300], 'y', 'z'],
      [[500, 300, 1700], 'z', '-y'],
      [[500, 480, 500], 'y', 'z'],
      [[1600, 1700, 300], 'y', 'z'],
      [[1800, 300, 1700], 'y', 'z'],
    ] as const) {
      const chosen = chooseAxes(size, undefined, undefined);
      expect([chosen.up, chosen.front], size.join(' ')).toEqual([up, front]);
      expect(chosen.findings.map((found) => found.code)).toEqual(['body/guessed-axes']);
    }
  });

  it('says when up and front are the same line [repro]', () => {
    expect(chooseAxes([1, 1, 1], 'y', '-y').findings.map((found) => found.code)).toEqual(['body/axes-clash']);
  });
});

describe('axes', () => {
  it('knows left as up × front: +x for a body that stands in y and looks along z [contract]', () => {
    expect(leftOf('y', 'z')).toEqual([1, 0, 0]);
    expect(leftOf('z', '-y')).toEqual([1, 0, 0]);
    expect(directionOf('-x')).toEqual([-1, 0, 0]);
    expect(alongAxis('-z', 1, 2, 3)).toBe(-3);
  });
});
