/*
 * The true standoff of any body: the level of its signed distance, with hollows bridged by a rolling ball. Used where the push of `push.ts` would
 * turn faces over or cut itself: armpit, crotch, between the breasts.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import type { Run } from '../base/run.ts';
import { levelFitMm } from '../base/tolerance.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { bounds } from '../mesh/measure.ts';
import type { Correspondence } from '../mesh/surface-point.ts';
import type { LevelField } from './distance-grid.ts';
import { sampleBand } from './distance-grid.ts';
import { smoothWithoutShrinking } from './fair-bridge.ts';
import { keepWithout, levelMesh, netOf } from './iso-surface.ts';
import type { Foot, NearestFace } from './nearest-face.ts';
import { createNearestFace } from './nearest-face.ts';

/** A body prepared for level surfaces. */
export interface LevelSource {
  readonly mesh: HalfEdgeMesh;
  readonly nearest: NearestFace;
  readonly isOpen: boolean;
  /** Wanted edge length of the surfaces and step of the grids, mm. */
  readonly edgeMm: number;
  readonly stepMm: number;
}

export interface LevelSurface {
  readonly mesh: HalfEdgeMesh;
  readonly toBody: Correspondence;
  /** Closed gaps inside that were left out. */
  readonly pockets: number;
  /** Area that lies more than 1 mm further from the body than asked because a hollow is bridged, mm², and by how much at most, mm. */
  readonly bridged: { readonly areaMm2: number; readonly deepestMm: number };
}

/** Surfaces have the body's mean edge, but no more than 8 mm and no less than 3; grids half of that, 2 to 4 mm. */
export function prepareLevels(mesh: HalfEdgeMesh): LevelSource {
  let mean = 0;
  for (let h = 0; h < mesh.faces.length; h++) {
    const [a, b] = [3 * mesh.faces[h], 3 * mesh.faces[h % 3 === 2 ? h - 2 : h + 1]];
    const p = mesh.positions;
    mean += Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]) / mesh.faces.length;
  }
  const edgeMm = Math.min(8, Math.max(3, mean));
  return {
    mesh,
    nearest: createNearestFace(mesh),
    isOpen: mesh.twin.some((g) => g === -1),
    edgeMm,
    stepMm: Math.min(4, Math.max(2, edgeMm / 2)),
  };
}

/** The foot of a point: some face is always nearest. */
function footOf(nearest: NearestFace, x: number, y: number, z: number): Foot {
  const foot = nearest.foot(x, y, z);
  if (foot === undefined) throw new RangeError('nearest face of a mesh without faces');
  return foot;
}

/** A value a vertex, interpolated at a foot. */
const valueAt = (mesh: HalfEdgeMesh, values: F64, foot: Foot): number =>
  foot.weights[0] * values[mesh.faces[3 * foot.face]] +
  foot.weights[1] * values[mesh.faces[3 * foot.face + 1]] +
  foot.weights[2] * values[mesh.faces[3 * foot.face + 2]];

/**
 * Moves a point along the line from its foot until it lies at a distance from it; again, because the foot moves on.
 * @param wanted distance for a foot, mm, signed
 */
function toDistance(nearest: NearestFace, point: Vec3, wanted: (foot: Foot, at: Vec3) => number): Vec3 {
  let at = point;
  for (let i = 0; i < 8; i++) {
    const foot = footOf(nearest, at[0], at[1], at[2]);
    const aim = wanted(foot, at);
    if (foot.distance === 0 || Math.abs(foot.distance - aim) < levelFitMm.settled) break;
    const t = aim / foot.distance;
    at = [foot.at[0] + t * (at[0] - foot.at[0]), foot.at[1] + t * (at[1] - foot.at[1]), foot.at[2] + t * (at[2] - foot.at[2])];
  }
  return at;
}

/**
 * The surface at a distance from the body.
 * @param distance wanted at each body vertex, mm
 * Cost: about 3 µs a grid node near the surface, then remeshing.
 */
