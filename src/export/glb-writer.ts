/*
 * A small writer of binary glTF 2.0 [gltf2]: a JSON chunk and one buffer, accessors over it.
 */
import type { Rgb } from './area-colors.ts';

/** A file as it grows; each call gives the index of what it added. */
export interface GlbBuilder {
  /** An accessor of three floats a vertex, with its bounds where the format asks for them. */
  readonly vectors: (values: Float32Array, hasBounds: boolean) => number;
  /** An accessor of four normalised bytes a vertex. */
  readonly colors: (values: Uint8Array) => number;
  /** An accessor of vertex numbers. */
  readonly indices: (values: Uint32Array) => number;
  readonly material: (name: string, rgb: Rgb, isTwoSided: boolean) => number;
  readonly mesh: (name: string, primitives: readonly string[]) => number;
  readonly node: (name: string, mesh: number) => void;
  readonly finish: () => Uint8Array;
}

/** Codes of the format. */
const kind = { float: 5126, byte: 5121, index: 5125 } as const;
const target = { vertices: 34962, indices: 34963 } as const;
const magic = 0x46546c67;
const chunkType = { json: 0x4e4f534a, binary: 0x004e4942 } as const;

/** Begins a file. */
export function createGlb(): GlbBuilder {
  const views: string[] = [];
  const accessors: string[] = [];
  const materials: string[] = [];
  const meshes: string[] = [];
  const nodes: string[] = [];
  const chunks: Uint8Array[] = [];
  let length = 0;
  const view = (values: Float32Array | Uint8Array | Uint32Array, use: number): number => {
    const bytes = littleEndian(values);
    views.push(`{"buffer":0,"byteOffset":${length},"byteLength":${bytes.length},"target":${use}}`);
    chunks.push(bytes);
    length += bytes.length;
    return views.length - 1;
  };
  const accessor = (fields: string): number => accessors.push(`{${fields}}`) - 1;
  return {
    vectors: (values, hasBounds) => {
      const bounds = hasBounds ? `,${boundsText(values)}` : '';
      return accessor(
        `"bufferView":${view(values, target.vertices)},"componentType":${kind.float},"count":${values.length / 3},"type":"VEC3"${bounds}`,
      );
    },
    colors: (values) =>
      accessor(
        `"bufferView":${view(values, target.vertices)},"componentType":${kind.byte},"normalized":true,"count":${values.length / 4},"type":"VEC4"`,
      ),
    indices: (values) =>
      accessor(`"bufferView":${view(values, target.indices)},"componentType":${kind.index},"count":${values.length},"type":"SCALAR"`),
    material: (name, rgb, isTwoSided) =>
      materials.push(
        `{"name":${JSON.stringify(name)},"doubleSided":${isTwoSided},"pbrMetallicRoughness":{"baseColorFactor":[${rgb.map(linear).join(',')},1],"metallicFactor":0,"roughnessFactor":0.9}}`,
      ) - 1,
    mesh: (name, primitives) => meshes.push(`{"name":${JSON.stringify(name)},"primitives":[${primitives.join(',')}]}`) - 1,
    node: (name, mesh) => void nodes.push(`{"name":${JSON.stringify(name)},"mesh":${mesh}}`),
    finish: () => {
      const lists: readonly (readonly [string, readonly string[]])[] = [
        ['nodes', nodes],
        ['meshes', meshes],
        ['materials', materials],
        ['accessors', accessors],
        ['bufferViews', views],
      ];
      const filled = lists.filter(([, entries]) => entries.length > 0).map(([name, entries]) => `,"${name}":[${entries.join(',')}]`);
      const scene = nodes.length > 0 ? `{"nodes":[${nodes.map((_, k) => k).join(',')}]}` : '{}';
      const buffers = length > 0 ? `,"buffers":[{"byteLength":${length}}]` : '';
      const json = `{"asset":{"version":"2.0","generator":"Plastron"},"scene":0,"scenes":[${scene}]${filled.join('')}${buffers}}`;
      return assemble(new TextEncoder().encode(json), chunks, length);
    },
  };
}

function assemble(json: Uint8Array, chunks: readonly Uint8Array[], length: number): Uint8Array {
  const jsonLength = Math.ceil(json.length / 4) * 4;
  const total = 12 + 8 + jsonLength + (length > 0 ? 8 + length : 0);
  const bytes = new Uint8Array(total);
  const data = new DataView(bytes.buffer);
  for (const [k, word] of [magic, 2, total, jsonLength, chunkType.json].entries()) data.setUint32(4 * k, word, true);
  bytes.fill(0x20, 20, 20 + jsonLength);
  bytes.set(json, 20);
  if (length === 0) return bytes;
  let at = 20 + jsonLength;
  data.setUint32(at, length, true);
  data.setUint32(at + 4, chunkType.binary, true);
  at += 8;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

/** Bytes of an array, lowest first, whatever the machine's own order; every array here fills whole words. */
function littleEndian(values: Float32Array | Uint8Array | Uint32Array): Uint8Array {
  if (values instanceof Uint8Array) return values;
  const bytes = new Uint8Array(4 * values.length);
  const data = new DataView(bytes.buffer);
  for (let k = 0; k < values.length; k++)
    if (values instanceof Float32Array) data.setFloat32(4 * k, values[k], true);
    else data.setUint32(4 * k, values[k], true);
  return bytes;
}

function boundsText(values: Float32Array): string {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let k = 0; k < values.length; k++) {
    low[k % 3] = Math.min(low[k % 3], values[k]);
    high[k % 3] = Math.max(high[k % 3], values[k]);
  }
  return `"min":[${low.join(',')}],"max":[${high.join(',')}]`;
}

/** A colour byte as the linear share that the format wants; the sRGB curve by its square, close enough for a flat tint. */
const linear = (value: number): string => ((value / 255) * (value / 255)).toFixed(4);
