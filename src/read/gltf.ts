/*
 * Gateway to @gltf-transform and the Draco and meshopt decoders: glTF 2 as JSON or GLB. The file is checked first (`gltf-check.ts`), because
 * the library takes an index out of range in silence and answers other damage with a bare TypeError. Unit: metres, as the format fixes.
 */
import { WebIO } from '@gltf-transform/core';
import type { Accessor, GLTF, Primitive } from '@gltf-transform/core';
import { EXTMeshoptCompression, KHRDracoMeshCompression, KHRMeshQuantization } from '@gltf-transform/extensions';
import { MeshoptDecoder } from 'meshoptimizer/decoder';
import { Failure, finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { malformed, notANumber, noVertices, pointsOnly } from './faults.ts';
import { checkGltf, checkIndices } from './gltf-check.ts';
import type { GltfSurface } from './gltf-check.ts';
import { gltfBuffers, isGlb, isGltfJson, openGltf } from './gltf-container.ts';
import { determinant, worldMatrices } from './gltf-transform.ts';
import type { Matrix } from './gltf-transform.ts';
import type { MeshReader } from './reader.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

export const gltfReader: MeshReader = {
  format: 'gltf',
  title: 'glTF',
  extensions: ['glb', 'gltf'],
  recognises: (bytes) => isGlb(bytes) || isGltfJson(bytes),
  read,
};

const identity: Matrix = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/** One primitive, placed. */
interface Piece {
  readonly positions: Float64Array;
  readonly colors: Uint8Array | undefined;
  readonly faces: Uint32Array;
}

async function read(file: SourceFile, bytes: Uint8Array, run: Run): Promise<TriangleSoup> {
  const container = openGltf(file.name, bytes);
  const buffers = gltfBuffers(file.name, container);
  const surface = checkGltf(file.name, container.json, buffers);
  run.report('read', 0.2);
  await run.breathe();
  const meshes = await decodeMeshes(file.name, surface, buffers);
  run.report('read', 0.6);
  await run.breathe();
  const pieces: Piece[] = [];
  let skipped = 0;
  let pointTotal = 0;
  for (const { mesh, matrix } of placements(surface)) {
    for (const primitive of meshes[mesh]) {
      const isSurface = primitive.getMode() >= 4 && primitive.getMode() <= 6;
      pointTotal += primitive.getAttribute('POSITION')?.getCount() ?? 0;
      if (!isSurface) skipped++;
      else pieces.push(placePrimitive(file.name, primitive, matrix));
      await run.breathe();
    }
  }
  if (pointTotal === 0) throw noVertices(file.name, 'glTF');
  const soup = joinPieces(pieces, findingsOf(file.name, surface, skipped));
  if (soup.faces.length === 0) throw pointsOnly(file.name, pointTotal);
  return soup;
}

async function decodeMeshes(name: string, surface: GltfSurface, buffers: readonly (Uint8Array | undefined)[]): Promise<Primitive[][]> {
  const extensions = surface.json.extensionsUsed as readonly string[];
  const io = new WebIO().registerExtensions([EXTMeshoptCompression, KHRDracoMeshCompression, KHRMeshQuantization]);
  if (extensions.includes('EXT_meshopt_compression')) {
    await MeshoptDecoder.ready;
    io.registerDependencies({ 'meshopt.decoder': MeshoptDecoder });
  }
  if (extensions.includes('KHR_draco_mesh_compression')) io.registerDependencies({ 'draco3d.decoder': await loadDraco(name) });
  // Each buffer gets an address of its own, so that the library finds its bytes whatever the file called it.
  const resources: Record<string, Uint8Array<ArrayBuffer>> = {};
  const bufferDefs = buffers.map((data, i) => {
    const uri = `buffer-${i}`;
    resources[uri] = Uint8Array.from(data ?? []);
    return { uri, byteLength: data?.length ?? 0 };
  });
  try {
    const json = { ...surface.json, buffers: bufferDefs } as unknown as GLTF.IGLTF;
    const document = await io.readJSON({ json, resources });
    return document
      .getRoot()
      .listMeshes()
      .map((mesh) => mesh.listPrimitives());
  } catch (cause) {
    // The decoders tell of damage by all kinds of errors; the file is at fault, since its frame was checked.
    throw malformed(
      name,
      `its mesh data cannot be decoded (${cause instanceof Error ? cause.message.slice(0, 120) : 'unknown'})`,
      undefined,
      cause,
    );
  }
}

async function loadDraco(name: string): Promise<unknown> {
  try {
    const draco = await import('draco3dgltf');
    return await draco.default.createDecoderModule();
  } catch (cause) {
    throw new Failure(
      'read/no-draco',
      `"${name}" is compressed with Draco, and its decoder could not be started here.`,
      { stage: 'read', file: name },
      'Export the mesh without compression.',
      cause,
    );
  }
}

/** Every mesh with the map of each node that shows it; meshes that no node shows stand as they are where no node shows any. */
function placements(surface: GltfSurface): { mesh: number; matrix: Matrix }[] {
  const world = worldMatrices(surface.nodes, surface.roots);
  const placed: { mesh: number; matrix: Matrix }[] = [];
  surface.nodes.forEach((node, i) => {
    const matrix = world[i];
    // The skeleton of a skinned mesh places it, not its node [gltf2021 §3.7.3.3]: it is read in the pose in which it was bound.
    if (matrix !== undefined && typeof node.mesh === 'number')
      placed.push({ mesh: node.mesh, matrix: node.skin === undefined ? matrix : identity });
  });
  return placed.length > 0 ? placed : surface.meshes.map((_, mesh) => ({ mesh, matrix: identity }));
}

function placePrimitive(name: string, primitive: Primitive, matrix: Matrix): Piece {
  const accessor = primitive.getAttribute('POSITION');
  if (!accessor) throw malformed(name, 'a primitive has no positions', undefined);
  if (accessor.getElementSize() !== 3) throw malformed(name, 'positions do not have three coordinates', undefined);
  const vertexTotal = accessor.getCount();
  const positions = valuesOf(accessor, 3);
  for (let i = 0; i < positions.length; i++)
    if (!Number.isFinite(positions[i]))
      throw notANumber(name, String(positions[i]), `coordinate ${i % 3} of vertex ${Math.floor(i / 3)}`, { byte: 0 });
  const indices = arrayOf(primitive.getIndices() ?? undefined) ?? Uint32Array.from({ length: vertexTotal }, (_, v) => v);
  checkIndices(name, indices, vertexTotal);
  const faces = trianglesOfMode(primitive.getMode(), indices, determinant(matrix) < 0);
  const color = primitive.getAttribute('COLOR_0');
  return { positions: mapped(positions, matrix), colors: color ? colorBytes(color) : undefined, faces };
}

/** The accessor's own array; the library's type for it is not resolved without the browser's types. */
function arrayOf(accessor: Accessor | undefined): ArrayLike<number> | undefined {
  return (accessor?.getArray() ?? undefined) as ArrayLike<number> | undefined;
}

/** Values of an accessor as real numbers: whole numbers that stand for fractions are divided out. */
function valuesOf(accessor: Accessor, size: number): Float64Array {
  const array = arrayOf(accessor);
  if (array !== undefined && !accessor.getNormalized() && accessor.getElementSize() === size) return Float64Array.from(array);
  const values = new Float64Array(size * accessor.getCount());
  const element: number[] = [];
  for (let v = 0; v < accessor.getCount(); v++) {
    accessor.getElement(v, element);
    for (let k = 0; k < size; k++) values[size * v + k] = element[k];
  }
  return values;
}

function mapped(positions: Float64Array, m: Matrix): Float64Array {
  if (m.every((value, i) => value === identity[i])) return positions;
  const out = new Float64Array(positions.length);
  for (let v = 0; v < positions.length; v += 3) {
    const [x, y, z] = [positions[v], positions[v + 1], positions[v + 2]];
    for (let k = 0; k < 3; k++) out[v + k] = m[k] * x + m[4 + k] * y + m[8 + k] * z + m[12 + k];
  }
  return out;
}

/** Triangles of a list (4), strip (5) or fan (6) [gltf2021 §3.7.2.1]; turned round where the node mirrors. */
function trianglesOfMode(mode: number, indices: ArrayLike<number>, isMirrored: boolean): Uint32Array {
  const total = mode === 4 ? Math.floor(indices.length / 3) : Math.max(0, indices.length - 2);
  const faces = new Uint32Array(3 * total);
  for (let f = 0; f < total; f++) {
    let corners: readonly [number, number, number];
    if (mode === 4) corners = [3 * f, 3 * f + 1, 3 * f + 2];
    else if (mode === 5) corners = [f, f + 1 + (f % 2), f + 2 - (f % 2)];
    else corners = [f + 1, f + 2, 0];
    faces[3 * f] = indices[corners[0]];
    faces[3 * f + 1] = indices[corners[isMirrored ? 2 : 1]];
    faces[3 * f + 2] = indices[corners[isMirrored ? 1 : 2]];
  }
  return faces;
}

function colorBytes(accessor: Accessor): Uint8Array {
  const bytes = new Uint8Array(3 * accessor.getCount());
  const element: number[] = [];
  for (let v = 0; v < accessor.getCount(); v++) {
    accessor.getElement(v, element);
    for (let k = 0; k < 3; k++) bytes[3 * v + k] = Math.max(0, Math.min(255, Math.round(element[k] * 255)));
  }
  return bytes;
}

function joinPieces(pieces: readonly Piece[], findings: readonly Finding[]): TriangleSoup {
  const positions = new Float64Array(pieces.reduce((sum, piece) => sum + piece.positions.length, 0));
  const faces = new Uint32Array(pieces.reduce((sum, piece) => sum + piece.faces.length, 0));
  const colors = new Uint8Array(positions.length).fill(255);
  let vertex = 0;
  let corner = 0;
  for (const piece of pieces) {
    positions.set(piece.positions, 3 * vertex);
    if (piece.colors !== undefined) colors.set(piece.colors, 3 * vertex);
    for (let h = 0; h < piece.faces.length; h++) faces[corner + h] = piece.faces[h] + vertex;
    vertex += piece.positions.length / 3;
    corner += piece.faces.length;
  }
  const soup: TriangleSoup = { positions, faces, unit: 'm', format: 'gltf', findings };
  return pieces.some((piece) => piece.colors !== undefined) ? { ...soup, colors } : soup;
}

function findingsOf(name: string, surface: GltfSurface, skipped: number): Finding[] {
  const findings: Finding[] = [];
  const where = { stage: 'read', file: name };
  if (skipped > 0)
    findings.push(
      finding(
        'note',
        'read/no-surface',
        `${skipped} parts of "${name}" are points or lines; they were passed over.`,
        where,
        'Nothing to do.',
      ),
    );
  if (surface.nodes.some((node) => node.skin !== undefined))
    findings.push(
      finding(
        'note',
        'read/skeleton',
        `"${name}" has a skeleton; its surface was read in the pose in which it was bound.`,
        where,
        'If another pose is wanted, apply the pose in the program that made the file and export again.',
      ),
    );
  return findings;
}
