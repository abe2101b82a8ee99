/* Also glb-writer.ts. */
import { describe, expect, it } from 'vitest';
import { createGlb } from '../../src/export/glb-writer.ts';
import { glb } from '../../src/export/gltf.ts';
import { handInput, handOptions } from '../support/drawings.ts';

interface Json {
  readonly nodes: readonly { readonly name: string }[];
  readonly meshes: readonly { readonly primitives: readonly unknown[] }[];
  readonly materials: readonly { readonly name: string }[];
  readonly accessors: readonly { readonly count: number; readonly min?: readonly number[]; readonly max?: readonly number[] }[];
}
const jsonOf = (bytes: unknown): Json => {
  const plain = Uint8Array.from(bytes as Uint8Array);
  const length = new DataView(plain.buffer).getUint32(12, true);
  return JSON.parse(new TextDecoder().decode(plain.subarray(20, 20 + length))) as Json;
};

describe('glb', () => {
  it('writes the body in metres with the areas by name [glTF 2.0 §3.4: metres]', async () => {
    const [body] = await glb.write({ ...handInput(), areaNames: ['Brünne'] }, handOptions);
    const json = jsonOf(body.bytes);
    expect(json.accessors[0].max).toEqual([0.1, 0.1, 0.1].map(Math.fround));
    expect(json.materials.map(({ name }) => name)).toEqual(['body', 'Brünne']);
  });
  it('turns a body that is z up and looks along −y upright, looking along +z [glTF 2.0 §3.4]', async () => {
    const input = handInput();
    // A body of z up, front −y: its left is x, its up z, its front −y.
    const [body] = await glb.write({ ...input, up: 'z', front: '-y' }, handOptions);
    const { accessors } = jsonOf(body.bytes);
    expect(accessors[0].min).toEqual([0, 0, Math.fround(-0.1)]);
    expect(accessors[0].max?.[1]).toBe(Math.fround(0.1));
  });
  it('has one node a part, named', async () => {
    const [, parts] = await glb.write(handInput(), handOptions);
    expect(jsonOf(parts.bytes).nodes.map(({ name }) => name)[0]).toBe('A Brünne, øvre Łuk (breast.1.L)');
  });
});

describe('createGlb', () => {
  it('begins with the magic, the version and the whole length, chunks in words [glTF 2.0 §4.4]', () => {
    const builder = createGlb();
    const place = builder.vectors(Float32Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0), true);
    builder.node('a', builder.mesh('a', [`{"attributes":{"POSITION":${place}}}`]));
    const bytes = builder.finish();
    const data = new DataView(bytes.buffer);
    expect([data.getUint32(0, true), data.getUint32(4, true), data.getUint32(8, true)]).toEqual([0x46546c67, 2, bytes.length]);
    expect(bytes.length % 4).toBe(0);
  });
  it('is a sound file even when empty', () => {
    expect(jsonOf(createGlb().finish())).toMatchObject({ asset: { version: '2.0' } });
  });
});
