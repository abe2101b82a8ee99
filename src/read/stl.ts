/*
 * STL: loose triangles, as text (`facet … vertex x y z … endfacet`) or as records of 50 bytes after a header of 80 bytes and a count. Many binary files
 * begin with the word "solid" too, so the size of the file decides first. Vertices are not shared: the Body station welds them.
 */
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { cutOff, malformed, noVertices, notANumber } from './faults.ts';
import { grownF64, grownU32 } from './growing.ts';
import { trianglesOfPolygons } from './polygon-triangles.ts';
import type { MeshReader } from './reader.ts';
import { asciiText, createTextScanner, lineOf } from './text-scanner.ts';
import type { TextScanner } from './text-scanner.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

export const stlReader: MeshReader = {
  format: 'stl',
  title: 'STL',
  extensions: ['stl'],
  recognises: (bytes) => hasBinarySize(bytes) || isText(bytes),
  read: (file, bytes, run) => (hasBinarySize(bytes) || !isText(bytes) ? readBinary(file, bytes, run) : readText(file, bytes, run)),
};

const headerBytes = 84;
const recordBytes = 50;
/** Records, or facets, between two pauses. */
const slice = 50_000;

const countIn = (bytes: Uint8Array): number => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(80, true);

/** True if the file is exactly as long as its count of binary records says. */
function hasBinarySize(bytes: Uint8Array): boolean {
  return bytes.length > headerBytes && countIn(bytes) > 0 && bytes.length === headerBytes + recordBytes * countIn(bytes);
}

/** True for text that begins with "solid" and soon comes to a facet or to its end. */
function isText(bytes: Uint8Array): boolean {
  const head = asciiText(bytes, 0, 4000).toLowerCase();
  return /^\s*\?*solid/.test(head.replaceAll('?', ' ')) && /facet|endsolid/.test(head);
}

async function readBinary(file: SourceFile, bytes: Uint8Array, run: Run): Promise<TriangleSoup> {
  const { total, findings } = recordsIn(file.name, bytes);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const positions = new Float64Array(9 * total);
  for (let f = 0; f < total; f++) {
    const at = headerBytes + recordBytes * f + 12;
    for (let i = 0; i < 9; i++) {
      const value = view.getFloat32(at + 4 * i, true);
      if (!Number.isFinite(value)) throw notANumber(file.name, String(value), `a coordinate of face ${f + 1}`, { byte: at + 4 * i });
      positions[9 * f + i] = value;
    }
    if (f % slice !== 0) continue;
    run.report('read', f / total);
    await run.breathe();
  }
  return { positions, faces: Uint32Array.from({ length: 3 * total }, (_, h) => h), unit: 'unknown', format: 'stl', findings };
}

/** A count this many times too large is nonsense of the writing program; a smaller excess means that the file was cut off. */
const nonsenseFactor = 16;

/** How many records to read: the count of the header where it fits, else what the file has room for. */
function recordsIn(name: string, bytes: Uint8Array): { total: number; findings: Finding[] } {
  if (bytes.length < headerBytes + recordBytes) throw cutOff(name, 'not even one face of an STL file fits into it', { byte: bytes.length });
  const promised = countIn(bytes);
  const room = (bytes.length - headerBytes) / recordBytes;
  const total = Math.floor(room);
  if (promised === room) return { total, findings: [] };
  if (promised > 0 && promised < room) return { total: promised, findings: [wrongCount(name, promised, total, promised)] };
  const isNonsense = promised === 0 || promised > nonsenseFactor * total;
  if (!isNonsense || room !== total)
    throw cutOff(name, `its header promises ${promised} faces, but there is room for ${Math.floor(room)}`, { byte: bytes.length });
  return { total, findings: [wrongCount(name, promised, total, total)] };
}

function wrongCount(name: string, promised: number, room: number, taken: number): Finding {
  return finding(
    'warning',
    'read/wrong-count',
    `The header of "${name}" says ${promised} faces, but the file has room for ${room}; ${taken} were read.`,
    { stage: 'read', file: name, byte: 80 },
    'Check that nothing of the body is missing.',
  );
}

/** What has been read of a text file. */
interface StlText {
  positions: Float64Array;
  vertexTotal: number;
  sizes: Uint32Array;
  facetTotal: number;
  /** Vertices of the facet that is open, and the line where it began. */
  openCorners: number;
  solidsOpen: number;
}

async function readText(file: SourceFile, bytes: Uint8Array, run: Run): Promise<TriangleSoup> {
  const scan = createTextScanner(bytes);
  const content: StlText = {
    positions: new Float64Array(900),
    vertexTotal: 0,
    sizes: new Uint32Array(100),
    facetTotal: 0,
    openCorners: 0,
    solidsOpen: 0,
  };
  for (let lines = 1; ; lines++) {
    scan.skipSpace();
    if (scan.peek() === -1) break;
    readWordInto(content, scan, bytes, file.name);
    if (lines % slice !== 0) continue;
    run.report('read', scan.at() / bytes.length);
    await run.breathe();
  }
  if (content.openCorners > 0 || content.solidsOpen > 0)
    throw cutOff(file.name, content.openCorners > 0 ? 'its last facet has no end' : '"endsolid" is missing', {
      line: lineOf(bytes, bytes.length),
    });
  if (content.facetTotal === 0) throw noVertices(file.name, 'STL');
  const positions = content.positions.slice(0, 3 * content.vertexTotal);
  const corners = Uint32Array.from({ length: content.vertexTotal }, (_, v) => v);
  const faces = trianglesOfPolygons(positions, corners, content.sizes.slice(0, content.facetTotal));
  return { positions, faces, unit: 'unknown', format: 'stl', findings: [] };
}

/** Takes the word under the cursor with what belongs to it. */
function readWordInto(content: StlText, scan: TextScanner, bytes: Uint8Array, name: string): void {
  const word = scan.word().toLowerCase();
  scan.skipWord();
  if (word === 'vertex') {
    content.positions = grownF64(content.positions, 3 * content.vertexTotal + 3);
    for (let k = 0; k < 3; k++) {
      if (scan.atLineEnd()) {
        const place = { line: lineOf(bytes, scan.at()) };
        const what = `a vertex has ${k} of its three coordinates`;
        throw scan.peek() === -1 ? cutOff(name, what, place) : malformed(name, what, place);
      }
      const value = scan.number();
      if (Number.isNaN(value)) throw notANumber(name, scan.word(), 'a coordinate', { line: lineOf(bytes, scan.at()) });
      content.positions[3 * content.vertexTotal + k] = value;
    }
    content.vertexTotal++;
    content.openCorners++;
  } else if (word === 'endfacet') {
    if (content.openCorners < 3) throw malformed(name, `a facet has ${content.openCorners} vertices`, { line: lineOf(bytes, scan.at()) });
    content.sizes = grownU32(content.sizes, content.facetTotal + 1);
    content.sizes[content.facetTotal++] = content.openCorners;
    content.openCorners = 0;
  } else if (word === 'solid' || word === 'endsolid') {
    // What follows is a name, which may be any words.
    content.solidsOpen = word === 'solid' ? 1 : 0;
    scan.skipLine();
  } else if (word === 'facet') {
    // The normal is not needed: it follows from the vertices.
    scan.skipLine();
  }
}
