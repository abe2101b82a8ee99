/*
 * The table of mesh readers and the choice among them: what the bytes show comes first, the name second.
 */
import { Failure, finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { gltfReader } from './gltf.ts';
import { notAMesh } from './not-a-mesh.ts';
import { objReader } from './obj.ts';
import { plyReader } from './ply.ts';
import type { MeshReader } from './reader.ts';
import { stlReader } from './stl.ts';
import { plainText } from './text-encoding.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

/** Every reader; those whose signs are surer come first. */
export const meshReaders: readonly MeshReader[] = [gltfReader, plyReader, stlReader, objReader];

/**
 * Reads a mesh file.
 * @returns triangles in file units, nothing welded, nothing mended; findings for what a maker should know about the file.
 * @throws read/empty, read/not-a-mesh, read/cut-off, read/not-a-number, read/bad-index, read/points-only, read/no-vertices, read/malformed,
 * read/external-file: each with line or byte where there is one.
 */
export async function readMesh(file: SourceFile, run: Run): Promise<TriangleSoup> {
  run.report('read', 0);
  const bytes = plainText(viewOf(file.bytes));
  if (bytes.every((byte) => byte === 0 || byte === 32 || (byte >= 9 && byte <= 13))) {
    const what =
      bytes.length === 0 ? `"${file.name}" is empty (0 bytes).` : `"${file.name}" holds nothing but blanks (${bytes.length} bytes).`;
    throw new Failure('read/empty', what, { stage: 'read', file: file.name }, 'Choose another file, or export or download this one again.');
  }
  const extension = extensionOf(file.name);
  const byName = meshReaders.find((reader) => reader.extensions.includes(extension));
  const byContent = meshReaders.find((reader) => reader.recognises(bytes));
  const strange = byContent === undefined ? notAMesh(file.name, bytes) : undefined;
  if (strange !== undefined) throw strange;
  const reader = byContent ?? byName;
  if (reader === undefined) throw unknownFormat(file.name);
  const soup = await reader.read(file, bytes, run);
  run.report('read', 1);
  return byName === reader ? soup : { ...soup, findings: [wrongExtension(file.name, extension, reader), ...soup.findings] };
}

/** The bytes as the engine's own type; readers only look at them. */
function viewOf(bytes: SourceFile['bytes']): Uint8Array {
  return bytes instanceof Uint8Array ? bytes : Uint8Array.from(bytes);
}

function extensionOf(name: string): string {
  const dot = name.lastIndexOf('.');
  return dot === -1 ? '' : name.slice(dot + 1).toLowerCase();
}

function wrongExtension(name: string, extension: string, reader: MeshReader): Finding {
  const what =
    extension === ''
      ? `"${name}" has no extension; its content is ${reader.title} and was read so.`
      : `"${name}" ends in ".${extension}", but its content is ${reader.title} and was read so.`;
  const mend = `Rename it to end in ".${reader.extensions[0]}" so that other programs know it too.`;
  return finding('note', 'read/wrong-extension', what, { stage: 'read', file: name }, mend);
}

function unknownFormat(name: string): Failure {
  const titles = meshReaders.map((reader) => reader.title).join(', ');
  return new Failure(
    'read/not-a-mesh',
    `"${name}" is in none of the formats that Plastron reads (${titles}).`,
    { stage: 'read', file: name },
    'Open it in the program that made it and export it as OBJ or GLB.',
  );
}