export async function levelSurface(source: LevelSource, distance: F64, run: Run): Promise<LevelSurface> {
  const { mesh, nearest } = source;
  const field: LevelField = (x, y, z) => {
    const foot = footOf(nearest, x, y, z);
    return foot.distance - valueAt(mesh, distance, foot);
  };
  const project = (point: Vec3): Vec3 => toDistance(nearest, point, (foot) => valueAt(mesh, distance, foot));
  const reach = largest(distance);
  const grid = await sampleBand(field, boxAround(mesh, reach, source.stepMm), source.stepMm, run);
  const isReal = (point: Vec3): boolean => Math.abs(field(...point)) < source.stepMm;
  const made = await levelMesh(grid, project, source.edgeMm, run, source.isOpen ? isReal : undefined);
  return finish(source, made.mesh, distance, made.pockets);
}

/** What layers over bridged hollows share: the level one ball radius further out. */
export interface Bridge {
  readonly outer: NearestFace;
  readonly outerMesh: HalfEdgeMesh;
  readonly radiusMm: number;
}

/**
 * Prepares a bridge: a ball of the given radius rolls over the level `distance`, and hollows that it cannot enter are bridged. A hollow as wide as the
 * radius sags by at most 13 % of its width; one whose curvature radius exceeds the ball's is left as it is.
 */
export async function prepareBridge(source: LevelSource, distance: F64, radiusMm: number, run: Run): Promise<Bridge> {
  const { mesh, nearest } = source;
  const further = Float64Array.from(distance, (mm) => mm + radiusMm);
  const field: LevelField = (x, y, z) => {
    const foot = footOf(nearest, x, y, z);
    return foot.distance - valueAt(mesh, further, foot);
  };
  // The outer level is no more curved than the ball, so its net may be coarser: chords stay below step²/8r.
  const step = Math.max(source.stepMm, Math.min(10, radiusMm / 10));
  const net = netOf(await sampleBand(field, boxAround(mesh, largest(further), step), step, run));
  const positions = new Float64Array(net.positions.length);
  for (let v = 0; v < positions.length; v += 3) {
    const point: Vec3 = [net.positions[v], net.positions[v + 1], net.positions[v + 2]];
    positions.set(
      toDistance(nearest, point, (foot) => valueAt(mesh, further, foot)),
      v,
    );
  }
  const outerMesh = { ...net, positions };
  return { outer: createNearestFace(outerMesh), outerMesh, radiusMm };
}

/**
 * The surface of a layer over bridged hollows: `aboveMm` outside the bridged innermost level. Away from hollows it is the level itself, and its vertices
 * are put there exactly.
 * @param distance of this layer at each body vertex, mm
 */
export async function bridgedSurface(source: LevelSource, bridge: Bridge, distance: F64, aboveMm: number, run: Run): Promise<LevelSurface> {
  const depth = bridge.radiusMm - aboveMm;
  // Above the ball's radius the ball no longer matters: growing twice is growing once.
  if (depth <= 0) return levelSurface(source, distance, run);
  const field: LevelField = (x, y, z) => {
    const foot = footOf(source.nearest, x, y, z);
    const gap = foot.distance - valueAt(source.mesh, distance, foot);
    // Below the plain level a point is inside in any case; only where the two could differ is the outer level asked.
    return gap <= 0 || ballTouches(source, distance, foot, [x, y, z], depth) ? gap : footOf(bridge.outer, x, y, z).distance + depth;
  };
  const grid = await sampleBand(field, boxAround(bridge.outerMesh, 0, source.stepMm), source.stepMm, run);
  const toLevel = (point: Vec3): Vec3 => toDistance(source.nearest, point, (foot) => valueAt(source.mesh, distance, foot));
  const project = (point: Vec3): Vec3 => {
    const foot = footOf(source.nearest, point[0], point[1], point[2]);
    if (ballTouches(source, distance, foot, point, depth)) return toLevel(point);
    const onBridge = toDistance(bridge.outer, point, () => -depth);
    return toDistance(source.nearest, onBridge, (under, at) => {
      const aim = valueAt(source.mesh, distance, under);
      const gap = Math.hypot(at[0] - under.at[0], at[1] - under.at[1], at[2] - under.at[2]) - aim;
      // The two levels agree but for the net's chords; a real bridge stands clear of that. Between one and two chords the two are blended.
      const { same } = levelFitMm;
      return aim + (gap < same ? 0 : gap < 2 * same ? 2 * (gap - same) : gap);
    });
  };
  const made = await levelMesh(grid, project, source.edgeMm, run);
  return finish(source, fairBridges(source, made.mesh, distance, toLevel), distance, made.pockets);
}

