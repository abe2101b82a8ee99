/*
 * The outside of a glTF file: GLB chunks or plain JSON, and the buffers that stand inside. Buffers in other files cannot be read, because a
 * page is given one file; that is a failure with the way out.
 */
import { Failure } from '../base/failure.ts';
import { cutOff, malformed } from './faults.ts';
import { asciiText } from './text-scanner.ts';

/** A glTF file taken apart: its JSON, and the bytes of each buffer. */
export interface GltfContainer {
  readonly json: Record<string, unknown>;
  /** Bytes of the GLB's own buffer, where there is one. */
  readonly bin: Uint8Array | undefined;
}

const glbMagic = 0x46546c67;
const jsonChunk = 0x4e4f534a;
const binChunk = 0x004e4942;

/** True for an object with named fields, as JSON has them. */
export const isRecord = (value: unknown): value is Record<string, unknown> => Object(value) === value && !Array.isArray(value);

/** True for a GLB's magic word. */
export const isGlb = (bytes: Uint8Array): boolean => bytes.length >= 4 && u32At(bytes, 0) === glbMagic;

/** True for JSON with an "asset" near its start or its end. */
export function isGltfJson(bytes: Uint8Array): boolean {
  let at = 0;
  while (at < bytes.length && (bytes[at] === 32 || (bytes[at] >= 9 && bytes[at] <= 13))) at++;
  if (bytes[at] !== 123) return false;
  const sample = asciiText(bytes, at, at + 20_000) + asciiText(bytes, Math.max(at, bytes.length - 20_000), bytes.length);
  return /"(asset|accessors|bufferViews|meshes|scenes|nodes)"/.test(sample);
}

/**
 * Takes a GLB or a glTF JSON apart.
 * @throws read/cut-off, read/malformed, read/old-gltf
 */
export function openGltf(name: string, bytes: Uint8Array): GltfContainer {
  const { text, bin } = isGlb(bytes) ? glbParts(name, bytes) : { text: bytes, bin: undefined };
  const json = parseJson(name, text);
  const version = isRecord(json.asset) ? json.asset.version : undefined;
  if (typeof version === 'string' && !version.startsWith('2'))
    throw new Failure(
      'read/old-gltf',
      `"${name}" is glTF ${version.slice(0, 8)}; Plastron reads glTF 2.`,
      { stage: 'read', file: name },
      'Export it as glTF 2.0 (most programs call it GLB), or as OBJ.',
    );
  if (version === undefined && json.meshes === undefined)
    throw malformed(name, 'it has neither an "asset" nor "meshes", so it is not a glTF file', undefined);
  return { json, bin };
}

function u32At(bytes: Uint8Array, at: number): number {
  return (bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16) | (bytes[at + 3] << 24)) >>> 0;
}

function glbParts(name: string, bytes: Uint8Array): { text: Uint8Array; bin: Uint8Array | undefined } {
  if (bytes.length < 20) throw cutOff(name, `a GLB file has a header of 20 bytes, this one ends sooner`, { byte: bytes.length });
  const version = u32At(bytes, 4);
  if (version !== 2)
    throw new Failure(
      'read/old-gltf',
      `"${name}" is a GLB of version ${version}; Plastron reads version 2.`,
      { stage: 'read', file: name, byte: 4 },
      'Export it as glTF 2.0 (GLB), or as OBJ.',
    );
  const declared = u32At(bytes, 8);
  if (declared > bytes.length)
    throw cutOff(name, `its header promises ${declared} bytes, but there are ${bytes.length}`, { byte: bytes.length });
  let at = 12;
  let text: Uint8Array | undefined;
  let bin: Uint8Array | undefined;
  while (at + 8 <= bytes.length) {
    const length = u32At(bytes, at);
    const kind = u32At(bytes, at + 4);
    if (at + 8 + length > bytes.length) throw cutOff(name, `a chunk of ${length} bytes does not fit`, { byte: at });
    const chunk = bytes.subarray(at + 8, at + 8 + length);
    if (kind === jsonChunk) text ??= chunk;
    else if (kind === binChunk) bin ??= chunk;
    at += 8 + length;
  }
  if (text === undefined) throw malformed(name, 'the GLB has no JSON chunk', { byte: 12 });
  return { text, bin };
}

function parseJson(name: string, bytes: Uint8Array): Record<string, unknown> {
  const text = new TextDecoder().decode(bytes);
  if (!text.trimStart().startsWith('{')) throw malformed(name, 'it is neither GLB nor JSON', { byte: 0 });
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (cause) {
    // A file cut in its middle ends without the last brace.
    if (!text.replace(/[\s\0]+$/, '').endsWith('}')) throw cutOff(name, 'its JSON has no end', { byte: bytes.length });
    throw malformed(
      name,
      `its JSON cannot be parsed (${cause instanceof Error ? cause.message.slice(0, 120) : 'unknown'})`,
      undefined,
      cause,
    );
  }
  if (!isRecord(json)) throw malformed(name, 'its JSON is not an object', undefined);
  return json;
}

/**
 * The bytes of each buffer, inside the GLB or in a data URI.
 * @throws read/external-file where a buffer stands in another file; read/cut-off where one is shorter than promised
 */
export function gltfBuffers(name: string, container: GltfContainer): (Uint8Array | undefined)[] {
  const buffers = Array.isArray(container.json.buffers) ? (container.json.buffers as Record<string, unknown>[]) : [];
  return buffers.map((buffer, i) => {
    const uri = typeof buffer.uri === 'string' ? buffer.uri : undefined;
    // A buffer without bytes of its own is the fallback of a compressed one, or the GLB's own.
    const data = uri === undefined ? (i === 0 ? container.bin : undefined) : dataUriBytes(name, uri);
    const promised = typeof buffer.byteLength === 'number' ? buffer.byteLength : 0;
    if (data !== undefined && data.length < promised)
      throw cutOff(name, `buffer ${i} promises ${promised} bytes and has ${data.length}`, { byte: data.length });
    return data;
  });
}

function dataUriBytes(name: string, uri: string): Uint8Array {
  const match = /^data:[^,]*?(;base64)?,/.exec(uri);
  if (!match)
    throw new Failure(
      'read/external-file',
      `"${name}" keeps its mesh in another file, "${uri.slice(0, 80)}".`,
      { stage: 'read', file: name, item: uri.slice(0, 80) },
      'Export it as GLB ("binary", one file) or as glTF with everything embedded.',
    );
  if (match[1] === undefined) throw malformed(name, 'a data address is not base64', undefined);
  return base64Bytes(uri, match[0].length);
}

const base64Letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Bytes of base64 text [rfc4648 §4]; letters outside the alphabet are passed over. */
export function base64Bytes(text: string, from = 0): Uint8Array {
  const value = new Int8Array(128).fill(-1);
  for (let i = 0; i < 64; i++) value[base64Letters.charCodeAt(i)] = i;
  const bytes = new Uint8Array(Math.ceil(((text.length - from) * 3) / 4));
  let bits = 0;
  let held = 0;
  let fill = 0;
  for (let i = from; i < text.length; i++) {
    const digit = value[text.charCodeAt(i) & 127];
    if (digit < 0) continue;
    bits = ((bits << 6) | digit) & 0xffff;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[fill++] = (bits >> held) & 255;
  }
  return bytes.subarray(0, fill);
}
