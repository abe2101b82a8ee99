/*
 * Random patches cut from the shared body meshes: balls of 40 to 400 mm across about a random vertex, some with a dart, some with a hole. Deterministic by
 * seed. Pieces that are not one sheet with plain borders are trimmed until they are.
 */
import { readFileSync } from 'node:fs';
import { createRandom } from '../../src/base/random.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { faceComponents } from '../../src/mesh/components.ts';
import { createFront } from '../../src/mesh/distance-front.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { bodyFile, meshFromObj } from './reference.ts';

/** The bodies with the height in mm that each is scaled to, and its up axis. */
const bodies = [
  ['mh_female_young.obj', 1680, 1],
  ['mh_male_heavy.obj', 1780, 1],
  ['os_nefertiti-lowres.obj', 495, 2],
  ['os_demosthenes-low-res.obj', 500, 2],
  ['mp_canonical_face.obj', 230, 1],
] as const;

export interface RandomPiece {
  readonly title: string;
  readonly mesh: HalfEdgeMesh;
  /** Vertices of the dart from the rim to its tip, in the original numbering of the piece; absent without a dart. */
  readonly hasDart: boolean;
  readonly hasHole: boolean;
}

const loaded = new Map<string, HalfEdgeMesh>();

/** A body, in mm, the components without vertices shared by more than one fan as they are. */
export function bodyMesh(index: number): HalfEdgeMesh {
  const [name, heightMm, up] = bodies[index];
  const known = loaded.get(name);
  if (known) return known;
  const mesh = meshFromObj(readFileSync(bodyFile(name), 'utf8'));
  let [low, high] = [Infinity, -Infinity];
  for (let v = up; v < mesh.positions.length; v += 3) {
    low = Math.min(low, mesh.positions[v]);
    high = Math.max(high, mesh.positions[v]);
  }
  const scaled = { ...mesh, positions: Float64Array.from(mesh.positions, (x) => (x * heightMm) / (high - low)) };
  loaded.set(name, scaled);
  return scaled;
}

/** Piece number `seed`. */
export function randomPiece(seed: number): RandomPiece {
  const random = createRandom(seed * 7919 + 1);
  const index = seed % bodies.length;
  const body = bodyMesh(index);
  const across = 40 * 10 ** random();
  const centre = body.faces[3 * Math.floor((random() * body.faces.length) / 3)];
  const hasDart = random() < 0.4;
  const hasHole = !hasDart && random() < 0.3;
  const distance = new Map<number, number>();
  createFront(body).run(centre, (v, d) => {
    if (d > across / 2) return false;
    distance.set(v, d);
    return true;
  });
  const holeRadius = hasHole ? across * (0.08 + 0.1 * random()) : -1;
  const holeCentre = [...distance.keys()][Math.floor(distance.size * 0.3 * random())];
  const inHole = new Set<number>();
  if (hasHole)
    createFront(body).run(holeCentre, (v, d) => {
      if (d > holeRadius) return false;
      inHole.add(v);
      return true;
    });
  const kept: number[] = [];
  for (let h = 0; h < body.faces.length; h += 3) {
    const corners = [body.faces[h], body.faces[h + 1], body.faces[h + 2]];
    if (corners.every((v) => distance.has(v)) && !(hasHole && corners.every((v) => inHole.has(v)))) kept.push(...corners);
  }
  const piece = cleanPiece(body.positions, kept);
  const cut = hasDart ? cutDart(piece, 0.3 + 0.5 * random(), random) : piece;
  const title = `seed ${seed}: ${bodies[index][0]}, ${across.toFixed(0)} mm${hasDart ? ', dart' : ''}${hasHole ? ', hole' : ''}`;
  return { title, mesh: cut, hasDart, hasHole };
}

/** The largest component of some faces, ears at pinched vertices and faces without area dropped, vertices renumbered. */
export function cleanPiece(positions: HalfEdgeMesh['positions'], faces: readonly number[]): HalfEdgeMesh {
  let kept = faces.slice();
  for (;;) {
    const mesh = buildMesh(positions, Uint32Array.from(kept));
    const { labels, count } = faceComponents(mesh);
    const size = new Array<number>(count).fill(0);
    for (const label of labels) size[label]++;
    const largest = size.indexOf(Math.max(...size));
    const openAt = new Map<number, number>();
    for (let h = 0; h < mesh.faces.length; h++) if (mesh.twin[h] === -1) openAt.set(mesh.faces[h], (openAt.get(mesh.faces[h]) ?? 0) + 1);
    const next: number[] = [];
    for (let f = 0; f < labels.length; f++) {
      const corners = kept.slice(3 * f, 3 * f + 3);
      const isPinched = corners.some((v) => (openAt.get(v) ?? 0) > 1);
      if (labels[f] === largest && !isPinched && heightShare(positions, corners) > 1e-6) next.push(...corners);
    }
    if (next.length === kept.length) return renumbered(positions, kept);
    kept = next;
    if (kept.length === 0) throw new RangeError('nothing is left of the piece');
  }
}

