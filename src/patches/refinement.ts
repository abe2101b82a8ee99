/*
 * A mesh being cut finer, without moving its surface. Every vertex knows where it lies on the mesh below in exact terms: a vertex of it,
 * a point inside an edge (half-edge and t) or inside a face (weights). Coordinates inside edges and faces are whole multiples of
 * `gridStep`, so sums are exact and so are the signs of areas; places in space are computed last, from these.
 * Three steps change it (split an edge, split a face, flip an edge inside a face of the mesh below); each keeps twins in order, so no
 * step can open a crack. Half-edges carry the set of cuts that run along them.
 */
import type { Vec3 } from '../base/arrays.ts';
import { gridStep } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge, previousHalfEdge } from '../mesh/half-edge-mesh.ts';
import type { PathNode } from '../mesh/surface-point.ts';
import { orientation } from '../plane/predicates.ts';

export interface Refinement {
  /** The mesh below. */
  readonly base: HalfEdgeMesh;
  /** Vertex at the start of each half-edge, shape 3·faces. */
  readonly corner: readonly number[];
  readonly twin: readonly number[];
  /** Face of the mesh below that each face lies in; face f itself lies in f while f is a face below. */
  readonly origin: readonly number[];
  /** Area that each face belongs to, −1 for none; inherited when a face is split. */
  readonly label: readonly number[];
  /** Number of the set of cuts along each half-edge (the same on its twin); 0 is the empty set. */
  readonly cut: readonly number[];
  /** The sets of cuts, each ascending. */
  readonly cutSets: readonly (readonly string[])[];
  readonly vertexHalfEdge: readonly number[];
  /** Where each vertex lies on the mesh below. */
  readonly place: readonly PathNode[];
  /** Exact weights of a vertex in a face below that it touches. */
  readonly weightsIn: (v: number, baseFace: number) => Vec3;
  /** Exact sign of the triangle of three vertices in a face below that all touch. */
  readonly orient: (baseFace: number, a: number, b: number, c: number) => number;
  /** The place at share s along half-edge h, on the grid. */
  readonly placeAlong: (h: number, s: number) => PathNode;
  /** Puts a vertex into an edge; `place` must lie on the edge's line (an edge below) or within a grid step of it (inside a face). */
  readonly splitEdge: (h: number, place: PathNode) => number;
  readonly splitFace: (f: number, place: PathNode) => number;
  /** Turns an edge inside a face below to the other diagonal of its two triangles. */
  readonly flip: (h: number) => void;
  readonly addCut: (h: number, cut: string) => void;
  readonly setLabel: (f: number, area: number) => void;
  /** Vertices along an edge below, from the start of half-edge h: t and vertex, without the edge's own ends. */
  readonly alongBaseEdge: (h: number) => readonly { readonly t: number; readonly vertex: number }[];
  /** Half-edges that start at a vertex, counter-clockwise; from the open border where there is one. */
  readonly around: (v: number) => number[];
  /** The same, free to change: an independent copy. */
  readonly copy: () => Refinement;
}

/** The nearest number on the grid. */
export const onGrid = (x: number): number => Math.round(x / gridStep) * gridStep;

interface State {
  readonly corner: number[];
  readonly twin: number[];
  readonly origin: number[];
  readonly label: number[];
  readonly cut: number[];
  readonly cutSets: string[][];
  readonly vertexHalfEdge: number[];
  readonly place: PathNode[];
  /** By the half-edge below with the lower number; t from its start. */
  readonly chains: Map<number, { t: number; vertex: number }[]>;
}

/** A refinement that so far equals the mesh below. */
export function createRefinement(base: HalfEdgeMesh): Refinement {
  return refinementOf(base, {
    corner: Array.from(base.faces),
    twin: Array.from(base.twin),
    origin: Array.from({ length: base.faces.length / 3 }, (_, f) => f),
    label: Array.from({ length: base.faces.length / 3 }, () => -1),
    cut: Array.from(base.faces, () => 0),
    cutSets: [[]],
    vertexHalfEdge: Array.from(base.vertexHalfEdge),
    place: Array.from({ length: base.positions.length / 3 }, (_, vertex) => ({ on: 'vertex', vertex })),
    chains: new Map(),
  });
}

