import { describe, expect, it } from 'vitest';
import { pagesOf } from '../../src/export/pdf.ts';

describe('pagesOf', () => {
  it('is one page up to the limit [closed form]', () => {
    expect(pagesOf({ widthMm: 600, heightMm: 5000 }, [1, 1])).toEqual([{ x: 0, y: 0, widthMm: 600, heightMm: 5000 }]);
  });
  it('shares 10 mm between pages and covers the sheet exactly [invariant]', () => {
    const pages = pagesOf({ widthMm: 12000, heightMm: 400 }, [1, 1]);
    expect(pages.length).toBe(3);
    for (const [k, page] of pages.slice(1).entries()) expect(pages[k].x + pages[k].widthMm - page.x).toBeCloseTo(10, 9);
    expect(pages[2].x + pages[2].widthMm).toBeCloseTo(12000, 9);
    for (const { widthMm } of pages) expect((widthMm * 72) / 25.4).toBeLessThanOrEqual(14400);
  });
});
