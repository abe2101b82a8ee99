/*
 * OBJ: lines of text. `v` gives a vertex (with colour where three more numbers follow), `f` a polygon of vertex references counted from 1,
 * or backwards from the last vertex when negative. Groups, materials, texture coordinates and normals do not change the surface and are
 * passed over; so are points, lines and free-form curves, which are counted. Faces may name vertices that come later in the file.
 */
import { finding } from '../base/failure.ts';
import type { Failure, Finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { badIndex, cutOff, malformed, noVertices, notANumber, pointsOnly } from './faults.ts';
import { grownF64, grownU32 } from './growing.ts';
import { trianglesOfPolygons } from './polygon-triangles.ts';
import type { MeshReader } from './reader.ts';
import { createTextScanner, isBlank, lineOf } from './text-scanner.ts';
import type { TextScanner } from './text-scanner.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

/** Lines between two pauses. */
const slice = 20_000;

/** What stands in the file, before polygons are cut. Arrays are longer than their counts while the file is read. */
interface ObjContent {
  positions: Float64Array;
  vertexTotal: number;
  /** Three numbers a vertex, as the file had them; empty until the first coloured vertex. */
  colors: Float64Array;
  hasColors: boolean;
  corners: Uint32Array;
  cornerTotal: number;
  sizes: Uint32Array;
  polygonTotal: number;
  /** Where each polygon's line starts, for messages. */
  polygonByte: Uint32Array;
  thinPolygonTotal: number;
  curveTotal: number;
}

export const objReader: MeshReader = { format: 'obj', title: 'OBJ', extensions: ['obj'], recognises, read };

/** True if one of the first lines is a vertex or a face as OBJ writes them. */
function recognises(bytes: Uint8Array): boolean {
  const scan = createTextScanner(bytes.subarray(0, 65_536));
  for (let lines = 0; lines < 2000 && scan.peek() !== -1; lines++) {
    scan.skipSpace();
    const [first, second] = [bytes[scan.at()], bytes[scan.at() + 1]];
    if ((first === 118 || first === 102) && isBlank(second)) {
      scan.moveTo(scan.at() + 1);
      scan.skipBlanks();
      if (!Number.isNaN(first === 118 ? scan.number() : scan.integer())) return true;
    }
    scan.skipLine();
  }
  return false;
}

async function read(file: SourceFile, bytes: Uint8Array, run: Run): Promise<TriangleSoup> {
  const content = emptyContent(bytes.length);
  const scan = createTextScanner(bytes);
  while (scan.peek() !== -1) {
    for (let i = 0; i < slice && scan.peek() !== -1; i++) readLineInto(content, scan, bytes, file.name);
    run.report('read', scan.at() / bytes.length);
    await run.breathe();
  }
  if (content.vertexTotal === 0) throw noVertices(file.name, 'OBJ');
  if (content.polygonTotal === 0) throw pointsOnly(file.name, content.vertexTotal);
  checkIndices(content, bytes, file.name);
  const positions = content.positions.slice(0, 3 * content.vertexTotal);
  const corners = content.corners.slice(0, content.cornerTotal);
  const faces = trianglesOfPolygons(positions, corners, content.sizes.slice(0, content.polygonTotal));
  const soup: TriangleSoup = { positions, faces, unit: 'unknown', format: 'obj', findings: findingsOf(content, file.name) };
  return content.hasColors ? { ...soup, colors: colorBytes(content.colors, content.vertexTotal) } : soup;
}

function emptyContent(byteTotal: number): ObjContent {
  const guess = Math.max(64, Math.ceil(byteTotal / 60));
  return {
    positions: new Float64Array(3 * guess),
    vertexTotal: 0,
    colors: new Float64Array(0),
    hasColors: false,
    corners: new Uint32Array(3 * guess),
    cornerTotal: 0,
    sizes: new Uint32Array(guess),
    polygonTotal: 0,
    polygonByte: new Uint32Array(guess),
    thinPolygonTotal: 0,
    curveTotal: 0,
  };
}

function readLineInto(content: ObjContent, scan: TextScanner, bytes: Uint8Array, name: string): void {
  scan.skipSpace();
  const at = scan.at();
  const first = scan.peek();
  if (endsKeyword(bytes, at + 1)) {
    if (first === 118) {
      scan.moveTo(at + 1);
      readVertexInto(content, scan, bytes, name);
    } else if (first === 102) {
      scan.moveTo(at + 1);
      readFaceInto(content, scan, bytes, name, at);
    }
  } else if ((first === 99 || first === 115) && /^(curv2?|surf)$/.test(scan.word())) {
    content.curveTotal++;
  }
  if (first === 35) skipComment(scan, bytes);
  else scan.skipLine();
}

/** True behind a keyword of one letter. */
const endsKeyword = (bytes: Uint8Array, at: number): boolean =>
  at >= bytes.length || isBlank(bytes[at]) || bytes[at] === 10 || bytes[at] === 13;

/** A comment ends with its line even where its last sign is a backslash. */
function skipComment(scan: TextScanner, bytes: Uint8Array): void {
  let at = scan.at();
  while (at < bytes.length && bytes[at] !== 10 && bytes[at] !== 13) at++;
  scan.moveTo(at);
}

function readVertexInto(content: ObjContent, scan: TextScanner, bytes: Uint8Array, name: string): void {
  const v = content.vertexTotal++;
  content.positions = grownF64(content.positions, 3 * v + 3);
  for (let k = 0; k < 3; k++) {
    if (scan.atLineEnd()) throw shortVertex(scan, bytes, name, k);
    const value = scan.number();
    if (Number.isNaN(value)) throw notANumber(name, scan.word(), 'a coordinate', { line: lineOf(bytes, scan.at()) });
    content.positions[3 * v + k] = value;
  }
  if (scan.atLineEnd()) return;
  const extra: number[] = [];
  while (extra.length < 4 && !scan.atLineEnd()) {
    const value = scan.number();
    if (Number.isNaN(value)) return;
    extra.push(value);
  }
  // x y z r g b, or x y z w r g b; a single fourth number is a weight for free-form curves.
  if (extra.length < 3) return;
  content.colors = grownF64(content.colors, Math.max(3 * v + 3, content.hasColors ? 0 : content.positions.length));
  content.hasColors = true;
  for (let k = 0; k < 3; k++) content.colors[3 * v + k] = extra[extra.length - 3 + k];
}

function shortVertex(scan: TextScanner, bytes: Uint8Array, name: string, count: number): Failure {
  const line = lineOf(bytes, scan.at());
  const what = `a vertex has ${count} of its three coordinates`;
  return scan.at() >= bytes.length ? cutOff(name, what, { line }) : malformed(name, what, { line });
}

function readFaceInto(content: ObjContent, scan: TextScanner, bytes: Uint8Array, name: string, lineStart: number): void {
  const firstCorner = content.cornerTotal;
  while (!scan.atLineEnd()) {
    const reference = scan.integer();
    if (Number.isNaN(reference)) {
      if (scan.peek() === 35) break;
      throw malformed(name, `a face has "${scan.word()}" where a vertex number should stand`, { line: lineOf(bytes, scan.at()) });
    }
    const vertex = reference > 0 ? reference - 1 : content.vertexTotal + reference;
    if (vertex < 0 || reference === 0)
      throw badIndex(name, reference, content.vertexTotal, content.polygonTotal, { line: lineOf(bytes, scan.at()) });
    content.corners = grownU32(content.corners, content.cornerTotal + 1);
    content.corners[content.cornerTotal++] = vertex;
    scan.skipWord();
  }
  const size = content.cornerTotal - firstCorner;
  if (size < 3) {
    if (scan.at() >= bytes.length) throw cutOff(name, `the last face has ${size} corners`, { line: lineOf(bytes, lineStart) });
    content.cornerTotal = firstCorner;
    content.thinPolygonTotal++;
    return;
  }
  content.sizes = grownU32(content.sizes, content.polygonTotal + 1);
  content.polygonByte = grownU32(content.polygonByte, content.polygonTotal + 1);
  content.sizes[content.polygonTotal] = size;
  content.polygonByte[content.polygonTotal++] = lineStart;
}

function checkIndices(content: ObjContent, bytes: Uint8Array, name: string): void {
  let corner = 0;
  for (let polygon = 0; polygon < content.polygonTotal; polygon++) {
    for (let i = 0; i < content.sizes[polygon]; i++, corner++) {
      const vertex = content.corners[corner];
      if (vertex >= content.vertexTotal)
        throw badIndex(name, vertex + 1, content.vertexTotal, polygon, { line: lineOf(bytes, content.polygonByte[polygon]) });
    }
  }
}

/** Colours as bytes: files write 0…1, some 0…255. Vertices without a colour stay white. */
function colorBytes(colors: Float64Array, vertexTotal: number): Uint8Array {
  const bytes = new Uint8Array(3 * vertexTotal);
  let largest = 0;
  for (let i = 0; i < Math.min(colors.length, bytes.length); i++) largest = Math.max(largest, colors[i]);
  const factor = largest > 1 ? 1 : 255;
  for (let i = 0; i < bytes.length; i++) bytes[i] = Math.max(0, Math.min(255, Math.round((colors[i] ?? 0) * factor)));
  return bytes;
}

function findingsOf(content: ObjContent, name: string): Finding[] {
  const findings: Finding[] = [];
  const where = { stage: 'read', file: name };
  if (content.thinPolygonTotal > 0)
    findings.push(
      finding(
        'note',
        'read/thin-polygons',
        `${content.thinPolygonTotal} faces of "${name}" have fewer than three corners; they were passed over.`,
        where,
        'Nothing to do unless a part of the surface is missing.',
      ),
    );
  if (content.curveTotal > 0)
    findings.push(
      finding(
        'warning',
        'read/curves',
        `"${name}" also holds ${content.curveTotal} free-form curves or surfaces; only its polygons were read.`,
        where,
        'Let the exporting program turn curved surfaces into polygons ("tessellate") before it writes the file.',
      ),
    );
  return findings;
}
