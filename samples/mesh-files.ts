/*
 * Meshes as files: OBJ in millimetres, and GLB as glTF 2.0 asks (metres, 32-bit floats, one buffer). Small writers, so that samples need no package.
 */
import type { HalfEdgeMesh } from '../src/mesh/half-edge-mesh.ts';
import { bounds } from '../src/mesh/measure.ts';

type Triangles = Pick<HalfEdgeMesh, 'positions' | 'faces'>;

/** OBJ text in mm with four decimals; one object of triangles. */
export function writeObj(mesh: Triangles, name: string): Uint8Array {
  const lines = [`# ${name}, millimetres, y up, z front`, `o ${name}`];
  for (let v = 0; v < mesh.positions.length; v += 3) lines.push(`v ${[0, 1, 2].map((k) => mesh.positions[v + k].toFixed(4)).join(' ')}`);
  for (let h = 0; h < mesh.faces.length; h += 3) lines.push(`f ${[0, 1, 2].map((i) => mesh.faces[h + i] + 1).join(' ')}`);
  return new TextEncoder().encode(`${lines.join('\n')}\n`);
}

/** Binary glTF in metres: positions as float32, indices as uint32. */
export function writeGlb(mesh: Triangles, name: string): Uint8Array {
  const positions = Float32Array.from(mesh.positions, (mm) => mm / 1000);
  const { min, max } = bounds({ positions: Float64Array.from(positions) });
  const indexBytes = 4 * mesh.faces.length;
  const json = JSON.stringify({
    asset: { version: '2.0', generator: 'plastron samples' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ name, mesh: 0 }],
    meshes: [{ name, primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    buffers: [{ byteLength: indexBytes + positions.byteLength }],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: positions.byteLength, target: 34962 },
      { buffer: 0, byteOffset: positions.byteLength, byteLength: indexBytes, target: 34963 },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count: positions.length / 3, type: 'VEC3', min, max },
      { bufferView: 1, componentType: 5125, count: mesh.faces.length, type: 'SCALAR' },
    ],
  });
  const text = new TextEncoder().encode(json.padEnd(Math.ceil(json.length / 4) * 4, ' '));
  const bytes = new Uint8Array(12 + 8 + text.length + 8 + positions.byteLength + indexBytes);
  const view = new DataView(bytes.buffer);
  const words = [0x46546c67, 2, bytes.length, text.length, 0x4e4f534a];
  words.forEach((word, i) => view.setUint32(4 * i, word, true));
  bytes.set(text, 20);
  let at = 20 + text.length;
  view.setUint32(at, positions.byteLength + indexBytes, true);
  view.setUint32(at + 4, 0x004e4942, true);
  at += 8;
  for (const value of positions) {
    view.setFloat32(at, value, true);
    at += 4;
  }
  for (let h = 0; h < mesh.faces.length; h++) view.setUint32(at + 4 * h, mesh.faces[h], true);
  return bytes;
}
