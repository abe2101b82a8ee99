import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { createPdf, literalString, pointsPerMm, refText, unicodeString } from '../../src/export/pdf-writer.ts';

const make = (date = '2026-11-25'): Uint8Array => {
  const pdf = createPdf({ title: 'Brünne', date });
  pdf.layer('CUT');
  pdf.addPage({ widthMm: 210, heightMm: 297, content: '0 0 m 10 0 l S', forms: {} });
  return pdf.finish();
};
const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

describe('createPdf', () => {
  it('points every row of the cross-reference table at its object [ISO 32000 §7.5.4]', () => {
    const file = text(make());
    const start = Number(/startxref\n(\d+)/.exec(file)?.[1]);
    const rows = [...file.slice(start).matchAll(/^(\d{10}) 00000 n /gm)].map((row) => Number(row[1]));
    expect(rows.length).toBeGreaterThan(5);
    for (const [k, offset] of rows.entries()) expect(file.slice(offset, offset + 12)).toContain(`${k + 1} 0 obj`);
  });
  it('takes millimetres to points by one matrix, and gives the page its size in points [closed form: 72/25.4]', () => {
    const bytes = make();
    const file = text(bytes);
    expect(file).toContain(`/MediaBox [0 0 595.27559 841.88976]`);
    const at = file.indexOf('stream\n') + 7;
    const content = inflateSync(bytes.subarray(at)).toString('latin1');
    expect(content.startsWith('q 2.834645669291 0 0 2.834645669291 0 0 cm')).toBe(true);
    expect(pointsPerMm).toBeCloseTo(2.834645669291, 12);
  });
  it('has no date and no identity of its own: equal content, equal bytes [invariant]', () => {
    expect(make()).toEqual(make());
    expect(make('2026-11-26')).not.toEqual(make());
    expect(text(make())).toContain('/CreationDate (D:20261125120000Z)');
  });
  it('asks for no scaling and lists its layers [ISO 32000 §12.2, §8.11]', () => {
    const file = text(make());
    expect(file).toContain('/PrintScaling /None');
    expect(file).toMatch(/\/OCGs \[\d+ 0 R\]/);
    expect(refText(3)).toBe('3 0 R');
  });
});

describe('literalString, unicodeString', () => {
  it('escapes brackets and backslashes, writes high bytes in octal [ISO 32000 §7.3.4]', () => {
    expect(literalString('a(b)\\')).toBe('(a\\(b\\)\\\\)');
    expect(literalString('ü–')).toBe('(\\374\\226)');
  });
  it('writes UTF-16 with its mark [ISO 32000 §7.9.2]', () => {
    expect(unicodeString('Ł')).toBe('<FEFF0141>');
  });
});
