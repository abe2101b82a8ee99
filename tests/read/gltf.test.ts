/*
 * glTF: gltf.ts, gltf-check.ts, gltf-container.ts, gltf-transform.ts.
 */
import { Document, NodeIO } from '@gltf-transform/core';
import { EXTMeshoptCompression, KHRDracoMeshCompression, KHRMeshQuantization } from '@gltf-transform/extensions';
import draco from 'draco3dgltf';
import { MeshoptDecoder, MeshoptEncoder } from 'meshoptimizer';
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { bounds, enclosedVolume } from '../../src/mesh/measure.ts';
import { base64Bytes } from '../../src/read/gltf-container.ts';
import { localMatrix } from '../../src/read/gltf-transform.ts';
import { readMesh } from '../../src/read/index.ts';
import type { TriangleSoup } from '../../src/read/triangle-soup.ts';
import { cube, failureOf, floatsAndIndices, glb, primitiveJson, textFile } from '../support/files.ts';

const cubeBin = floatsAndIndices(cube.positions, cube.faces);
const cubeJson = (): Record<string, unknown> => primitiveJson(8, 36);
const readBytes = (bytes: Uint8Array, name = 'cube.glb'): Promise<TriangleSoup> => readMesh({ name, bytes }, quietRun);
type Entry = Record<string, unknown>;
const entry = (json: Record<string, unknown>, key: string, i = 0): Entry => (json[key] as Entry[])[i];

