/*
 * Meshes the zero level of a field that is its own mirror image in the plane x = 0: a net of one vertex a cell on the half x ≥ 0 [gibson1998],
 * made even, mirrored, and edges along the plane of symmetry flipped, so that shape and triangulation are exact mirror images.
 */
import type { F64, Vec3 } from '../src/base/arrays.ts';
import { quietRun } from '../src/base/run.ts';
import { buildMesh } from '../src/mesh/build.ts';
import { evenMesh } from '../src/mesh/even-mesh.ts';
import type { HalfEdgeMesh } from '../src/mesh/half-edge-mesh.ts';

export type Field = (x: number, y: number, z: number) => number;

/** Box on the half x ≥ 0, mm. */
export interface HalfBox {
  readonly x: number;
  readonly y: readonly [number, number];
  readonly z: readonly [number, number];
}

/** Takes a point to the zero level nearby: Newton steps along the gradient (central differences over 0.02 mm). */
export function projectTo(field: Field, point: Vec3): Vec3 {
  let [x, y, z] = point;
  const e = 0.01;
  for (let i = 0; i < 4; i++) {
    const value = field(x, y, z);
    const gx = (field(x + e, y, z) - field(x - e, y, z)) / (2 * e);
    const gy = (field(x, y + e, z) - field(x, y - e, z)) / (2 * e);
    const gz = (field(x, y, z + e) - field(x, y, z - e)) / (2 * e);
    const step = value / (gx * gx + gy * gy + gz * gz);
    [x, y, z] = [x - step * gx, y - step * gy, z - step * gz];
    if (Math.abs(value) < 1e-7) break;
  }
  return [x, y, z];
}

/**
 * Mirror-symmetric triangles of the zero level.
 * @param edgeMm wanted edge length
 */
export async function meshHalfAndMirror(field: Field, box: HalfBox, edgeMm: number): Promise<HalfEdgeMesh> {
  const net = halfNet(field, box, edgeMm);
  const half = await evenMesh(
    buildMesh(net.positions, net.faces),
    { edgeMm, passes: 6, border: 'slide', project: (point) => projectTo(field, point) },
    quietRun,
  );
  return flipAlongPlane(mirror(half));
}

