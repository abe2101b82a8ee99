import { describe, expect, it } from 'vitest';
import { capitalUnits, glyphs } from '../../src/draft/glyphs.ts';
import { letterText, placeStrokes, textWidth } from '../../src/draft/lettering.ts';

const extent = (text: string, height: number, k: 0 | 1): readonly [number, number] => {
  const values = letterText(text, height)
    .strokes.flat()
    .map((point) => point[k]);
  return [Math.min(...values), Math.max(...values)];
};

describe('letterText', () => {
  it('makes capitals and figures as high as asked, standing on the base line [contract: lettering height]', () => {
    for (const text of ['A', 'E', 'H', 'T', '1', '7', 'B2'])
      for (const height of [3, 8]) {
        const [low, high] = extent(text, height, 1);
        expect(low).toBeCloseTo(0, 9);
        expect(high).toBeCloseTo(height, 9);
      }
  });

  it('starts at 0 and is as wide as it says; sizes scale [invariant]', () => {
    const [left, right] = extent('Tide Wardens', 5, 0);
    expect(left).toBeCloseTo(0, 9);
    expect(letterText('Tide Wardens', 5).widthMm).toBeCloseTo(right, 9);
    expect(letterText('Tide Wardens', 10).widthMm).toBeCloseTo(2 * right, 9);
  });

  it('has every letter of Latin-1 but µ Æ Þ æ ð þ, which it spells with plain ones, and declares the signs it lacks [spec: ISO 8859-1]', () => {
    const latin = [...Array(191).keys()]
      .map((i) => String.fromCharCode(i < 95 ? 32 + i : 65 + i))
      .filter((c) => !/[\u007f-\u009f\u00ad]/.test(c));
    const replaced = latin.filter((character) => letterText(character, 5).replaced.length > 0);
    expect(replaced.filter((character) => /\p{L}/u.test(character)).join('')).toBe('µÆÞæðþ');
    expect(replaced.filter((character) => !/\p{L}/u.test(character)).join('')).toBe('¤§¨¬¯´¶¸');
    expect(letterText('\u00a0', 5)).toEqual(letterText(' ', 5));
  });

  it('composes accents above the letter and never through it [invariant]', () => {
    for (const [accented, base] of ['éê', 'ÉE', 'üu', 'ÅA', 'ñn', 'őo', 'ŠS', 'žz'].map((pair) => [pair[0], pair[1].normalize('NFD')[0]])) {
      const mark = letterText(accented, 10).strokes.slice(letterText(base, 10).strokes.length).flat();
      expect(mark.length, accented).toBeGreaterThan(1);
      expect(Math.min(...mark.map(([, y]) => y)), accented).toBeGreaterThan(extent(base, 10, 1)[1]);
      expect(letterText(accented, 10).replaced).toEqual([]);
    }
  });

  it('hangs a cedilla below, and takes the dot off an accented i [invariant]', () => {
    expect(extent('ç', 10, 1)[0]).toBeLessThan(-1);
    expect(letterText('í', 10).strokes.length).toBe(letterText('i', 10).strokes.length);
  });

  it('draws a box for what it does not know and reports it once [contract: non-ASCII declared]', () => {
    const { replaced, strokes } = letterText('鎧 鎧', 5);
    expect(replaced).toEqual(['鎧']);
    expect(strokes.length).toBe(2);
    expect(letterText('Æsir', 5).replaced).toEqual(['Æ']);
    expect(letterText('Æsir', 5).widthMm).toBeCloseTo(letterText('AEsir', 5).widthMm, 9);
  });

  it('reads the same composed or decomposed [spec: Unicode canonical equivalence]', () => {
    expect(letterText('Brünne', 5)).toEqual(letterText('Bru\u0308nne', 5));
  });
});

describe('textWidth', () => {
  it('is the width of what letterText writes [second route]', () => {
    for (const text of ['A2 to B3', 'í', 'Æsir 鎧', ' ', '', 'Tide Wardens'])
      expect(textWidth(text, 4)).toBeCloseTo(letterText(text, 4).widthMm, 12);
  });
});

describe('placeStrokes', () => {
  it('turns and moves without stretching [invariant]', () => {
    const { strokes } = letterText('A', 5);
    const placed = placeStrokes(strokes, [10, 20], Math.PI / 2);
    strokes.flat().forEach(([x, y], i) => {
      const [px, py] = placed.flat()[i];
      expect(px).toBeCloseTo(10 - y, 9);
      expect(py).toBeCloseTo(20 + x, 9);
    });
  });
});

describe('glyphs', () => {
  it('holds whole points inside sensible bounds [invariant]', () => {
    for (const [character, [advance, strokes]] of Object.entries(glyphs)) {
      expect(advance, character).toBeGreaterThan(0);
      for (const stroke of strokes.split(',').filter((each) => each !== '')) {
        const numbers = stroke.split(' ').map(Number);
        expect(numbers.length % 2, character).toBe(0);
        expect(numbers.length, character).toBeGreaterThanOrEqual(4);
        expect(
          numbers.every((number) => Math.abs(number) < 2 * capitalUnits),
          character,
        ).toBe(true);
      }
    }
  });
});
