import { describe, expect, it } from 'vitest';
import { bevelStretches, bevelWords, bladeLimit, gapOf, reachOf, shownGapMm } from '../../src/draft/bevel.ts';

const degrees = (angle: number): number => (angle * Math.PI) / 180;
const rule = { thicknessMm: 6, neutralFactor: 0.5, on: true };

describe('gapOf', () => {
  it('is 3.2 mm for 6 mm sheet and a fold of 30° [trade facts: 2·t·tan(fold/2)]', () => {
    expect(gapOf(degrees(30), 6)).toBeCloseTo(3.2, 1);
    expect(gapOf(degrees(-30), 6)).toBe(gapOf(degrees(30), 6));
  });
});

describe('reachOf', () => {
  it('parts the faces by t·tan(fold/2): 1.000, 0.577, 0.414, 0.268 t at 90°, 120°, 135°, 150° inside [closed form]', () => {
    for (const [inside, share] of [
      [90, 1],
      [120, 0.577],
      [135, 0.414],
      [150, 0.268],
    ]) {
      const { outer, inner } = reachOf(degrees(180 - inside), rule);
      expect((outer - inner) / 6).toBeCloseTo(share, 3);
    }
  });

  it('splits by the neutral factor: k inside, 1 − k outside [closed form: mitre through the neutral edge]', () => {
    const { outer, inner, cut } = reachOf(degrees(90), { thicknessMm: 10, neutralFactor: 0.4, on: true });
    expect(outer).toBeCloseTo(6, 12);
    expect(inner).toBeCloseTo(-4, 12);
    expect(cut).toBe(outer);
  });

  it('cuts along the face that reaches further: outer on a ridge, inner in a valley [contract: Cut line]', () => {
    const ridge = reachOf(degrees(60), rule);
    const valley = reachOf(degrees(-60), rule);
    expect(ridge.cut).toBe(ridge.outer);
    expect(ridge.outer).toBeGreaterThan(0);
    expect(valley.cut).toBe(valley.inner);
    expect(valley.inner).toBeCloseTo(ridge.outer, 12);
  });

  it('leaves the seam line as cut line while the gap is under half of what is shown, and joins up without a jump [invariant]', () => {
    const flat = reachOf(degrees(4), rule);
    expect(gapOf(degrees(4), 6)).toBeLessThan(shownGapMm / 2);
    expect(flat).toEqual({ outer: 0, inner: -0, cut: 0 });
    let before = 0;
    for (let fold = 0; fold <= 20; fold += 0.1) {
      const { cut } = reachOf(degrees(fold), rule);
      expect(cut - before).toBeLessThan(0.02);
      expect(cut).toBeGreaterThanOrEqual(before);
      before = cut;
    }
  });

  it('is nought when bevels are off [contract: draft.bevel]', () => expect(reachOf(1, { ...rule, on: false }).cut).toBe(0));
});

describe('bevelStretches', () => {
  const profile = (folds: readonly number[]) => ({
    fractions: Float64Array.from(folds, (_, i) => i / (folds.length - 1)),
    folds: Float64Array.from(folds, degrees),
  });

  it('shows nothing where the gap stays under 1 mm [contract: Fold]', () => expect(bevelStretches(profile([2, 4, 8, 9]), 6)).toEqual([]));

  it('shows a constant fold as one stretch over the whole seam, half the fold an edge [contract: Fold]', () => {
    const [stretch, ...others] = bevelStretches(profile([60, 60]), 6);
    expect(others).toEqual([]);
    expect([stretch.from, stretch.to]).toEqual([0, 1]);
    expect(stretch.leastDeg).toBeCloseTo(30, 9);
    expect(bevelWords(stretch)).toBe('30° off inner');
  });

  it('starts where the gap passes 1 mm [closed form: fold = 2·atan(gap/2t)]', () => {
    const [stretch] = bevelStretches(profile([0, 18]), 6);
    const threshold = (2 * Math.atan(1 / 12) * 180) / Math.PI / 18;
    expect(stretch.from).toBeGreaterThanOrEqual(threshold);
    expect(stretch.from).toBeLessThan(threshold + 0.006);
  });

  it('parts a ridge from a valley and names the face that loses foam [contract: Cut line]', () => {
    const stretches = bevelStretches(profile([40, 40, 0, -40, -40]), 6);
    expect(stretches.every(({ leastDeg, mostDeg }) => Math.sign(leastDeg) === Math.sign(mostDeg))).toBe(true);
    expect(bevelWords(stretches[0])).toMatch(/off inner$/);
    expect(bevelWords(stretches[stretches.length - 1])).toMatch(/off outer$/);
  });
});

describe('bladeLimit', () => {
  it('is 45° [common practice, no source]', () => expect(bladeLimit).toBeCloseTo(Math.PI / 4, 12));
});