function heightShare(p: HalfEdgeMesh['positions'], corners: readonly number[]): number {
  const [a, b, c] = corners.map((v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]]);
  const [u, v, w] = [b.map((x, k) => x - a[k]), c.map((x, k) => x - a[k]), c.map((x, k) => x - b[k])];
  const cross = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
  return cross / Math.max(Math.hypot(...u), Math.hypot(...v), Math.hypot(...w)) ** 2;
}

function renumbered(positions: HalfEdgeMesh['positions'], faces: readonly number[]): HalfEdgeMesh {
  const index = new Map<number, number>();
  const own: number[] = [];
  const mapped = faces.map((v) => {
    const known = index.get(v);
    if (known !== undefined) return known;
    index.set(v, own.length / 3);
    own.push(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
    return own.length / 3 - 1;
  });
  return buildMesh(Float64Array.from(own), Uint32Array.from(mapped));
}

/** The piece slit along mesh edges from a border vertex to a share of the way to the innermost vertex. */
function cutDart(mesh: HalfEdgeMesh, share: number, random: () => number): HalfEdgeMesh {
  const border = new Set<number>();
  for (let h = 0; h < mesh.faces.length; h++) if (mesh.twin[h] === -1) border.add(mesh.faces[h]);
  const start = [...border][Math.floor(random() * border.size)];
  // Breadth first over edges from the start; the path goes to the vertex with most rings round it, touching the border nowhere else.
  const neighbours = new Map<number, number[]>();
  for (let h = 0; h < mesh.faces.length; h++) {
    const [a, b] = [mesh.faces[h], mesh.faces[h % 3 === 2 ? h - 2 : h + 1]];
    neighbours.set(a, [...(neighbours.get(a) ?? []), b]);
  }
  const rings = new Map<number, number>([...border].map((v) => [v, 0]));
  const queue = [...border];
  for (const v of queue)
    for (const w of neighbours.get(v) ?? [])
      if (!rings.has(w)) {
        rings.set(w, (rings.get(v) ?? 0) + 1);
        queue.push(w);
      }
  const innermost = queue[queue.length - 1];
  const parent = new Map<number, number>([[start, -1]]);
  const walk = [start];
  for (const v of walk)
    for (const w of neighbours.get(v) ?? [])
      if (!parent.has(w) && !border.has(w)) {
        parent.set(w, v);
        walk.push(w);
      }
  const path: number[] = [];
  for (let v: number | undefined = innermost; v !== undefined && v !== -1; v = parent.get(v)) path.unshift(v);
  if (path[0] !== start || path.length < 3) return mesh;
  return slitAlong(mesh, path.slice(0, Math.max(2, Math.round(share * path.length))));
}

/** Doubles the vertices of a path of edges from the border inwards, all but the last: faces to the right of the path take the copies. */
export function slitAlong(mesh: HalfEdgeMesh, path: readonly number[]): HalfEdgeMesh {
  const faces = Uint32Array.from(mesh.faces);
  const positions = Array.from(mesh.positions);
  const halfEdge = new Map<string, number>();
  for (let h = 0; h < faces.length; h++) halfEdge.set(`${mesh.faces[h]} ${mesh.faces[h % 3 === 2 ? h - 2 : h + 1]}`, h);
  const cuts = new Set<number>();
  for (let i = 0; i + 1 < path.length; i++)
    for (const key of [`${path[i]} ${path[i + 1]}`, `${path[i + 1]} ${path[i]}`]) {
      const h = halfEdge.get(key);
      if (h !== undefined) cuts.add(h);
    }
  for (let i = 0; i + 1 < path.length; i++) {
    // Faces right of edge path[i] → path[i + 1]: start at its backward half-edge and turn about path[i] until the next cut or the border.
    const v = path[i];
    const copy = positions.length / 3;
    positions.push(...mesh.positions.slice(3 * v, 3 * v + 3));
    let h = halfEdge.get(`${path[i + 1]} ${v}`) ?? -1;
    while (h !== -1) {
      // h runs into v; the corner of this face at v is the next half-edge.
      const corner = h % 3 === 2 ? h - 2 : h + 1;
      faces[corner] = copy;
      if (cuts.has(corner)) break;
      h = mesh.twin[corner];
    }
  }
  return buildMesh(Float64Array.from(positions), faces);
}
