import { describe, expect, it } from 'vitest';
import { dxfR12, writeR12 } from '../../src/export/dxf-r12.ts';
import { handInput, handOptions, handSheet, straightCurve } from '../support/drawings.ts';

describe('writeR12', () => {
  const lines = writeR12({
    sheet: handSheet([]),
    drawing: {
      labels: [{ text: 'Łuk', at: [1, 2], heightMm: 5, angle: Math.PI / 6, part: 'p.1.L' }],
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
      ],
    },
  });
  const text = lines.map((line) => line.trim()).join(' ');
  it('names the release and closes the outline with flag 1 [spec: DXF R12 POLYLINE 70]', () => {
    expect(text).toContain('$ACADVER 1 AC1009');
    expect(text).toContain('POLYLINE 8 CUT 66 1 10 0.0 20 0.0 30 0.0 70 1 1001 PLASTRON 1000 p.1.L 0 VERTEX');
    expect(lines.filter((line) => line === 'VERTEX').length).toBe(3);
  });
  it('writes angles in degrees and letters beyond the code page as escapes [spec: DXF TEXT 50]', () => {
    expect(text).toContain('40 5.0 1 \\U+0141uk 50 30.0');
  });
  it('holds nothing that Release 12 lacks [spec: DXF R12]', () => {
    for (const later of ['LWPOLYLINE', 'SPLINE', 'AcDbEntity', '$INSUNITS', '100'])
      expect(lines.map((line) => line.trim())).not.toContain(later);
  });
});

describe('dxfR12', () => {
  it('writes one file a sheet, the same bytes each time [invariant]', async () => {
    const [first] = await dxfR12.write(handInput(), handOptions);
    const [second] = await dxfR12.write(handInput(), handOptions);
    expect(first.path).toBe('sheets/sheet-1.r12.dxf');
    expect(first.bytes).toEqual(second.bytes);
  });
});