/** Quads around every grid edge whose ends differ in sign, each cell's vertex in the middle of its crossings; the first column of cells straddles x = 0. */
function halfNet(field: Field, box: HalfBox, step: number): { positions: Float64Array; faces: Uint32Array } {
  const counts = [Math.ceil(box.x / step) + 1, Math.ceil((box.y[1] - box.y[0]) / step) + 1, Math.ceil((box.z[1] - box.z[0]) / step) + 1];
  const [nx, ny, nz] = counts;
  const place = (i: number, j: number, k: number): Vec3 => [(i - 0.5) * step, box.y[0] + j * step, box.z[0] + k * step];
  const node = (i: number, j: number, k: number): number => (i * ny + j) * nz + k;
  const value = new Float64Array(nx * ny * nz);
  for (let i = 0; i < nx; i++) for (let j = 0; j < ny; j++) for (let k = 0; k < nz; k++) value[node(i, j, k)] = field(...place(i, j, k));
  const cellVertex = new Int32Array(value.length).fill(-1);
  const positions: number[] = [];
  const vertexOf = (i: number, j: number, k: number): number => {
    const cell = node(i, j, k);
    if (cellVertex[cell] !== -1) return cellVertex[cell];
    const [x, y, z] = middleOfCrossings(value, node, place, i, j, k);
    cellVertex[cell] = positions.length / 3;
    positions.push(...projectTo(field, [i === 0 ? 0 : x, y, z]));
    return cellVertex[cell];
  };
  const faces: number[] = [];
  const quad = (isInsideFirst: boolean, a: number, b: number, c: number, d: number): void => {
    if (isInsideFirst) faces.push(a, b, c, a, c, d);
    else faces.push(a, c, b, a, d, c);
  };
  for (let i = 1; i < nx - 1; i++)
    for (let j = 1; j < ny - 1; j++)
      for (let k = 1; k < nz - 1; k++) {
        const isInside = value[node(i, j, k)] < 0;
        if (isInside !== value[node(i + 1, j, k)] < 0)
          quad(isInside, vertexOf(i, j - 1, k - 1), vertexOf(i, j, k - 1), vertexOf(i, j, k), vertexOf(i, j - 1, k));
        if (isInside !== value[node(i, j + 1, k)] < 0)
          quad(isInside, vertexOf(i - 1, j, k - 1), vertexOf(i - 1, j, k), vertexOf(i, j, k), vertexOf(i, j, k - 1));
        if (isInside !== value[node(i, j, k + 1)] < 0)
          quad(isInside, vertexOf(i - 1, j - 1, k), vertexOf(i, j - 1, k), vertexOf(i, j, k), vertexOf(i - 1, j, k));
      }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

function middleOfCrossings(
  value: Float64Array,
  node: (i: number, j: number, k: number) => number,
  place: (i: number, j: number, k: number) => Vec3,
  i: number,
  j: number,
  k: number,
): Vec3 {
  const sum = [0, 0, 0];
  let count = 0;
  for (let axis = 0; axis < 3; axis++)
    for (let side = 0; side < 4; side++) {
      const from = [i, j, k];
      from[(axis + 1) % 3] += side & 1;
      from[(axis + 2) % 3] += side >> 1;
      const to = [...from];
      to[axis] += 1;
      const a = value[node(from[0], from[1], from[2])];
      const b = value[node(to[0], to[1], to[2])];
      if (a < 0 === b < 0) continue;
      const [pa, pb] = [place(from[0], from[1], from[2]), place(to[0], to[1], to[2])];
      for (let c = 0; c < 3; c++) sum[c] += pa[c] + (a / (a - b)) * (pb[c] - pa[c]);
      count++;
    }
  return [sum[0] / count, sum[1] / count, sum[2] / count];
}

/** Joins a half whose border lies in x = 0 with its mirror image. */
function mirror(half: HalfEdgeMesh): HalfEdgeMesh {
  const p = half.positions;
  const total = p.length / 3;
  const isBorder = new Uint8Array(total);
  for (let h = 0; h < half.faces.length; h++) if (half.twin[h] === -1) isBorder[half.faces[h]] = 1;
  const image = new Uint32Array(total);
  const positions: number[] = [];
  for (let v = 0; v < total; v++) positions.push(isBorder[v] === 1 ? 0 : p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  for (let v = 0; v < total; v++) {
    image[v] = isBorder[v] === 1 ? v : positions.length / 3;
    if (isBorder[v] === 0) positions.push(-p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  }
  const faces = [...half.faces];
  for (let h = 0; h < half.faces.length; h += 3) faces.push(image[half.faces[h]], image[half.faces[h + 2]], image[half.faces[h + 1]]);
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

/**
 * Flips edges that lie in x = 0: two faces become two that cross the plane, each its own mirror image. A vertex that sees two such edges
 * flips one of them, since the new edge joins it to its image; one that does not stand over the middle of its edge flips none.
 */
function flipAlongPlane(mesh: HalfEdgeMesh): HalfEdgeMesh {
  const faces = Uint32Array.from(mesh.faces);
  const isJoined = new Uint8Array(mesh.positions.length / 3);
  for (let h = 0; h < faces.length; h++) {
    const g = mesh.twin[h];
    const f = h - (h % 3);
    const [a, b, c] = [mesh.faces[h], mesh.faces[f + ((h + 1) % 3)], mesh.faces[f + ((h + 2) % 3)]];
    if (g < h || mesh.positions[3 * a] !== 0 || mesh.positions[3 * b] !== 0 || isJoined[c] === 1) continue;
    if (!isBetween(mesh.positions, a, b, c)) continue;
    isJoined[c] = 1;
    if (mesh.positions[3 * c] === 0) throw new RangeError(`face ${f / 3} lies in the plane of symmetry`);
    const d = mesh.faces[g - (g % 3) + ((g + 2) % 3)];
    faces.set([c, d, b], f);
    faces.set([d, c, a], g - (g % 3));
  }
  return buildMesh(mesh.positions, faces);
}

/** Whether c stands over the middle third of the edge a–b, about. */
function isBetween(p: F64, a: number, b: number, c: number): boolean {
  let [along, square] = [0, 0];
  for (let k = 0; k < 3; k++) {
    const u = p[3 * b + k] - p[3 * a + k];
    along += u * (p[3 * c + k] - p[3 * a + k]);
    square += u * u;
  }
  return along > 0.3 * square && along < 0.7 * square;
}
