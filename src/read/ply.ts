/*
 * PLY, text and both binary orders: a header that lists elements and their properties, then the elements one after another [turk1994]. Polygons and
 * triangle strips (−1 starts a new strip) become triangles; elements that are not part of the surface are stepped over.
 */
import type { Run } from '../base/run.ts';
import { badIndex, cutOff, malformed, noVertices, notANumber, pointsOnly } from './faults.ts';
import type { FilePlace } from './faults.ts';
import { grownU32 } from './growing.ts';
import { readPlyHeader } from './ply-header.ts';
import type { PlyElement, PlyHeader, PlyProperty } from './ply-header.ts';
import { trianglesOfPolygons } from './polygon-triangles.ts';
import type { MeshReader } from './reader.ts';
import { createTextScanner, lineOf } from './text-scanner.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

export const plyReader: MeshReader = {
  format: 'ply',
  title: 'PLY',
  extensions: ['ply'],
  recognises: (bytes) =>
    bytes[0] === 112 && bytes[1] === 108 && bytes[2] === 121 && (bytes[3] === 10 || bytes[3] === 13 || bytes[3] === 32),
  read,
};

/** Elements between two pauses. */
const slice = 30_000;

/** Where the next number of the file comes from, text or bytes. */
interface NumberSource {
  /** The next number of a type; throws where the file ends or no number stands. */
  readonly next: (property: PlyProperty, isCount: boolean) => number;
  readonly place: () => FilePlace;
  readonly fraction: () => number;
}

interface PlyContent {
  positions: Float64Array;
  colors: Uint8Array | undefined;
  corners: Uint32Array;
  cornerTotal: number;
  sizes: Uint32Array;
  polygonTotal: number;
}

async function read(file: SourceFile, bytes: Uint8Array, run: Run): Promise<TriangleSoup> {
  const header = readPlyHeader(file.name, bytes);
  const vertices = header.elements.find((element) => element.name === 'vertex');
  if (vertices === undefined || vertices.count === 0) throw noVertices(file.name, 'PLY');
  if (!['x', 'y', 'z'].every((axis) => vertices.properties.some((property) => property.name === axis)))
    throw malformed(file.name, 'its vertices have no x, y and z', { line: header.lineTotal });
  checkRoom(file.name, header, bytes);
  const source = header.format === 'ascii' ? textSource(file.name, bytes, header.end) : byteSource(file.name, bytes, header);
  const content: PlyContent = {
    positions: new Float64Array(3 * vertices.count),
    colors: undefined,
    corners: new Uint32Array(0),
    cornerTotal: 0,
    sizes: new Uint32Array(0),
    polygonTotal: 0,
  };
  for (const element of header.elements) {
    const readOne = elementReader(element, content, vertices.count, source, file.name);
    for (let i = 0; i < element.count; i++) {
      readOne(i);
      if (i % slice !== 0) continue;
      run.report('read', source.fraction());
      await run.breathe();
    }
  }
  if (content.polygonTotal === 0) throw pointsOnly(file.name, vertices.count);
  const faces = trianglesOfPolygons(
    content.positions,
    content.corners.slice(0, content.cornerTotal),
    content.sizes.slice(0, content.polygonTotal),
  );
  const soup: TriangleSoup = { positions: content.positions, faces, unit: 'unknown', format: 'ply', findings: [] };
  return content.colors === undefined ? soup : { ...soup, colors: content.colors };
}

/** A count of a damaged header must not claim more memory than the file can fill. */
function checkRoom(name: string, header: PlyHeader, bytes: Uint8Array): void {
  let least = 0;
  for (const element of header.elements)
    for (const property of element.properties)
      least += element.count * (header.format === 'ascii' ? 2 : (property.countType ?? property.type).size);
  if (header.end + least <= bytes.length + 1) return;
  throw cutOff(name, `its header promises at least ${least} bytes of data, but there are ${bytes.length - header.end}`, {
    byte: bytes.length,
  });
}

function elementReader(
  element: PlyElement,
  content: PlyContent,
  vertexTotal: number,
  source: NumberSource,
  name: string,
): (i: number) => void {
  if (element.name === 'vertex') return vertexReader(element, content, source, name);
  const corners = element.properties.findIndex(
    (property) => property.countType !== undefined && /^vertex_(index|indices)$/.test(property.name),
  );
  const take = element.name === 'tristrips' ? takeStripInto : takePolygonInto;
  return () => {
    element.properties.forEach((property, k) => {
      if (property.countType === undefined) {
        source.next(property, false);
        return;
      }
      const count = source.next(property, true);
      if (k === corners && count >= 0) take(content, count, () => source.next(property, false), vertexTotal, name, source);
      else for (let i = 0; i < count; i++) source.next(property, false);
    });
  };
}

