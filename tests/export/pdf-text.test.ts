import { describe, expect, it } from 'vitest';
import { textLine, textWidth, wrapText } from '../../src/export/pdf-text.ts';

describe('textWidth', () => {
  it('gives every digit 556 thousandths in both fonts [Helvetica metrics]', () => {
    expect(textWidth('0123456789', 1)).toBeCloseTo(5.56, 12);
    expect(textWidth('0123456789', 1, 'F2')).toBeCloseTo(5.56, 12);
  });
  it('takes an accented letter as wide as its base [Helvetica metrics]', () => {
    expect(textWidth('üéÅ', 2)).toBe(textWidth('ueA', 2));
  });
});

describe('wrapText', () => {
  it('loses no word, and no line of several words is wider than its room [invariant]', () => {
    const words = 'Lay each page over its neighbour until the crosses meet, cut one of the two along the dashed line, tape.';
    const lines = wrapText(words, 40, 3.4);
    expect(lines.join(' ')).toBe(words);
    for (const line of lines) expect(textWidth(line, 3.4)).toBeLessThanOrEqual(40);
    expect(wrapText('unbreakable', 1, 3)).toEqual(['unbreakable']);
  });
});

describe('textLine', () => {
  it('carries letters beyond the encoding as /ActualText [ISO 32000 §14.9.4]', () => {
    expect(textLine('Łuk', [0, 0], { sizeMm: 4 })).toBe(
      '/Span << /ActualText <FEFF01410075006B> >> BDC BT 0.11765 0.11765 0.11765 rg 0 Tr /F1 4 Tf 1 0 0 1 0 0 Tm (Luk) Tj ET EMC',
    );
  });
  it('sets the end of a right-aligned line at the point [closed form]', () => {
    const x = Number(/1 0 0 1 (\S+)/.exec(textLine('00', [50, 0], { sizeMm: 10, align: 'right' }))?.[1]);
    expect(x).toBeCloseTo(50 - 11.12, 5);
  });
  it('hides letters that are drawn as strokes [ISO 32000 §9.3.6]', () => {
    expect(textLine('a', [0, 0], { sizeMm: 4, hidden: true })).toContain('3 Tr');
  });
});
