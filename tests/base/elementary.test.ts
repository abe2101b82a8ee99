import { describe, expect, it } from 'vitest';
import { acos, asin, atan, atan2, cbrt, cos, exp, log, pow, sin, tan } from '../../src/base/elementary.ts';
import { createRandom } from '../../src/base/random.ts';
import * as judge from '../support/fixed-point.ts';

/** Largest error in ulp over `count` arguments. */
function worst(
  count: number,
  argument: (random: () => number) => number,
  value: (x: number) => number,
  exact: (x: bigint) => bigint,
): number {
  const random = createRandom(20261125);
  let largest = 0;
  for (let i = 0; i < count; i++) {
    const x = argument(random);
    largest = Math.max(largest, judge.ulpsOff(value(x), exact(judge.toFixed(x))));
  }
  return largest;
}
const angle = (random: () => number): number => (random() - 0.5) * 2 * Math.pow(10, 9 * random() - 4);
const cosine = (random: () => number): number =>
  random() < 0.5 ? 2 * random() - 1 : (1 - Math.pow(10, -15 * random())) * (random() < 0.5 ? 1 : -1);
const positive = (random: () => number): number => Math.pow(10, 60 * random() - 30) * (0.5 + random());

describe('elementary functions against whole-number series', () => {
  it('sin and cos stay within 1 ulp for |x| ≤ 1e5 [second route]', () => {
    expect(worst(1500, angle, sin, judge.sinFixed)).toBeLessThan(1);
    expect(worst(1500, angle, cos, judge.cosFixed)).toBeLessThan(1);
  });
  it('tan stays within 2 ulp for |x| ≤ 1e5 [second route]', () => {
    expect(worst(1000, angle, tan, judge.tanFixed)).toBeLessThan(2);
  });
  it('sin and cos keep their digits beside multiples of π/2 and at huge arguments [second route]', () => {
    // 2²⁰⁰·(1 + random) needs the slow reduction; 355·k lies close to a multiple of π.
    const near = (random: () => number): number => 355 * Math.floor(1 + 280 * random());
    const huge = (random: () => number): number => (1 + random()) * Math.pow(2, 20 + 60 * random());
    expect(worst(200, near, sin, judge.sinFixed)).toBeLessThan(1);
    expect(worst(200, huge, sin, judge.sinFixed)).toBeLessThan(1);
    expect(worst(200, huge, cos, judge.cosFixed)).toBeLessThan(1);
    expect(judge.ulpsOff(cos(Math.PI / 2), judge.cosFixed(judge.toFixed(Math.PI / 2)))).toBeLessThan(1);
  });
  it('sin(1e22) is −0.8522008497671888 [ng1992]', () => {
    expect(sin(1e22)).toBe(-0.8522008497671888);
  });
  it('asin, acos and atan stay within 1 ulp [second route]', () => {
    expect(worst(800, cosine, asin, judge.asinFixed)).toBeLessThan(1);
    expect(worst(800, cosine, acos, judge.acosFixed)).toBeLessThan(1);
    expect(worst(800, positive, atan, judge.atanFixed)).toBeLessThan(1);
  });
  it('atan2 stays within 1 ulp of the angle of the exact quotient in all quadrants [second route]', () => {
    const random = createRandom(7);
    let largest = 0;
    for (let i = 0; i < 800; i++) {
      const x = (random() - 0.5) * Math.pow(10, 6 * random());
      const y = (random() - 0.5) * Math.pow(10, 6 * random());
      const right = judge.atanFixed(judge.ratioFixed(judge.toFixed(y), judge.toFixed(x)));
      const exact = x > 0 ? right : y > 0 ? right + judge.piFixed : right - judge.piFixed;
      largest = Math.max(largest, judge.ulpsOff(atan2(y, x), exact));
    }
    expect(largest).toBeLessThan(1);
  });
  it('exp stays within 1 ulp from −700 to 700 [second route]', () => {
    const random = createRandom(3);
    let largest = 0;
    for (let i = 0; i < 1500; i++) {
      const x = (random() - 0.5) * 1400 * Math.pow(10, -4 * random());
      const { mantissa, exponent } = judge.expFixed(judge.toFixed(x));
      largest = Math.max(largest, judge.ulpsOff(exp(x) * Math.pow(2, -Number(exponent)), mantissa));
    }
    expect(largest).toBeLessThan(1);
  });
  it('log stays within 1 ulp, also close to 1 [second route]', () => {
    expect(worst(800, positive, log, judge.logFixed)).toBeLessThan(1);
    expect(worst(800, (random) => 1 + (random() - 0.5) * Math.pow(10, -12 * random()), log, judge.logFixed)).toBeLessThan(1);
  });
  it('pow stays within 1 ulp where the result is far from 1 too [second route]', () => {
    const random = createRandom(11);
    let largest = 0;
    for (let i = 0; i < 800; i++) {
      const x = positive(random);
      const y = ((random() - 0.5) * 1300) / Math.max(1, Math.abs(Math.log(x)));
      const { mantissa, exponent } = judge.expFixed((judge.logFixed(judge.toFixed(x)) * judge.toFixed(y)) >> judge.places);
      largest = Math.max(largest, judge.ulpsOff(pow(x, y) * Math.pow(2, -Number(exponent)), mantissa));
    }
    expect(largest).toBeLessThan(1);
  });
  it('the cube of cbrt(x) less and plus 1 ulp encloses x [invariant]', () => {
    const random = createRandom(5);
    for (let i = 0; i < 2000; i++) {
      const x = positive(random);
      const r = cbrt(x);
      const step = r * 2.3e-16;
      const cube = (a: number): bigint => judge.toFixed(a) ** 3n;
      const scaled = judge.toFixed(x) << (2n * judge.places);
      expect(cube(r - step) < scaled && scaled < cube(r + step)).toBe(true);
    }
    expect([cbrt(27), cbrt(-8), cbrt(Math.pow(2, -1071))]).toEqual([3, -2, Math.pow(2, -357)]);
  });
});

describe('elementary functions against the engine', () => {
  const special = [
    0,
    -0,
    1,
    -1,
    0.5,
    -0.5,
    2,
    -2,
    3,
    -3,
    NaN,
    Infinity,
    -Infinity,
    5e-324,
    -5e-324,
    1e308,
    -1e308,
    1e-310,
    1e-8,
    1e22,
    709.7827,
    -745.1,
  ];
  const unary = { sin, cos, tan, asin, acos, atan, exp, log, cbrt };
  const isClose = (a: number, b: number): boolean =>
    Object.is(a, b) || (a !== 0 && Math.abs(a - b) <= 4.5e-16 * Math.abs(b)) || Math.abs(a - b) === 5e-324;

  it.each(Object.entries(unary))(
    '%s treats ±0, ±∞, NaN, subnormals and the ends of its domain as ECMAScript says [spec: ECMA-262 §21.3]',
    (name, own) => {
      for (const x of special) expect([name, x, isClose(own(x), Math[name as keyof typeof unary](x))]).toEqual([name, x, true]);
    },
  );
  it('pow and atan2 treat every pair of special values as ECMAScript says [spec: ECMA-262 §21.3]', () => {
    for (const a of special)
      for (const b of special) {
        expect([a, b, isClose(atan2(a, b), Math.atan2(a, b))]).toEqual([a, b, true]);
        expect([a, b, isClose(pow(a, b), Math.pow(a, b))]).toEqual([a, b, true]);
      }
  });
});
