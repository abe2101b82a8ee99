import { describe, expect, it } from 'vitest';
import { groupLetters } from '../../src/export/letters.ts';
import type { DrawingLabel, DrawingPath } from '../../src/draft/drawing.ts';
import { boxLetters, leafPart, straightCurve } from '../support/drawings.ts';

const label = (text: string, x: number, y: number): DrawingLabel => ({ text, at: [x, y], heightMm: 4, angle: 0, part: 'p' });

describe('groupLetters', () => {
  it('gives every stroke to the label that it spells, two on one line and one beneath [second route: lettered one by one]', () => {
    const labels = [label('Breast', 0, 0), label('A1', 40, 0), label('cut 1', 0, -7)];
    const grouped = groupLetters({ labels, paths: labels.flatMap(boxLetters) });
    expect(grouped.others).toEqual([]);
    expect(grouped.labels.map(({ paths }) => paths.length)).toEqual([6, 2, 4]);
    expect(grouped.labels.map(({ paths }) => paths)).toEqual(labels.map(boxLetters));
  });
  it('leaves a leader line and other layers out', () => {
    const labels = [label('A1', 0, 0)];
    const leader: DrawingPath = {
      layer: 'TEXT',
      curve: straightCurve(
        [
          [8, 2],
          [60, 30],
        ],
        false,
      ),
      part: 'p',
    };
    const grouped = groupLetters({ labels, paths: [leader, ...labels.flatMap(boxLetters)] });
    expect(grouped.others).toEqual([leader]);
    expect(groupLetters(leafPart().drawing).others.some(({ layer }) => layer === 'CUT')).toBe(true);
  });
  it('measures the width of a label on its strokes [closed form]', () => {
    const labels = [label('Breast', 0, 0)];
    const { widthMm } = groupLetters({ labels, paths: labels.flatMap(boxLetters) }).labels[0];
    expect(widthMm).toBeCloseTo(0.9 * 4 * 5 + 0.6 * 4, 12);
  });
});
