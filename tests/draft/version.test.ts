import { describe, expect, it } from 'vitest';
import { versionOf } from '../../src/draft/version.ts';

const outline = Float64Array.of(0.013, 0, 100.02, 0, 100.02, 50.01);

describe('versionOf', () => {
  it('is three letters, the same for the same part [invariant]', () => {
    expect(versionOf([outline], ['A'])).toMatch(/^[A-Z]{3}$/);
    expect(versionOf([outline], ['A'])).toBe(versionOf([Float64Array.from(outline)], ['A']));
  });

  it('does not see changes of a thousandth of a millimetre, and sees a tenth [invariant]', () => {
    expect(versionOf([outline.map((x) => x + 0.001)], ['A'])).toBe(versionOf([outline], ['A']));
    expect(versionOf([outline.map((x, i) => (i === 2 ? x + 0.1 : x))], ['A'])).not.toBe(versionOf([outline], ['A']));
  });

  it('sees words, and where one ends and the next begins [invariant]', () => {
    expect(versionOf([outline], ['AB', 'C'])).not.toBe(versionOf([outline], ['A', 'BC']));
    expect(versionOf([outline, Float64Array.of(1)], [])).not.toBe(versionOf([Float64Array.of(...outline, 1)], []));
  });

  it('spreads over its letters [closed form: 8000 codes; 500 parts collide about 15 times]', () => {
    const codes = new Set(Array.from({ length: 500 }, (_, i) => versionOf([Float64Array.of(i)], [])));
    expect(codes.size).toBeGreaterThan(465);
  });
});