describe('gltfReader', () => {
  it('reads a GLB cube of volume 1 in metres [closed form]', async () => {
    const soup = await readBytes(glb(cubeJson(), cubeBin));
    expect([soup.format, soup.unit, soup.faces.length]).toEqual(['gltf', 'm', 36]);
    expect(enclosedVolume(soup)).toBeCloseTo(1, 12);
  });

  it('reads the same from JSON with the data inside it [second route]', async () => {
    const json = cubeJson();
    entry(json, 'buffers').uri = `data:application/octet-stream;base64,${Buffer.from(cubeBin).toString('base64')}`;
    const soup = await readMesh(textFile('cube.gltf', JSON.stringify(json)), quietRun);
    expect(enclosedVolume(soup)).toBeCloseTo(1, 12);
  });

  it('places nodes by translation, rotation, scale and matrix, one inside the other [closed form]', async () => {
    const json = cubeJson();
    // Moved by (10, 0, 0) after a quarter turn about z after a stretch by (2, 3, 4); then everything mirrored in x = 0 by a matrix.
    json.nodes = [
      { mesh: 0, translation: [10, 0, 0], rotation: [0, 0, Math.SQRT1_2, Math.SQRT1_2], scale: [2, 3, 4] },
      { children: [0], matrix: [-1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1] },
    ];
    json.scenes = [{ nodes: [1] }];
    const soup = await readBytes(glb(json, cubeBin));
    const box = bounds(soup);
    [-10, 0, 0].forEach((value, k) => expect(box.min[k]).toBeCloseTo(value, 12));
    [-7, 2, 4].forEach((value, k) => expect(box.max[k]).toBeCloseTo(value, 12));
    // Mirrored, and still outward: the faces were turned round.
    expect(enclosedVolume(soup)).toBeCloseTo(24, 10);
  });

  it('joins several primitives and shows a mesh once for each node [closed form]', async () => {
    const json = cubeJson();
    const primitive = (entry(json, 'meshes').primitives as Entry[])[0];
    json.meshes = [{ primitives: [primitive, { ...primitive, mode: 1 }] }];
    json.nodes = [{ mesh: 0 }, { mesh: 0, translation: [5, 0, 0] }];
    json.scenes = [{ nodes: [0, 1] }];
    const soup = await readBytes(glb(json, cubeBin));
    expect(enclosedVolume(soup)).toBeCloseTo(2, 12);
    expect(soup.findings.map((found) => found.code)).toEqual(['read/no-surface']);
  });

  it('reads strips and fans with every triangle the same way round [spec: glTF 2.0 §3.7.2.1]', async () => {
    const square = [0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0, 0, 2, 0];
    const strip = await readBytes(glb(primitiveJson(5, 5, 5), floatsAndIndices(square, [0, 1, 2, 3, 4])));
    expect([...strip.faces]).toEqual([0, 1, 2, 1, 3, 2, 2, 3, 4]);
    const ring = [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0];
    const fan = await readBytes(glb(primitiveJson(4, 4, 6), floatsAndIndices(ring, [0, 1, 2, 3])));
    const area = (soup: TriangleSoup): number =>
      Array.from({ length: soup.faces.length / 3 }, (_, f) => {
        const [a, b, c] = [0, 1, 2].map((i) => soup.faces[3 * f + i]);
        const side = (v: number, k: number): number => soup.positions[3 * v + k] - soup.positions[3 * a + k];
        return (side(b, 0) * side(c, 1) - side(b, 1) * side(c, 0)) / 2;
      }).reduce((sum, value) => sum + value, 0);
    expect(area(fan)).toBeCloseTo(1, 12);
    expect(area(strip)).toBeCloseTo(1.5, 12);
  });

  it('reads Draco, meshopt and quantised files as the cube that was written [round trip]', async () => {
    const encoders = {
      'draco3d.encoder': await (draco as unknown as { createEncoderModule: () => Promise<unknown> }).createEncoderModule(),
    };
    await MeshoptEncoder.ready;
    const io = new NodeIO()
      .registerExtensions([EXTMeshoptCompression, KHRDracoMeshCompression, KHRMeshQuantization])
      .registerDependencies({ ...encoders, 'meshopt.encoder': MeshoptEncoder, 'meshopt.decoder': MeshoptDecoder });
    for (const extension of [KHRDracoMeshCompression, EXTMeshoptCompression, KHRMeshQuantization]) {
      const document = new Document();
      const buffer = document.createBuffer();
      document.createExtension(extension as typeof KHRMeshQuantization).setRequired(true);
      const isQuantised = extension === KHRMeshQuantization;
      const positions = isQuantised ? Int16Array.from(cube.positions, (value) => value * 32767) : Float32Array.from(cube.positions);
      const primitive = document
        .createPrimitive()
        .setAttribute(
          'POSITION',
          document.createAccessor().setType('VEC3').setArray(positions).setNormalized(isQuantised).setBuffer(buffer),
        )
        .setIndices(document.createAccessor().setType('SCALAR').setArray(Uint16Array.from(cube.faces)).setBuffer(buffer));
      document.createScene().addChild(document.createNode().setMesh(document.createMesh().addPrimitive(primitive)));
      const soup = await readBytes(await io.writeBinary(document));
      expect(soup.faces.length, extension.EXTENSION_NAME).toBe(36);
      // Draco rounds positions to 14 bits by default.
      expect(Math.abs(enclosedVolume(soup) - 1), extension.EXTENSION_NAME).toBeLessThan(3 / 2 ** 13);
    }
  });

  it('refuses an index out of range, which the library takes in silence [repro]', async () => {
    const failure = await failureOf(readBytes(glb(cubeJson(), floatsAndIndices(cube.positions, [...cube.faces.slice(0, 35), 8]))));
    expect([failure.code, failure.where.faces]).toEqual(['read/bad-index', [11]]);
  });

  it('turns every damage to the structure into a failure of its own [repro]', async () => {
    const damaged = (change: (json: Record<string, unknown>) => void): Uint8Array => {
      const json = cubeJson();
      change(json);
      return glb(json, cubeBin);
    };
    const cases: [string, (json: Record<string, unknown>) => void][] = [
      ['read/malformed', (json) => (entry(json, 'nodes').mesh = 7)],
      ['read/malformed', (json) => (entry(json, 'nodes').children = [0])],
      ['read/malformed', (json) => (json.accessors = 'none')],
      ['read/malformed', (json) => (entry(json, 'accessors').type = 'VEC9')],
      ['read/malformed', (json) => (entry(json, 'accessors').count = -1)],
      ['read/malformed', (json) => (entry(json, 'accessors').bufferView = 5)],
      ['read/cut-off', (json) => (entry(json, 'accessors').count = 9)],
      ['read/cut-off', (json) => (entry(json, 'bufferViews', 1).byteLength = 7200)],
      ['read/cut-off', (json) => (entry(json, 'buffers').byteLength = 10_000)],
      ['read/malformed', (json) => (entry(json, 'bufferViews').buffer = 1)],
      ['read/malformed', (json) => (entry(json, 'meshes').primitives = [{ attributes: { POSITION: 12 } }])],
      ['read/malformed', (json) => (entry(json, 'meshes').primitives = [{ attributes: { NORMAL: 0 }, indices: 1 }])],
      ['read/malformed', (json) => (json.nodes = [{ mesh: 0 }, { children: [0] }, { children: [0] }])],
      ['read/no-vertices', (json) => (json.meshes = [])],
      ['read/points-only', (json) => ((entry(json, 'meshes').primitives as Entry[])[0].mode = 0)],
      ['read/external-file', (json) => (entry(json, 'buffers').uri = 'cube.bin')],
      ['read/old-gltf', (json) => (json.asset = { version: '1.0' })],
    ];
    for (const [code, change] of cases) {
      const failure = await failureOf(
        readBytes(
          damaged((json) => {
            change(json);
            if (code === 'read/no-vertices') json.nodes = [];
          }),
        ),
      );
      expect(failure.code, change.toString()).toBe(code);
    }
  });

  it('refuses NaN and a file that ends anywhere [repro]', async () => {
    const nan: number[] = [...cube.positions];
    nan[4] = NaN;
    expect((await failureOf(readBytes(glb(cubeJson(), floatsAndIndices(nan, cube.faces))))).code).toBe('read/not-a-number');
    const whole = glb(cubeJson(), cubeBin);
    for (let length = 5; length < whole.length; length += 37)
      expect((await failureOf(readBytes(whole.subarray(0, length)))).code, String(length)).toBe('read/cut-off');
    const json = JSON.stringify(cubeJson());
    expect((await failureOf(readMesh(textFile('a.gltf', json.slice(0, 300)), quietRun))).code).toBe('read/cut-off');
  });

  it('survives any single changed byte: a mesh or a failure, never a bare error [fuzz]', async () => {
    const whole = glb(cubeJson(), cubeBin);
    for (let i = 12; i < 20 + JSON.stringify(cubeJson()).length; i += 3) {
      const bytes = Uint8Array.from(whole);
      bytes[i] ^= 0x15;
      const outcome = await readBytes(bytes).then(
        (soup) => (soup.faces.length > 0 ? 'mesh' : 'empty mesh'),
        (cause: unknown) => (cause instanceof Error && cause.name === 'Failure' ? 'failure' : String(cause)),
      );
      expect(['mesh', 'failure'], `byte ${i}: ${outcome}`).toContain(outcome);
    }
  });
});

describe('localMatrix', () => {
  it('turns by a unit quaternion: a third of a turn about the diagonal moves x to y to z [closed form]', () => {
    const m = localMatrix({ rotation: [0.5, 0.5, 0.5, 0.5] });
    expect([0, 1, 2].map((row) => m[row])).toEqual([0, 1, 0]);
    expect([0, 1, 2].map((row) => m[4 + row])).toEqual([0, 0, 1]);
  });
});

describe('base64Bytes', () => {
  it('decodes the examples of the standard [rfc4648 §10]', () => {
    for (const [text, plain] of [
      ['', ''],
      ['Zg==', 'f'],
      ['Zm8=', 'fo'],
      ['Zm9v', 'foo'],
      ['Zm9vYg==', 'foob'],
      ['Zm9vYmFy', 'foobar'],
    ])
      expect(new TextDecoder().decode(base64Bytes(text))).toBe(plain);
  });
});
