/*
 * Irregular bumpy discs by Delaunay triangulation of jittered points, and the conformal matrix that they give: test and bench input.
 */
import Delaunator from 'delaunator';
import { cos, sin } from '../../src/base/elementary.ts';
import { createRandom } from '../../src/base/random.ts';
import type { SparseMatrix, Vector } from '../../src/linalg/sparse.ts';
import { prepareAssembly, sumEntries } from '../../src/linalg/triplets.ts';

export interface RandomPatch {
  readonly vertexCount: number;
  /** Shape 3·vertexCount. */
  readonly positions: Float64Array<ArrayBuffer>;
  /** Shape 3·faceCount, counter-clockwise seen from above. */
  readonly faces: Uint32Array<ArrayBuffer>;
  /** The rim in order. */
  readonly rim: Uint32Array<ArrayBuffer>;
}

export interface PatchOptions {
  readonly seed?: number;
  /** Factor on x after the mesh is made: long thin triangles. */
  readonly stretch?: number;
  /** Vertices numbered at random (default) or row by row. */
  readonly isShuffled?: boolean;
}

/** A disc of about `vertexCount` vertices with a bumpy height; radius 100. */
export function randomPatch(vertexCount: number, options: PatchOptions = {}): RandomPatch {
  const random = createRandom(options.seed ?? 1);
  const spacing = Math.sqrt(Math.PI / vertexCount);
  const rimCount = Math.max(3, Math.round((2 * Math.PI) / spacing));
  const flat: number[] = [];
  for (let k = 0; k < rimCount; k++) flat.push(cos((2 * Math.PI * k) / rimCount), sin((2 * Math.PI * k) / rimCount));
  const reach = Math.ceil(1 / spacing) + 1;
  const inner = 1 - 0.75 * spacing;
  for (let i = -reach; i <= reach; i++) {
    for (let j = -reach; j <= reach; j++) {
      const x = (i + 0.8 * (random() - 0.5)) * spacing;
      const y = (j + 0.8 * (random() - 0.5)) * spacing;
      if (x * x + y * y < inner * inner) flat.push(x, y);
    }
  }
  const count = flat.length / 2;
  const place = new Uint32Array(count).map((_, i) => i);
  if (options.isShuffled ?? true) {
    for (let i = count - 1; i > 0; i--) {
      const j = Math.floor(random() * (i + 1));
      [place[i], place[j]] = [place[j], place[i]];
    }
  }
  const plane = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    plane[2 * place[i]] = flat[2 * i];
    plane[2 * place[i] + 1] = flat[2 * i + 1];
  }
  const faces = counterClockwise(plane, new Delaunator(plane).triangles);
  const positions = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    const x = plane[2 * i];
    const y = plane[2 * i + 1];
    positions[3 * i] = 100 * x * (options.stretch ?? 1);
    positions[3 * i + 1] = 100 * y;
    positions[3 * i + 2] = 50 * (1 - x * x - y * y) + 12 * sin(4 * x + 1) * cos(5 * y) + 3 * sin(13 * x) * sin(11 * y + 2);
  }
  return { vertexCount: count, positions, faces, rim: place.slice(0, rimCount) };
}

function counterClockwise(plane: Float64Array, triangles: ArrayLike<number>): Uint32Array<ArrayBuffer> {
  const faces = Uint32Array.from(triangles);
  for (let t = 0; t < faces.length; t += 3) {
    const [a, b, c] = [faces[t], faces[t + 1], faces[t + 2]];
    const twice =
      (plane[2 * b] - plane[2 * a]) * (plane[2 * c + 1] - plane[2 * a + 1]) -
      (plane[2 * c] - plane[2 * a]) * (plane[2 * b + 1] - plane[2 * a + 1]);
    if (twice < 0) [faces[t + 1], faces[t + 2]] = [c, b];
  }
  return faces;
}

export interface ConformalSystem {
  readonly matrix: SparseMatrix;
  readonly rightSide: Required<Vector>;
  /** Position of each unknown, shape 3·size. */
  readonly positions: Float64Array<ArrayBuffer>;
  /** Vertex of each unknown. */
  readonly vertex: Uint32Array<ArrayBuffer>;
}

/**
 * Half the Hessian of the conformal energy, as the Hermitian form zᴴ(½L − ½iA)z of z = x + iy, two rim vertices pinned to 0 and 1:
 * off the diagonal −½ cot α for each angle α opposite edge (a, b), and ∓½i for each face that runs a → b. Inside, the two faces of an edge
 * cancel; only rim edges keep an imaginary part.
 */
export function conformalSystem(patch: RandomPatch): ConformalSystem {
  const { faces, positions: p, vertexCount } = patch;
  const [zero, one] = [patch.rim[0], patch.rim[patch.rim.length >> 1]];
  const unknown = new Int32Array(vertexCount).fill(-1);
  const vertex = new Uint32Array(vertexCount - 2);
  let size = 0;
  for (let v = 0; v < vertexCount; v++) {
    if (v === zero || v === one) continue;
    unknown[v] = size;
    vertex[size++] = v;
  }
  const capacity = 3 * faces.length;
  const row = new Uint32Array(capacity);
  const column = new Uint32Array(capacity);
  const real = new Float64Array(capacity);
  const imaginary = new Float64Array(capacity);
  const rightSide = { real: new Float64Array(size), imaginary: new Float64Array(size) };
  let k = 0;
  const add = (i: number, j: number, x: number, y: number): void => {
    row[k] = i;
    column[k] = j;
    real[k] = x;
    imaginary[k++] = y;
  };
  for (let h = 0; h < faces.length; h++) {
    const f = h - (h % 3);
    const [a, b, c] = [faces[h], faces[f + ((h + 1) % 3)], faces[f + ((h + 2) % 3)]];
    const w = -halfCotangent(p, a, b, c);
    const [i, j] = [unknown[a], unknown[b]];
    if (i >= 0) add(i, i, -w, 0);
    if (j >= 0) add(j, j, -w, 0);
    if (i >= 0 && j >= 0) add(i, j, w, 0.5);
    else if (i >= 0 && b === one) {
      rightSide.real[i] -= w;
      rightSide.imaginary[i] -= 0.5;
    } else if (j >= 0 && a === one) {
      rightSide.real[j] -= w;
      rightSide.imaginary[j] += 0.5;
    }
  }
  const assembly = prepareAssembly(size, row.slice(0, k), column.slice(0, k));
  const matrix = sumEntries(assembly, real, imaginary);
  const positions = new Float64Array(3 * size);
  for (let i = 0; i < size; i++) for (let d = 0; d < 3; d++) positions[3 * i + d] = p[3 * vertex[i] + d];
  return { matrix, rightSide, positions, vertex };
}

function halfCotangent(p: Float64Array, a: number, b: number, c: number): number {
  const [ux, uy, uz] = [0, 1, 2].map((d) => p[3 * a + d] - p[3 * c + d]);
  const [vx, vy, vz] = [0, 1, 2].map((d) => p[3 * b + d] - p[3 * c + d]);
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  return (ux * vx + uy * vy + uz * vz) / Math.sqrt(x * x + y * y + z * z) / 2;
}
