/*
 * The header of a PLY file: elements in order, each with its count and properties [turk1994].
 */
import { cutOff, malformed } from './faults.ts';
import { asciiText } from './text-scanner.ts';

/** Size in bytes and reader of each number type; both spellings occur. */
export interface PlyNumber {
  readonly size: number;
  readonly read: (view: DataView, at: number, isLittle: boolean) => number;
  /** Largest whole value, for colours; 1 for real types. */
  readonly full: number;
}

const int8: PlyNumber = { size: 1, read: (view, at) => view.getInt8(at), full: 127 };
const uint8: PlyNumber = { size: 1, read: (view, at) => view.getUint8(at), full: 255 };
const int16: PlyNumber = { size: 2, read: (view, at, isLittle) => view.getInt16(at, isLittle), full: 32767 };
const uint16: PlyNumber = { size: 2, read: (view, at, isLittle) => view.getUint16(at, isLittle), full: 65535 };
const int32: PlyNumber = { size: 4, read: (view, at, isLittle) => view.getInt32(at, isLittle), full: 2147483647 };
const uint32: PlyNumber = { size: 4, read: (view, at, isLittle) => view.getUint32(at, isLittle), full: 4294967295 };
const float32: PlyNumber = { size: 4, read: (view, at, isLittle) => view.getFloat32(at, isLittle), full: 1 };
const float64: PlyNumber = { size: 8, read: (view, at, isLittle) => view.getFloat64(at, isLittle), full: 1 };

const numberTypes: Readonly<Record<string, PlyNumber>> = {
  char: int8,
  int8,
  uchar: uint8,
  uint8,
  short: int16,
  int16,
  ushort: uint16,
  uint16,
  int: int32,
  int32,
  uint: uint32,
  uint32,
  float: float32,
  float32,
  double: float64,
  float64,
};

export interface PlyProperty {
  readonly name: string;
  readonly type: PlyNumber;
  /** Type of the length where the property is a list. */
  readonly countType: PlyNumber | undefined;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: readonly PlyProperty[];
}

export interface PlyHeader {
  readonly format: 'ascii' | 'binary_little_endian' | 'binary_big_endian';
  readonly elements: readonly PlyElement[];
  /** First byte after the header. */
  readonly end: number;
  /** Lines of the header. */
  readonly lineTotal: number;
}

/** Headers longer than this are no headers. */
const longestHeader = 1_000_000;

/**
 * Parses the header.
 * @throws read/malformed, read/cut-off
 */
export function readPlyHeader(name: string, bytes: Uint8Array): PlyHeader {
  let format: PlyHeader['format'] | undefined;
  const elements: { name: string; count: number; properties: PlyProperty[] }[] = [];
  let at = 0;
  for (let line = 1; at < Math.min(bytes.length, longestHeader); line++) {
    let stop = at;
    while (stop < bytes.length && bytes[stop] !== 10 && bytes[stop] !== 13) stop++;
    const words = asciiText(bytes, at, stop).trim().split(/\s+/);
    at = stop + (bytes[stop] === 13 && bytes[stop + 1] === 10 ? 2 : 1);
    const fault = (what: string): Error => malformed(name, `its header says "${words.join(' ').slice(0, 60)}", ${what}`, { line });
    if (words[0] === 'format') {
      if (words[1] !== 'ascii' && words[1] !== 'binary_little_endian' && words[1] !== 'binary_big_endian')
        throw fault('which is no format of PLY (ascii, binary_little_endian, binary_big_endian)');
      format = words[1];
    } else if (words[0] === 'element') {
      const count = Number(words[2]);
      if (!Number.isInteger(count) || count < 0) throw fault('where a count should stand');
      elements.push({ name: words[1], count, properties: [] });
    } else if (words[0] === 'property') {
      const property = propertyOf(words);
      const element = elements.at(-1);
      if (property === undefined || element === undefined) throw fault('which is no property that PLY knows');
      element.properties.push(property);
    } else if (words[0] === 'end_header') {
      if (format === undefined) throw malformed(name, 'its header names no format', { line });
      return { format, elements, end: at, lineTotal: line };
    }
  }
  throw cutOff(name, 'its header has no end', { byte: Math.min(at, bytes.length) });
}

function propertyOf(words: readonly string[]): PlyProperty | undefined {
  const isList = words[1] === 'list';
  const [countWord, typeWord, name] = isList ? [words[2], words[3], words[4]] : [undefined, words[1], words[2]];
  const type = typeWord === undefined ? undefined : numberTypes[typeWord];
  const countType = countWord === undefined ? undefined : numberTypes[countWord];
  if (type === undefined || name === undefined || (isList && countType === undefined)) return undefined;
  return { name, type, countType };
}
