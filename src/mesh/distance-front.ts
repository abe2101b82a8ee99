/*
 * Distances over a surface from one vertex, handed out in rising order: a front that marches over the faces.
 * A face with two settled corners a, b gives its third corner c the distance from the point that lies d_a from a and d_b from b in the face's
 * own plane, beyond edge ab, if the straight line from there to c runs through ab; else c is reached along an edge [reimers2004]. Exact in a
 * flat neighbourhood; on a curved one the error falls with the square of the edge length.
 */
import type { HalfEdgeMesh } from './half-edge-mesh.ts';

export interface Front {
  /**
   * Marches from a vertex; `visit` gets each vertex with its distance, nearest first (the centre with 0), and ends the march by false.
   */
  readonly run: (centre: number, visit: (v: number, distance: number) => boolean) => void;
}

/** Prepares scratch arrays for any number of marches, one after another. */
export function createFront(mesh: HalfEdgeMesh): Front {
  const total = mesh.positions.length / 3;
  const distance = new Float64Array(total).fill(Infinity);
  const isSettled = new Uint8Array(total);
  const heap = createHeap(distance);
  return {
    run: (centre, visit) => {
      const touched: number[] = [centre];
      distance[centre] = 0;
      heap.add(centre);
      let passed = 0;
      for (let v = heap.take(); v !== -1; v = heap.take()) {
        isSettled[v] = 1;
        // A shorter way that an obtuse face gave too late counts as the front's present distance.
        passed = Math.max(passed, distance[v]);
        if (!visit(v, passed)) break;
        forEachCorner(mesh, v, (h) => {
          reach(h);
        });
      }
      heap.clear();
      for (const v of touched) {
        distance[v] = Infinity;
        isSettled[v] = 0;
      }
      /** Offers new distances to both other corners of the face that half-edge h leaves its settled corner in. */
      function reach(h: number): void {
        const base = h - (h % 3);
        const [a, b, c] = [mesh.faces[h], mesh.faces[base + ((h + 1) % 3)], mesh.faces[base + ((h + 2) % 3)]];
        for (const [near, far] of [
          [b, c],
          [c, b],
        ]) {
          if (isSettled[far] === 1) continue;
          const offered = offer(mesh, distance, isSettled[near] === 1 ? near : -1, a, far);
          if (offered >= distance[far]) continue;
          if (distance[far] === Infinity) touched.push(far);
          distance[far] = offered;
          heap.add(far);
        }
      }
    },
  };
}

function forEachCorner(mesh: HalfEdgeMesh, v: number, act: (h: number) => void): void {
  const first = mesh.vertexHalfEdge[v];
  let h = first;
  do {
    act(h);
    h = mesh.twin[h % 3 === 0 ? h + 2 : h - 1];
  } while (h !== -1 && h !== first);
}

/** Distance of c offered by settled corner a and, if it is not −1, settled corner b of the same face. */
function offer(mesh: HalfEdgeMesh, distance: Float64Array, b: number, a: number, c: number): number {
  const p = mesh.positions;
  const ac = length(p, a, c);
  const along = distance[a] + ac;
  if (b === -1) return along;
  const ab = length(p, a, b);
  const bc = length(p, b, c);
  const [da, db] = [distance[a], distance[b]];
  // a at the origin, b at (ab, 0), c above, the source below.
  const sourceX = (ab * ab + da * da - db * db) / (2 * ab);
  const sourceSquared = da * da - sourceX * sourceX;
  const cX = (ab * ab + ac * ac - bc * bc) / (2 * ab);
  const cSquared = ac * ac - cX * cX;
  const edgeBest = Math.min(along, db + bc);
  if (!(sourceSquared > 0) || !(cSquared > 0)) return edgeBest;
  const sourceY = -Math.sqrt(sourceSquared);
  const cY = Math.sqrt(cSquared);
  const crossing = sourceX + ((cX - sourceX) * -sourceY) / (cY - sourceY);
  if (crossing < 0 || crossing > ab) return edgeBest;
  return Math.sqrt((cX - sourceX) * (cX - sourceX) + (cY - sourceY) * (cY - sourceY));
}

function length(p: HalfEdgeMesh['positions'], v: number, w: number): number {
  const x = p[3 * v] - p[3 * w];
  const y = p[3 * v + 1] - p[3 * w + 1];
  const z = p[3 * v + 2] - p[3 * w + 2];
  return Math.sqrt(x * x + y * y + z * z);
}

/** A binary heap of vertices by distance; a vertex whose distance has fallen is added again, stale entries are skipped by key. */
function createHeap(distance: Float64Array): { add: (v: number) => void; take: () => number; clear: () => void } {
  const vertices: number[] = [];
  const keys: number[] = [];
  const isLess = (i: number, j: number): boolean => keys[i] < keys[j] || (keys[i] === keys[j] && vertices[i] < vertices[j]);
  const swap = (i: number, j: number): void => {
    [vertices[i], vertices[j]] = [vertices[j], vertices[i]];
    [keys[i], keys[j]] = [keys[j], keys[i]];
  };
  const takeTop = (): readonly [number, number] => {
    const top = [vertices[0], keys[0]] as const;
    const lastVertex = vertices.pop() ?? 0;
    const lastKey = keys.pop() ?? 0;
    if (vertices.length > 0) {
      vertices[0] = lastVertex;
      keys[0] = lastKey;
      for (let i = 0; ;) {
        let least = i;
        for (const child of [2 * i + 1, 2 * i + 2]) if (child < vertices.length && isLess(child, least)) least = child;
        if (least === i) break;
        swap(i, least);
        i = least;
      }
    }
    return top;
  };
  return {
    add: (v) => {
      vertices.push(v);
      keys.push(distance[v]);
      for (let i = vertices.length - 1; i > 0;) {
        const parent = (i - 1) >> 1;
        if (!isLess(i, parent)) break;
        swap(i, parent);
        i = parent;
      }
    },
    take: () => {
      while (vertices.length > 0) {
        const [v, key] = takeTop();
        if (key === distance[v]) return v;
      }
      return -1;
    },
    clear: () => {
      vertices.length = 0;
      keys.length = 0;
    },
  };
}