function refinementOf(base: HalfEdgeMesh, state: State): Refinement {
  const { corner, twin, origin, label, cut, cutSets, vertexHalfEdge, place, chains } = state;
  const weightsIn = (v: number, f: number): Vec3 => exactWeights(base, place[v], f);
  const orient = (f: number, a: number, b: number, c: number): number => {
    const [p, q, r] = [weightsIn(a, f), weightsIn(b, f), weightsIn(c, f)];
    return orientation(p[1], p[2], q[1], q[2], r[1], r[2]);
  };
  const around = (v: number): number[] => {
    let first = vertexHalfEdge[v];
    if (first === -1) return [];
    const start = first;
    while (twin[first] !== -1 && (first = nextHalfEdge(twin[first])) !== start);
    const found: number[] = [];
    let h = first;
    do {
      found.push(h);
      h = twin[previousHalfEdge(h)];
    } while (h !== -1 && h !== first);
    return found;
  };
  const link = (h: number, g: number): void => {
    twin[h] = g;
    if (g !== -1) twin[g] = h;
  };
  const addFace = (of: number, corners: Vec3): number => {
    const h = corner.length;
    corner.push(...corners);
    twin.push(-1, -1, -1);
    cut.push(0, 0, 0);
    origin.push(origin[of]);
    label.push(label[of]);
    return h;
  };
  const remember = (node: PathNode): number => {
    const v = place.push(node) - 1;
    vertexHalfEdge.push(-1);
    if (node.on === 'edge') addToChainInto(chains, base, node.halfEdge, node.t, v);
    return v;
  };
  /** Splits the face left of h at v on h: h becomes a–v, the new face holds v–b. Returns the half-edge v–b. */
  const splitSide = (h: number, v: number): number => {
    const [h1, h2] = [nextHalfEdge(h), previousHalfEdge(h)];
    const [a, b, c] = [corner[h], corner[h1], corner[h2]];
    const n = addFace(Math.floor(h / 3), [v, b, c]);
    corner[h1] = v;
    link(n + 1, twin[h1]);
    cut[n + 1] = cut[h1];
    link(h1, n + 2);
    cut[h1] = 0;
    cut[n] = cut[h];
    vertexHalfEdge[a] = h;
    vertexHalfEdge[b] = n + 1;
    vertexHalfEdge[c] = h2;
    vertexHalfEdge[v] = n;
    return n;
  };
  const splitEdge = (h: number, node: PathNode): number => {
    const g = twin[h];
    const v = remember(node);
    const n = splitSide(h, v);
    if (g === -1) return v;
    const m = splitSide(g, v);
    link(h, m);
    link(n, g);
    return v;
  };
  const splitFace = (f: number, node: PathNode): number => {
    const v = remember(node);
    const [h0, h1, h2] = [3 * f, 3 * f + 1, 3 * f + 2];
    const [a, b, c] = [corner[h0], corner[h1], corner[h2]];
    const n1 = addFace(f, [b, c, v]);
    const n2 = addFace(f, [c, a, v]);
    link(n1, twin[h1]);
    link(n2, twin[h2]);
    [cut[n1], cut[n2], cut[h1], cut[h2]] = [cut[h1], cut[h2], 0, 0];
    corner[h2] = v;
    link(h1, n1 + 2);
    link(n1 + 1, n2 + 2);
    link(n2 + 1, h2);
    [vertexHalfEdge[a], vertexHalfEdge[b], vertexHalfEdge[c], vertexHalfEdge[v]] = [h0, n1, n2, h2];
    return v;
  };
  const flip = (h: number): void => {
    const g = twin[h];
    const [h1, h2, g1, g2] = [nextHalfEdge(h), previousHalfEdge(h), nextHalfEdge(g), previousHalfEdge(g)];
    const [a, b, c, d] = [corner[h], corner[g], corner[h2], corner[g2]];
    const outer = [h1, h2, g1, g2].map((k) => ({ twin: twin[k], cut: cut[k] }));
    [corner[h], corner[h1], corner[h2], corner[g], corner[g1], corner[g2]] = [d, c, a, c, d, b];
    for (const [k, from] of [
      [h1, outer[1]],
      [h2, outer[2]],
      [g1, outer[3]],
      [g2, outer[0]],
    ] as const) {
      link(k, from.twin);
      cut[k] = from.cut;
    }
    [vertexHalfEdge[a], vertexHalfEdge[b], vertexHalfEdge[c], vertexHalfEdge[d]] = [h2, g2, h1, g1];
  };
  const addCut = (h: number, name: string): void => {
    const known = cutSets[cut[h]];
    if (known.includes(name)) return;
    const wanted = [...known, name].sort();
    const found = cutSets.findIndex((set) => set.length === wanted.length && set.every((entry, i) => entry === wanted[i]));
    cut[h] = found === -1 ? cutSets.push(wanted) - 1 : found;
    if (twin[h] !== -1) cut[twin[h]] = cut[h];
  };
  return {
    base,
    ...state,
    weightsIn,
    orient,
    placeAlong: (h, s) => placeBetween(base, place[corner[h]], place[corner[nextHalfEdge(h)]], origin[Math.floor(h / 3)], s),
    splitEdge,
    splitFace,
    flip,
    addCut,
    setLabel: (f, area) => {
      label[f] = area;
    },
    alongBaseEdge: (h) => chainFrom(chains, base, h),
    around,
    copy: () =>
      refinementOf(base, {
        corner: [...corner],
        twin: [...twin],
        origin: [...origin],
        label: [...label],
        cut: [...cut],
        cutSets: cutSets.map((set) => [...set]),
        vertexHalfEdge: [...vertexHalfEdge],
        place: [...place],
        chains: new Map([...chains].map(([h, chain]) => [h, [...chain]])),
      }),
  };
}

