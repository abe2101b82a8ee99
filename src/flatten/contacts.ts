/*
 * What keeps a part from lying over itself: a barrier between border vertices and border edges that come near each other,
 *   h(D) = W (ε/D − 1)² for D < ε, 0 beyond,  D the distance of the vertex from the edge,
 * so that h → ∞ before they touch [smith-schaefer2015 §4]. ε is a twentieth of the mean border edge: the parts end a hair apart, as a knife cuts.
 * Pairs that start nearer than that (the legs of a cut in a flat piece lie on each other) have half their first distance for ε instead.
 * Each active pair is one rank-one term of a Newton step, ½ h″ (D + h′/h″)²: see `seam-system`, which solves them with the seams.
 */
import type { F64 } from '../base/arrays.ts';
import { contactTolerance } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { forEachClosePair } from '../plane/segment-grid.ts';
import type { BorderEdges } from './overlap.ts';
import { borderEdges } from './overlap.ts';

/** The barrier of one patch. */
export interface Barrier {
  readonly mesh: HalfEdgeMesh;
  /** ε, mm. */
  readonly reach: number;
  /** W, mm². */
  readonly weight: number;
  /** ε of pairs that started nearer, by vertex · edgeCount + edge. */
  readonly ownReach: ReadonlyMap<number, number>;
}

/** One vertex near one edge: D, and the share t of the edge where it is nearest. */
export interface Contact {
  readonly vertex: number;
  readonly ends: readonly [number, number];
  readonly distance: number;
  readonly share: number;
  /** Unit direction from the edge to the vertex. */
  readonly direction: readonly [number, number];
  /** h, h′, h″ at D. */
  readonly value: readonly [number, number, number];
}

/** The barrier of a patch from a map that lies nowhere over itself. */
export function createBarrier(mesh: HalfEdgeMesh, plane: F64): Barrier {
  const edges = borderEdges(mesh, plane);
  let length = 0;
  for (let i = 0; i < edges.ends.length; i += 4)
    length += Math.hypot(edges.ends[i] - edges.ends[i + 2], edges.ends[i + 1] - edges.ends[i + 3]);
  const mean = length / edges.halfEdge.length;
  const reach = contactTolerance.reachShare * mean;
  const ownReach = new Map<number, number>();
  forEachNear(edges, reach, (vertex, e, distance) => ownReach.set(vertex * edges.halfEdge.length + e, distance / 2));
  return { mesh, reach, weight: contactTolerance.weightShare * mean * mean, ownReach };
}

/** All pairs of a map whose barrier is active. A pair that touches has h = ∞. */
export function findContacts(barrier: Barrier, plane: F64): Contact[] {
  const { mesh, reach, weight, ownReach } = barrier;
  const edges = borderEdges(mesh, plane);
  const contacts: Contact[] = [];
  forEachNear(edges, reach, (vertex, e, distance, share, direction) => {
    const epsilon = ownReach.get(vertex * edges.halfEdge.length + e) ?? reach;
    if (distance >= epsilon) return;
    const q = epsilon / distance;
    const first = (-2 * weight * (q - 1) * q) / distance;
    const second = (2 * weight * q * (q + 2 * (q - 1))) / (distance * distance);
    contacts.push({
      vertex,
      ends: [edges.vertices[2 * e], edges.vertices[2 * e + 1]],
      distance,
      share,
      direction,
      value: [weight * (q - 1) * (q - 1), first, second],
    });
  });
  return contacts;
}

type Visit = (vertex: number, e: number, distance: number, share: number, direction: readonly [number, number]) => void;

/** Border vertices (each once, as the start of its edge) within `reach` of border edges that they are no end of. */
function forEachNear(edges: BorderEdges, reach: number, visit: Visit): void {
  const { ends: p, vertices } = edges;
  const offer = (from: number, e: number): void => {
    const vertex = vertices[2 * from];
    if (vertex === vertices[2 * e] || vertex === vertices[2 * e + 1]) return;
    const [x, y] = [p[4 * from], p[4 * from + 1]];
    const ux = p[4 * e + 2] - p[4 * e];
    const uy = p[4 * e + 3] - p[4 * e + 1];
    const along = ((x - p[4 * e]) * ux + (y - p[4 * e + 1]) * uy) / (ux * ux + uy * uy);
    const share = Math.min(1, Math.max(0, along));
    const dx = x - p[4 * e] - share * ux;
    const dy = y - p[4 * e + 1] - share * uy;
    const distance = Math.sqrt(dx * dx + dy * dy);
    if (distance < reach) visit(vertex, e, distance, share, distance > 0 ? [dx / distance, dy / distance] : [0, 0]);
  };
  forEachClosePair(p, reach, (e, g) => {
    offer(e, g);
    offer(g, e);
  });
}

/** Adds the gradient of D to `target`, shape 2·n. */
export function addDistanceGradientInto(target: Float64Array, contact: Contact): void {
  const { vertex, ends, share, direction } = contact;
  for (let k = 0; k < 2; k++) {
    target[2 * vertex + k] += direction[k];
    target[2 * ends[0] + k] -= (1 - share) * direction[k];
    target[2 * ends[1] + k] -= share * direction[k];
  }
}
