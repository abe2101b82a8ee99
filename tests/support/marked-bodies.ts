/*
 * Bodies, surfaces and marks for tests of drawing: spheres of a given edge length, and the plain values around a mesh.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import { createRandom } from '../../src/base/random.ts';
import type { AreaMark } from '../../src/areas/area.ts';
import type { Body } from '../../src/body/body.ts';
import type { LineMark } from '../../src/lines/line.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { placeOf } from '../../src/mesh/spatial.ts';
import type { SurfacePoint } from '../../src/mesh/surface-point.ts';
import type { Marks } from '../../src/patches/marks.ts';
import type { Surface } from '../../src/standoff/surface.ts';

/** A mesh from a sample's positions and faces. */
export const meshOf = (sample: { readonly positions: Float64Array; readonly faces: Uint32Array }): HalfEdgeMesh =>
  buildMesh(sample.positions, sample.faces);

/** A sphere: an octahedron's faces divided n times, pushed out; a seed moves vertices about on the sphere. Centre at the origin. */
export function sphereMesh(radius: number, edgeMm: number, seed?: number): HalfEdgeMesh {
  const n = Math.max(1, Math.round((radius * Math.PI) / 2 / edgeMm));
  const random = seed === undefined ? undefined : createRandom(seed);
  const wiggle = (): number => (random === undefined ? 0 : (0.3 / n) * (random() - 0.5));
  const vertexAt = new Map<string, number>();
  const positions: number[] = [];
  const vertex = (x: number, y: number, z: number): number => {
    const key = `${x} ${y} ${z}`;
    const known = vertexAt.get(key);
    if (known !== undefined) return known;
    const raw = [x / n + wiggle(), y / n + wiggle(), z / n + wiggle()];
    const size = Math.hypot(...raw);
    vertexAt.set(key, positions.length / 3);
    return positions.push(...raw.map((c) => (c / size) * radius)) / 3 - 1;
  };
  const faces: number[] = [];
  for (const sx of [1, -1])
    for (const sy of [1, -1])
      for (const sz of [1, -1]) {
        const at = (i: number, j: number): number => vertex(sx * i || 0, sy * j || 0, sz * (n - i - j) || 0);
        const add = (a: number, b: number, c: number): number => (sx * sy * sz > 0 ? faces.push(a, b, c) : faces.push(a, c, b));
        for (let i = 0; i < n; i++)
          for (let j = 0; i + j < n; j++) {
            add(at(i, j), at(i + 1, j), at(i, j + 1));
            if (i + j + 2 <= n) add(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
          }
      }
  return buildMesh(Float64Array.from(positions), Uint32Array.from(faces));
}

/** A body around a mesh: millimetres, y up, z front. */
export function bodyOf(mesh: HalfEdgeMesh): Body {
  return { mesh, unit: 'mm', unitFrom: 'given', scale: 1, up: 'y', front: 'z', measures: [], repairs: [], findings: [], hash: 'test' };
}

/** The body's own skin as the only layer. */
export function skinOf(mesh: HalfEdgeMesh, layer = 0): Surface {
  const count = mesh.positions.length / 3;
  const face = new Uint32Array(count);
  const weights = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    const h = Math.max(0, mesh.vertexHalfEdge[v]);
    face[v] = Math.floor(h / 3);
    weights[3 * v + (h % 3)] = 1;
  }
  return { layer, material: 'eva-6', mesh, toBody: { face, weights }, distanceMm: 0, findings: [] };
}

export const noMarks: Marks = { mirrored: false, areas: [], lines: [], points: [], names: [] };

export const areaMark = (fields: Partial<AreaMark> & Pick<AreaMark, 'strokes'>): AreaMark => ({
  id: 'a',
  name: 'Area',
  layer: 0,
  growMm: 0,
  forming: 'domed',
  ...fields,
});

export const lineMark = (fields: Partial<LineMark> & Pick<LineMark, 'points'>): LineMark => ({
  id: 'l',
  kind: 'seam',
  path: 'shortest',
  closed: false,
  mirror: false,
  ...fields,
});

/** The surface point at a vertex. */
export function atVertex(mesh: HalfEdgeMesh, v: number): SurfacePoint {
  const h = mesh.vertexHalfEdge[v];
  const weights: [number, number, number] = [0, 0, 0];
  weights[h % 3] = 1;
  return { face: Math.floor(h / 3), weights };
}

/** A random point of the surface, often a nasty one: at a vertex, on an edge, a hair from either. */
export function randomPoint(mesh: HalfEdgeMesh, random: () => number): SurfacePoint {
  const face = Math.floor((random() * mesh.faces.length) / 3);
  const kind = random();
  const i = Math.floor(random() * 3);
  const weights: [number, number, number] = [0, 0, 0];
  if (kind < 0.15) weights[i] = 1;
  else if (kind < 0.3) {
    const t = random() < 0.5 ? 0.5 : random();
    weights[i] = t;
    weights[(i + 1) % 3] = 1 - t;
  } else if (kind < 0.4) {
    const hair = random() < 0.5 ? 1 / 16777216 : 1 / 1024;
    weights[i] = 1 - 2 * hair;
    weights[(i + 1) % 3] = weights[(i + 2) % 3] = hair;
  } else {
    const [a, b] = [random(), random()];
    const [u, v] = a + b > 1 ? [1 - a, 1 - b] : [a, b];
    [weights[0], weights[1], weights[2]] = [1 - u - v, u, v];
  }
  return { face, weights };
}

export const spaceOf = (mesh: HalfEdgeMesh, point: SurfacePoint): Vec3 => placeOf(mesh, point);
