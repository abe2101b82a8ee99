import { describe, expect, it } from 'vitest';
import { dxfBytes, dxfText, lineTypeOf, lineTypes, partData, pathsByLayer, tags } from '../../src/export/dxf-tags.ts';
import { layerNames } from '../../src/draft/drawing.ts';
import { leafPart } from '../support/drawings.ts';

describe('tags', () => {
  it('writes a code and a value a line, reals with their point, integers without [spec: DXF group codes]', () => {
    expect(tags(0, 'LINE', 10, 5, 20, -0.25, 70, 1)).toEqual(['  0', 'LINE', ' 10', '5.0', ' 20', '-0.25', ' 70', '1']);
  });
});

describe('dxfText and dxfBytes', () => {
  it('keeps the code page and escapes the rest [spec: DXF \\U+XXXX]', () => {
    expect(dxfText('Brünne – Łuk\n')).toBe('Brünne – \\U+0141uk ');
  });
  it('writes one byte a character, lines ended by CR LF [Windows code page 1252]', () => {
    expect(Array.from(dxfBytes(['ü–']))).toEqual([0xfc, 0x96, 13, 10]);
  });
});

describe('partData, pathsByLayer, lineTypeOf', () => {
  it('carries the part under the application of the contract', () => {
    expect(partData('a.1.L')).toEqual(['1001', 'PLASTRON', '1000', 'a.1.L']);
    expect(partData(undefined)).toEqual([]);
  });
  it('keeps every path, in the order of the contract [invariant]', () => {
    const { paths } = leafPart().drawing;
    const sorted = pathsByLayer(paths);
    expect(sorted.map(({ layer }) => layer)).toEqual([...layerNames]);
    expect(sorted.reduce((sum, entry) => sum + entry.paths.length, 0)).toBe(paths.length);
  });
  it('names a line type that the table holds for every layer [invariant]', () => {
    for (const layer of layerNames) expect(lineTypes.map(({ name }) => name)).toContain(lineTypeOf(layer));
  });
});