/** Smooths what stands clear of the plain level; what comes below it in doing so returns to it. */
function fairBridges(source: LevelSource, mesh: HalfEdgeMesh, distance: F64, toLevel: (point: Vec3) => Vec3): HalfEdgeMesh {
  const gapAt = (p: F64, v: number): number => {
    const foot = footOf(source.nearest, p[3 * v], p[3 * v + 1], p[3 * v + 2]);
    return foot.distance - valueAt(source.mesh, distance, foot);
  };
  const isFree = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => (gapAt(mesh.positions, v) > levelFitMm.same ? 1 : 0));
  const positions = smoothWithoutShrinking(mesh, isFree);
  for (let v = 0; v < isFree.length; v++)
    if (isFree[v] === 1 && gapAt(positions, v) < 0)
      positions.set(toLevel([positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]]), 3 * v);
  return { ...mesh, positions };
}

/**
 * Whether the ball can touch the level under a point, so that nothing is bridged there: its middle, on the line from the foot through the point, lies
 * as far from the whole body as it must. Much cheaper than a distance to the outer level from deep inside, where many faces are equally near.
 */
function ballTouches(source: LevelSource, distance: F64, foot: Foot, point: Vec3, depth: number): boolean {
  if (!(foot.distance > 0)) return false;
  const reach = valueAt(source.mesh, distance, foot) + depth;
  const t = reach / foot.distance;
  const middle = [0, 1, 2].map((k) => foot.at[k] + t * (point[k] - foot.at[k]));
  const under = footOf(source.nearest, middle[0], middle[1], middle[2]);
  return under.distance >= valueAt(source.mesh, distance, under) + depth - levelFitMm.touching;
}

const largest = (values: F64): number => values.reduce((most, x) => Math.max(most, x), -Infinity);

function boxAround(mesh: HalfEdgeMesh, reach: number, step: number): { readonly min: Vec3; readonly max: Vec3 } {
  const { min, max } = bounds(mesh);
  const room = Math.max(0, reach) + 4 * step;
  return { min: [min[0] - room, min[1] - room, min[2] - room], max: [max[0] + room, max[1] + room, max[2] + room] };
}

/** Correspondence, what is bridged, and on an open body the trim at its borders. */
function finish(source: LevelSource, made: HalfEdgeMesh, distance: F64, pockets: number): LevelSurface {
  const mesh = source.isOpen ? trimAtBorders(source, made) : made;
  const total = mesh.positions.length / 3;
  const face = new Uint32Array(total);
  const weights = new Float64Array(3 * total);
  const gap = new Float64Array(total);
  for (let v = 0; v < total; v++) {
    const foot = footOf(source.nearest, mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]);
    face[v] = foot.face;
    weights.set(foot.weights, 3 * v);
    gap[v] = foot.distance - valueAt(source.mesh, distance, foot);
  }
  return { mesh, toBody: { face, weights }, pockets, bridged: bridgedPart(mesh, gap) };
}

function bridgedPart(mesh: HalfEdgeMesh, gap: F64): LevelSurface['bridged'] {
  let areaMm2 = 0;
  const p = mesh.positions;
  for (let h = 0; h < mesh.faces.length; h += 3) {
    const [a, b, c] = [mesh.faces[h], mesh.faces[h + 1], mesh.faces[h + 2]];
    if (gap[a] + gap[b] + gap[c] <= 3) continue;
    const u = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
    const w = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
    areaMm2 += Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]) / 2;
  }
  return { areaMm2, deepestMm: Math.max(0, largest(gap)) };
}

/** Leaves out faces that hang over an open border: those at a vertex whose foot lies on it. */
function trimAtBorders(source: LevelSource, mesh: HalfEdgeMesh): HalfEdgeMesh {
  const p = mesh.positions;
  const beyond = Uint8Array.from({ length: p.length / 3 }, (_, v) =>
    footOf(source.nearest, p[3 * v], p[3 * v + 1], p[3 * v + 2]).onBorder ? 1 : 0,
  );
  return keepWithout(mesh, beyond);
}
