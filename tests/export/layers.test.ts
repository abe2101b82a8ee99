import { describe, expect, it } from 'vitest';
import { hexColor, layerStyles } from '../../src/export/layers.ts';
import { layerNames } from '../../src/draft/drawing.ts';

/** Relative luminance of an sRGB colour [WCAG 2.2]. */
const luminance = (rgb: readonly number[]): number => {
  const [r, g, b] = rgb.map((value) => (value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};

describe('layerStyles', () => {
  it('gives every layer a colour of its own [invariant]', () => {
    expect(new Set(layerNames.map((layer) => hexColor(layerStyles[layer].rgb))).size).toBe(layerNames.length);
  });
  it('stands out from white paper by 2.3 to 1 at least, cut lines by 3 to 1 [WCAG 2.2 contrast]', () => {
    for (const layer of layerNames) {
      const contrast = 1.05 / (luminance(layerStyles[layer].rgb) + 0.05);
      expect(contrast).toBeGreaterThan(layerStyles[layer].act === 'cut' ? 3 : 2.3);
    }
  });
  it('writes colours as the web does [CSS Color 4]', () => {
    expect(hexColor([0, 158, 115])).toBe('#009e73');
  });
});
