/*
 * Text files come with byte-order marks and in 16-bit encodings; the parsers want bytes in which ASCII is ASCII.
 */

/**
 * The bytes without a UTF-8 byte-order mark; 16-bit text with a mark is narrowed to ASCII, other letters becoming "?" (they occur in names only).
 */
export function plainText(bytes: Uint8Array): Uint8Array {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return bytes.subarray(3);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return narrowed(bytes, 0);
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return narrowed(bytes, 1);
  return bytes;
}

function narrowed(bytes: Uint8Array, highOffset: 0 | 1): Uint8Array {
  const units = Math.floor(bytes.length / 2) - 1;
  const text = new Uint8Array(units);
  for (let i = 0; i < units; i++) {
    const high = bytes[2 + 2 * i + highOffset];
    const low = bytes[2 + 2 * i + 1 - highOffset];
    text[i] = high === 0 && low < 128 ? low : 63;
  }
  return text;
}
