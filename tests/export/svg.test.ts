import { describe, expect, it } from 'vitest';
import { escapeXml, svg, writeSvg } from '../../src/export/svg.ts';
import { handInput, handOptions, handSheet, straightCurve } from '../support/drawings.ts';

describe('writeSvg', () => {
  const sheet = handSheet([], { widthMm: 200, heightMm: 50 });
  const text = writeSvg(
    {
      sheet,
      drawing: {
        labels: [],
        paths: [
          {
            layer: 'CUT',
            curve: straightCurve([
              [0, 0],
              [10, 0],
              [10, 5],
            ]),
            part: 'a<b.1.L',
          },
        ],
      },
    },
    'Job & sheet',
    'What it is',
  );
  it('gives millimetres and a view box of the same numbers [SVG 2 §8.2]', () => {
    expect(text).toContain('width="200mm" height="50mm" viewBox="0 0 200 50"');
  });
  it('turns y once and closes outlines with Z [closed form]', () => {
    expect(text).toContain('d="M0 50L10 50L10 45Z"');
  });
  it('escapes what XML reserves [XML 1.0 §2.4]', () => {
    expect(text).toContain('data-part="a&lt;b.1.L"');
    expect(text).toContain('<title>Job &amp; sheet</title>');
    expect(escapeXml('a\u0000b"\ud800')).toBe('a b&quot; ');
  });
});

describe('svg', () => {
  it('writes one file a sheet, the same bytes each time [invariant]', async () => {
    const [first] = await svg.write(handInput(), handOptions);
    const [second] = await svg.write(handInput(), handOptions);
    expect(first).toMatchObject({ path: 'sheets/sheet-1.svg', format: 'svg', sheet: 'sheet-1' });
    expect(first.bytes).toEqual(second.bytes);
  });
});
