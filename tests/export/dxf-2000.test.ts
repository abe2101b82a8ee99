import { describe, expect, it } from 'vitest';
import { dxf2000, write2000 } from '../../src/export/dxf-2000.ts';
import { handInput, handOptions, handSheet, leafPart, roundCurve, straightCurve } from '../support/drawings.ts';

describe('write2000', () => {
  const lines = write2000({
    sheet: handSheet([]),
    drawing: {
      labels: [{ text: 'name', at: [1, 2], heightMm: 5, angle: 0, part: 'p.1.L' }],
      paths: [
        {
          layer: 'CUT',
          curve: straightCurve([
            [0, 0],
            [10, 0],
            [10, 5],
          ]),
          part: 'p.1.L',
        },
        { layer: 'CUT_INSIDE', curve: roundCurve([5, 2], 1), part: 'p.1.L' },
      ],
    },
  }).map((line) => line.trim());
  const text = lines.join(' ');
  it('names release and unit: millimetres [spec: DXF $INSUNITS]', () => {
    expect(text).toContain('$ACADVER 1 AC1015');
    expect(text).toContain('$INSUNITS 70 4');
  });
  it('writes a round of four Béziers as one closed cubic of 13 control points and 17 knots [closed form: 3n + 1, 3n + 5]', () => {
    expect(text).toContain('AcDbSpline 210 0.0 220 0.0 230 1.0 70 9 71 3 72 17 73 13 74 0');
    const knots = text
      .slice(text.indexOf('AcDbSpline'))
      .match(/(?<= 40 )[\d.]+/g)
      ?.slice(0, 17)
      .map(Number);
    expect(knots).toEqual([0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4]);
  });
  it('gives every object a handle of its own below the seed [spec: DXF handles]', () => {
    const drawn = write2000({ sheet: handSheet([]), drawing: leafPart().drawing }).map((line) => line.trim());
    const handles: string[] = [];
    for (let k = 0; k < drawn.length; k += 2) if (drawn[k] === '5' || drawn[k] === '105') handles.push(drawn[k + 1]);
    const seed = handles.shift();
    expect(new Set(handles).size).toBe(handles.length);
    for (const own of handles) expect(parseInt(own, 16)).toBeLessThan(parseInt(seed ?? '0', 16));
  });
});

describe('dxf2000', () => {
  it('writes one file a sheet, the same bytes each time [invariant]', async () => {
    const [first] = await dxf2000.write(handInput(), handOptions);
    const [second] = await dxf2000.write(handInput(), handOptions);
    expect(first.path).toBe('sheets/sheet-1.2000.dxf');
    expect(first.bytes).toEqual(second.bytes);
  });
});