function exactWeights(base: HalfEdgeMesh, node: PathNode, f: number): Vec3 {
  if (node.on === 'face') return node.weights;
  if (node.on === 'vertex') {
    const v = node.vertex;
    return base.faces[3 * f] === v ? [1, 0, 0] : base.faces[3 * f + 1] === v ? [0, 1, 0] : [0, 0, 1];
  }
  const own = Math.floor(node.halfEdge / 3) === f;
  const i = (own ? node.halfEdge : base.twin[node.halfEdge]) % 3;
  const [start, end] = own ? [1 - node.t, node.t] : [node.t, 1 - node.t];
  return i === 0 ? [start, end, 0] : i === 1 ? [0, start, end] : [end, 0, start];
}

/** The half-edge below that stands for its edge: the lower number of the two. */
function standing(base: HalfEdgeMesh, h: number): number {
  return base.twin[h] === -1 ? h : Math.min(h, base.twin[h]);
}

function addToChainInto(
  chains: Map<number, { t: number; vertex: number }[]>,
  base: HalfEdgeMesh,
  h: number,
  t: number,
  vertex: number,
): void {
  const key = standing(base, h);
  const entry = { t: key === h ? t : 1 - t, vertex };
  const chain = chains.get(key) ?? [];
  chains.set(key, chain);
  let at = chain.findIndex((other) => other.t > entry.t);
  if (at === -1) at = chain.length;
  chain.splice(at, 0, entry);
}

function chainFrom(
  chains: ReadonlyMap<number, readonly { t: number; vertex: number }[]>,
  base: HalfEdgeMesh,
  h: number,
): readonly { t: number; vertex: number }[] {
  const key = standing(base, h);
  const chain = chains.get(key) ?? [];
  return key === h ? chain : chain.map(({ t, vertex }) => ({ t: 1 - t, vertex })).reverse();
}

/** The place at share s between two nodes of a face below; stays on the face's edge when both nodes lie on it. */
function placeBetween(base: HalfEdgeMesh, a: PathNode, b: PathNode, f: number, s: number): PathNode {
  const [p, q] = [exactWeights(base, a, f), exactWeights(base, b, f)];
  for (let i = 0; i < 3; i++) {
    // Both on the edge opposite corner i.
    if (p[i] !== 0 || q[i] !== 0) continue;
    const j = (i + 2) % 3;
    return { on: 'edge', halfEdge: 3 * f + ((i + 1) % 3), t: onGrid((1 - s) * p[j] + s * q[j]) };
  }
  const second = onGrid((1 - s) * p[1] + s * q[1]);
  const third = onGrid((1 - s) * p[2] + s * q[2]);
  return { on: 'face', face: f, weights: [1 - second - third, second, third] };
}
