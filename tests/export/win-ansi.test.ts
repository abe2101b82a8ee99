import { describe, expect, it } from 'vitest';
import { isAscii, isWinAnsi, plainText, winAnsiByte } from '../../src/export/win-ansi.ts';

describe('winAnsiByte', () => {
  it('agrees with the platform on all 256 bytes [second route: TextDecoder windows-1252]', () => {
    const decoder = new TextDecoder('windows-1252');
    for (let byte = 0x20; byte < 256; byte++) {
      const code = decoder.decode(Uint8Array.of(byte)).codePointAt(0) ?? 0;
      if (code === byte && byte >= 0x7f && byte < 0xa0) expect(winAnsiByte(code)).toBeUndefined();
      else expect(winAnsiByte(code)).toBe(byte);
    }
  });
});

describe('plainText', () => {
  it('strips accents and spells ligatures out, and says that it did', () => {
    expect(plainText('Brünne, øvre Łuk – straße', isAscii)).toEqual({ text: 'Brunne, ovre Luk - strasse', changed: true });
    expect(plainText('Brünne', isWinAnsi)).toEqual({ text: 'Brünne', changed: false });
    expect(plainText('日', isAscii)).toEqual({ text: '?', changed: true });
  });
});
