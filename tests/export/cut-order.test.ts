import { describe, expect, it } from 'vitest';
import { cutSteps, orderCuts, stepOf } from '../../src/export/cut-order.ts';
import { flattenCurve } from '../../src/draft/curve.ts';
import type { DrawingPath } from '../../src/draft/drawing.ts';
import { leafPart, roundCurve, straightCurve } from '../support/drawings.ts';

const order = (paths: readonly DrawingPath[]): ReturnType<typeof orderCuts> =>
  orderCuts(
    paths,
    paths.map(({ curve }) => flattenCurve(curve, 0.01)),
  );

describe('stepOf', () => {
  it('leaves the edge of the stock to nobody', () => {
    expect(stepOf('SHEET')).toBeUndefined();
    expect(cutSteps).toEqual(['draw', 'score', 'inner', 'outer']);
  });
});

describe('orderCuts', () => {
  it('keeps every path but the stock’s edge, steps in order [invariant]', () => {
    const { paths } = leafPart().drawing;
    const steps = order([
      ...paths,
      {
        layer: 'SHEET',
        curve: straightCurve([
          [0, 0],
          [9, 0],
          [9, 9],
        ]),
      },
    ]).map(({ step }) => cutSteps.indexOf(step));
    expect(steps.length).toBe(paths.length);
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
  });
  it('cuts small parts before large ones', () => {
    const cut = (radius: number): DrawingPath => ({ layer: 'CUT', curve: roundCurve([0, 0], radius) });
    const cuts = [cut(30), cut(10), cut(20)];
    expect(order(cuts).map(({ path }) => cuts.indexOf(path))).toEqual([1, 2, 0]);
  });
  it('draws the nearest mark next', () => {
    const tick = (x: number): DrawingPath => ({
      layer: 'NOTCH',
      curve: straightCurve(
        [
          [x, 0],
          [x + 1, 0],
        ],
        false,
      ),
    });
    expect(order([tick(50), tick(2), tick(10)]).map(({ path }) => path.curve.start[0])).toEqual([2, 10, 50]);
  });
});
