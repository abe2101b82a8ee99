import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { cubicAt, cubicDirection, fitTogether, refineChain } from '../../src/plane/curve-fit.ts';
import type { ChainFit, FitTarget } from '../../src/plane/curve-fit.ts';
import { arcLengths, furthestFrom } from '../../src/plane/polyline.ts';

const targetOf = (points: Float64Array, closed = false): FitTarget => {
  const lengths = arcLengths(points);
  return { points, fractions: lengths.map((length) => length / lengths[lengths.length - 1]), closed };
};
const sample = (count: number, at: (t: number) => readonly [number, number]): Float64Array =>
  Float64Array.from({ length: 2 * count + 2 }, (_, i) => at(Math.floor(i / 2) / count)[i % 2]);
const arc = (radius: number, from: number, to: number, count: number): Float64Array =>
  sample(count, (t) => [radius * Math.cos(from + t * (to - from)), radius * Math.sin(from + t * (to - from))]);
const pointsOf = ({ chain, knots }: ChainFit, steps = 50): Float64Array => {
  const points: number[] = [];
  for (let piece = 0; piece + 1 < knots.length; piece++) for (let i = 0; i < steps; i++) points.push(...cubicAt(chain, piece, i / steps));
  points.push(...cubicAt(chain, knots.length - 2, 1));
  return Float64Array.from(points);
};

describe('fitTogether', () => {
  it('gives a straight line as one piece, exactly [closed form]', () => {
    const [fit] = fitTogether([targetOf(sample(20, (t) => [10 * t, 20 * t]))]);
    expect(fit.knots.length).toBe(2);
    expect(fit.errorMm).toBeLessThan(1e-9);
  });

  it('gives a sampled cubic back [round trip]', () => {
    const control = Float64Array.of(0, 0, 30, 60, 70, -20, 100, 40);
    const [fit] = fitTogether([targetOf(sample(200, (t) => cubicAt(control, 0, t)))], { toleranceMm: 0.02 });
    expect(fit.knots.length).toBe(2);
    expect(
      furthestFrom(
        pointsOf(fit),
        sample(400, (t) => cubicAt(control, 0, t)),
        false,
      ),
    ).toBeLessThan(0.02);
  });

  it('needs one cubic for a quarter circle of 100 mm, off by at most 0.03 mm [closed form: best cubic errs by 2.7e-4 R]', () => {
    const [fit] = fitTogether([targetOf(arc(100, 0, Math.PI / 2, 200))], { toleranceMm: 0.03 });
    expect(fit.knots.length).toBe(2);
    let worst = 0;
    const points = pointsOf(fit);
    for (let i = 0; i < points.length; i += 2) worst = Math.max(worst, Math.abs(Math.hypot(points[i], points[i + 1]) - 100));
    expect(worst).toBeLessThan(0.035);
    expect(worst).toBeGreaterThan(0.005);
  });

  it('keeps its length within 0.1 % and its distance within tolerance on a wavy noisy border [contract of drafting]', () => {
    const random = createRandom(1);
    const wave = sample(300, (t) => [300 * t, 20 * Math.sin(9 * t) + 0.02 * (random() - 0.5)]);
    const [fit] = fitTogether([targetOf(wave)], { toleranceMm: 0.06 });
    expect(furthestFrom(wave, pointsOf(fit, 400), false)).toBeLessThan(0.061);
    expect(furthestFrom(pointsOf(fit), wave, false)).toBeLessThan(0.061);
    const lengthOf = (points: Float64Array): number => arcLengths(points)[points.length / 2 - 1];
    expect(Math.abs(lengthOf(pointsOf(fit)) / lengthOf(wave) - 1)).toBeLessThan(0.001);
    expect(fit.knots.length).toBeLessThan(12);
  });

  it('passes its knots without a kink, except at corners [invariant]', () => {
    const wave = sample(300, (t) => [200 * t, 30 * Math.sin(12 * t)]);
    const [fit] = fitTogether([targetOf(wave)]);
    expect(fit.knots.length).toBeGreaterThan(3);
    for (let piece = 0; piece + 2 < fit.knots.length; piece++) {
      const [before, after] = [cubicDirection(fit.chain, piece, 1), cubicDirection(fit.chain, piece + 1, 0)];
      expect(Math.hypot(before[0] - after[0], before[1] - after[1])).toBeLessThan(1e-9);
    }
    const corner = Float64Array.from([...sample(50, (t) => [50 * t, 0]), ...sample(50, (t) => [50, 50 * t]).slice(2)]);
    const [bent] = fitTogether([targetOf(corner)], { knots: [0.5], corners: [0.5] });
    expect(bent.knots.length).toBe(3);
    expect([bent.chain[6], bent.chain[7]]).toEqual([50, 0]);
    expect(furthestFrom(corner, pointsOf(bent), false)).toBeLessThan(1e-9);
  });

  it('closes a circle without a kink where it starts [invariant]', () => {
    const [fit] = fitTogether([targetOf(arc(40, 0, 2 * Math.PI, 240), true)]);
    const [start, end] = [cubicDirection(fit.chain, 0, 0), cubicDirection(fit.chain, fit.knots.length - 2, 1)];
    expect(Math.hypot(start[0] - end[0], start[1] - end[1])).toBeLessThan(1e-9);
    expect(Math.abs(start[0])).toBeLessThan(0.01);
  });

  it('gives mates the same knots, though only one of them needs them [contract of drafting]', () => {
    const line = targetOf(sample(100, (t) => [200 * t, 0]));
    const wavy = targetOf(sample(200, (t) => [200 * t, 15 * Math.sin(10 * t)]));
    const [first, second] = fitTogether([line, wavy]);
    expect(first.knots.length).toBeGreaterThan(3);
    expect([...first.knots]).toEqual([...second.knots]);
  });

  it('mirrors with its target: same knots, mirrored curve [invariant]', () => {
    const wave = sample(200, (t) => [200 * t, 15 * Math.sin(7 * t + 1)]);
    const [fit] = fitTogether([targetOf(wave)]);
    const [mirrored] = fitTogether([targetOf(wave.map((value, i) => (i % 2 === 0 ? -value : value)))]);
    expect([...mirrored.knots]).toEqual([...fit.knots]);
    expect(Math.max(...fit.chain.map((value, i) => Math.abs(mirrored.chain[i] - (i % 2 === 0 ? -value : value))))).toBeLessThan(1e-9);
  });

  it('ends a trimmed target at its own fractions [invariant]', () => {
    const whole = targetOf(sample(100, (t) => [200 * t, 10 * Math.sin(8 * t)]));
    const part: FitTarget = {
      points: Float64Array.from(whole.points).slice(40, 162),
      fractions: Float64Array.from(whole.fractions).slice(20, 81),
    };
    const [long, short] = fitTogether([whole, part]);
    expect(short.knots[0]).toBe(part.fractions[0]);
    expect(short.knots[short.knots.length - 1]).toBe(part.fractions[60]);
    for (const knot of short.knots.slice(1, -1)) expect([...long.knots]).toContain(knot);
  });
});

describe('refineChain', () => {
  it('adds knots and leaves the curve where it was [invariant]', () => {
    const [fit] = fitTogether([targetOf(sample(200, (t) => [200 * t, 15 * Math.sin(7 * t)]))]);
    const finer = refineChain(fit, [0.1, 0.5, 0.77]);
    expect(finer.knots.length).toBe(fit.knots.length + 3);
    expect(furthestFrom(pointsOf(finer), pointsOf(fit, 400), false)).toBeLessThan(1e-3);
    expect([...finer.knots]).toEqual([...finer.knots].sort((a, b) => a - b));
  });
});