function vertexReader(element: PlyElement, content: PlyContent, source: NumberSource, name: string): (i: number) => void {
  const roles = element.properties.map((property) => ['x', 'y', 'z'].indexOf(property.name));
  const channels = element.properties.map((property) => ['red', 'green', 'blue'].indexOf(property.name.replace(/^diffuse_/, '')));
  if (channels.some((channel) => channel !== -1)) content.colors = new Uint8Array(content.positions.length);
  return (i) => {
    for (let k = 0; k < element.properties.length; k++) {
      const property = element.properties[k];
      if (property.countType !== undefined) {
        const count = source.next(property, true);
        for (let j = 0; j < count; j++) source.next(property, false);
        continue;
      }
      const value = source.next(property, false);
      if (roles[k] !== -1) {
        if (!Number.isFinite(value)) throw notANumber(name, String(value), `coordinate ${property.name} of vertex ${i}`, source.place());
        content.positions[3 * i + roles[k]] = value;
      } else if (channels[k] !== -1 && content.colors !== undefined) {
        content.colors[3 * i + channels[k]] = Math.max(0, Math.min(255, Math.round((value / property.type.full) * 255)));
      }
    }
  };
}

type Take = (content: PlyContent, count: number, next: () => number, vertexTotal: number, name: string, source: NumberSource) => void;

const takePolygonInto: Take = (content, count, next, vertexTotal, name, source) => {
  const first = content.cornerTotal;
  content.corners = grownU32(content.corners, first + count);
  for (let i = 0; i < count; i++) {
    const vertex = next();
    if (!(vertex >= 0 && vertex < vertexTotal)) throw badIndex(name, vertex, vertexTotal, content.polygonTotal, source.place());
    content.corners[first + i] = vertex;
  }
  if (count < 3) return;
  content.cornerTotal = first + count;
  content.sizes = grownU32(content.sizes, content.polygonTotal + 1);
  content.sizes[content.polygonTotal++] = count;
};

/** Triangles of strips: every second one is turned round; a negative index starts a new strip. */
const takeStripInto: Take = (content, count, next, vertexTotal, name, source) => {
  let [a, b] = [-1, -1];
  let isOdd = false;
  for (let i = 0; i < count; i++) {
    const c = next();
    if (c >= vertexTotal) throw badIndex(name, c, vertexTotal, content.polygonTotal, source.place());
    if (c < 0) {
      [a, b, isOdd] = [-1, -1, false];
      continue;
    }
    if (a !== -1) {
      content.corners = grownU32(content.corners, content.cornerTotal + 3);
      content.sizes = grownU32(content.sizes, content.polygonTotal + 1);
      content.corners.set(isOdd ? [b, a, c] : [a, b, c], content.cornerTotal);
      content.cornerTotal += 3;
      content.sizes[content.polygonTotal++] = 3;
      isOdd = !isOdd;
    }
    [a, b] = [b, c];
  }
};

function byteSource(name: string, bytes: Uint8Array, header: PlyHeader): NumberSource {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const isLittle = header.format === 'binary_little_endian';
  let at = header.end;
  return {
    next: (property, isCount) => {
      const type = isCount && property.countType !== undefined ? property.countType : property.type;
      if (at + type.size > bytes.length) throw cutOff(name, 'an element is incomplete', { byte: bytes.length });
      const value = type.read(view, at, isLittle);
      at += type.size;
      return value;
    },
    place: () => ({ byte: at }),
    fraction: () => at / bytes.length,
  };
}

function textSource(name: string, bytes: Uint8Array, start: number): NumberSource {
  const scan = createTextScanner(bytes, start);
  const place = (): FilePlace => ({ line: lineOf(bytes, scan.at()) });
  return {
    next: (property) => {
      scan.skipSpace();
      if (scan.peek() === -1) throw cutOff(name, 'an element is incomplete', place());
      const value = scan.number();
      if (Number.isNaN(value)) throw notANumber(name, scan.word(), `"${property.name}"`, place());
      return value;
    },
    place,
    fraction: () => scan.at() / bytes.length,
  };
}
