import { describe, expect, it } from 'vitest';
import { letterLabel } from '../../src/export/sheet-lettering.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import { boxOf } from '../../src/export/box.ts';

const box = (angle: number, room?: number): ReturnType<typeof boxOf> =>
  boxOf(...letterLabel({ text: '100 mm', at: [10, 20], heightMm: 8, angle }, room).paths.map(({ curve }) => flattenCurve(curve, 1)));

describe('letterLabel', () => {
  it('stands on its base line from its start, capitals as high as asked [closed form]', () => {
    const { minX, minY, maxY } = box(0);
    expect(minX).toBeCloseTo(10, 9);
    expect(minY).toBeCloseTo(20, 9);
    expect(Math.abs(maxY - 28)).toBeLessThan(0.5);
  });
  it('turns counter-clockwise [closed form]', () => {
    const [flat, upright] = [box(0), box(Math.PI / 2)];
    expect(upright.maxY - upright.minY).toBeCloseTo(flat.maxX - flat.minX, 9);
    expect(upright.maxX).toBeCloseTo(10, 9);
  });
  it('letters smaller where room is short, and says so in the label [closed form]', () => {
    const { minX, maxX } = box(0, 12);
    expect(maxX - minX).toBeCloseTo(12, 9);
    expect(letterLabel({ text: '100 mm', at: [0, 0], heightMm: 8, angle: 0 }, 12).labels[0].heightMm).toBeLessThan(8);
  });
});
