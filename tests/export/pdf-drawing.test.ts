import { describe, expect, it } from 'vitest';
import { curveContent, paintForm, strokeContent } from '../../src/export/pdf-drawing.ts';
import { straightCurve } from '../support/drawings.ts';

describe('curveContent', () => {
  it('closes with h and leaves the last straight piece to it [ISO 32000 §8.5.2]', () => {
    expect(
      curveContent(
        straightCurve([
          [0, 0],
          [10, 0],
          [10, 5],
        ]),
      ),
    ).toBe('0 0 m 10 0 l 10 5 l h');
  });
  it('keeps a cubic a cubic', () => {
    expect(curveContent({ start: [0, 0], closed: false, segments: [{ kind: 'cubic', c1: [1, 2], c2: [3, 4], to: [5, 6] }] })).toBe(
      '0 0 m 1 2 3 4 5 6 c',
    );
  });
});

describe('paintForm', () => {
  it('turns first and stretches along the page after [closed form]', () => {
    const content = paintForm('A', { factor: [2, 3], shift: [7, 8], turn: [0, 1] }, { minX: 0, minY: 0, maxX: 9, maxY: 9 });
    expect(content).toBe('q 0 0 9 9 re W n 0 3 -2 0 7 8 cm /A Do Q');
  });
});

describe('strokeContent', () => {
  it('writes colour shares, width and dashes', () => {
    expect(strokeContent([255, 0, 51], 0.2, [2, 1])).toBe('1 0 0.2 RG 0.2 w [2 1] 0 d');
  });
});
