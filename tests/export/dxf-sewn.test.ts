import { describe, expect, it } from 'vitest';
import { dxfSewn, writeSewn } from '../../src/export/dxf-sewn.ts';
import { handInput, handOptions } from '../support/drawings.ts';

describe('writeSewn', () => {
  const lines = writeSewn(handInput(), handOptions).map((line) => line.trim());
  it('holds 7-bit ASCII only [astm-d6673 text rules]', () => {
    for (const line of lines) expect(line).toMatch(/^[\x20-\x7e]*$/);
    expect(lines).toContain('PIECE NAME: A Brunne, ovre Luk');
  });
  it('has one block and one insert a piece [astm-d6673]', () => {
    expect(lines.filter((line) => line === 'BLOCK').length).toBe(3);
    expect(lines.filter((line) => line === 'INSERT').length).toBe(3);
    expect(lines).toContain('BREAST_1_L');
  });
  it('states quantity, material, unit and date', () => {
    for (const words of ['QUANTITY: 1', 'MATERIAL: eva-6', 'UNITS: METRIC', 'CREATION DATE: 11-25-2026']) expect(lines).toContain(words);
  });
});

describe('dxfSewn', () => {
  it('says which names it had to spell in ASCII', async () => {
    const [file] = await dxfSewn.write(handInput(), handOptions);
    expect(file.path).toBe('sewn.dxf');
    expect(file.findings?.map(({ code }) => code)).toEqual(['export/letters-replaced']);
    expect(file.findings?.[0].what).toContain('"Brünne, øvre Łuk" became "Brunne, ovre Luk"');
  });
});
