/*
 * What is added to every layer's distance at each vertex of the body: ease for girths that must grow, and areas that keep their own clearance.
 */
import type { F64, Vec3 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Body, Plane } from '../body/body.ts';
import { girthPlane } from '../body/measure-girth.ts';
import type { MeasureMark } from '../body/settings.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { nextHalfEdge } from '../mesh/half-edge-mesh.ts';
import { offsetDirections, pushedPositions } from './push.ts';
import type { StandoffSettings } from './settings.ts';
import { tapeAround } from './tape.ts';

/** What a standoff may know beyond its settings. */
export interface StandoffOptions {
  /** The job's tape measures: ease names them. */
  readonly measures?: readonly MeasureMark[];
  /** Clearance of painted areas that have their own, a body vertex, mm; below 0 elsewhere. */
  readonly areaClearanceMm?: F64;
}

/** Ease fades to nothing over this height beyond the outermost eased girth, mm. */
export const easeFadeMm = 150;
/** An area's own clearance fades into the surroundings over this distance, mm. */
export const areaFadeMm = 40;

/** @returns mm a body vertex, and findings for ease that could not be given */
export function extraDistance(
  body: Body,
  settings: StandoffSettings,
  innermostMm: number,
  options: StandoffOptions,
): { readonly extra: Float64Array; readonly findings: readonly Finding[] } {
  const { ease, findings } = easeByHeight(body, settings, innermostMm, options.measures ?? []);
  // What the scan wore stands for that much of the clearance.
  const worn = body.wornMm ?? 0;
  const area = options.areaClearanceMm === undefined ? undefined : fadeAreas(body.mesh, options.areaClearanceMm, settings.clearanceMm);
  return { extra: ease.map((mm, v) => mm - worn + (area?.[v] ?? 0)), findings };
}

/** 0 at 0, 1 at 1, flat in first and second derivative at both ends. */
const blend = (t: number): number => {
  const u = Math.min(1, Math.max(0, t));
  return u * u * u * (u * (6 * u - 15) + 10);
};

interface EaseLevel {
  readonly height: number;
  readonly plane: Plane;
  /** Wanted growth of the girth, mm; 0 for a measured girth that asks for none. */
  readonly wantedMm: number;
}

/**
 * Ease as a distance by height: at the level of an eased girth the distance grows by ease/2π, a measured girth without ease keeps 0, and between
 * levels the two blend; beyond the outermost level an ease fades out. The distances are then corrected (secant steps) until the
 * girths of the pushed surface grow by what was asked, since a sloping side grows by more than its distance.
 */
function easeByHeight(
  body: Body,
  settings: StandoffSettings,
  innermostMm: number,
  measures: readonly MeasureMark[],
): { readonly ease: Float64Array; readonly findings: Finding[] } {
  const total = body.mesh.positions.length / 3;
  const findings: Finding[] = [];
  const girths = measures.filter((measure) => measure.kind === 'girth' && measure.points.length > 0);
  for (const asked of settings.ease)
    if (!girths.some((girth) => girth.name === asked.measure))
      findings.push(
        finding(
          'warning',
          'standoff/ease-without-girth',
          `Ease of ${asked.mm} mm is asked for "${asked.measure}", but no girth of that name is measured.`,
          { stage: 'clearance', item: asked.measure },
          'Add that girth to the tape measures, or name the ease after one of them.',
        ),
      );
  const up = girthPlane([0, 0, 0], body.up).normal;
  const levels: EaseLevel[] = girths
    .map((girth) => ({
      height: dot(girth.points[0], up),
      plane: girthPlane(girth.points[0], body.up),
      wantedMm: settings.ease.filter((asked) => asked.measure === girth.name).reduce((sum, asked) => sum + asked.mm, 0),
    }))
    .sort((a, b) => a.height - b.height);
  if (!levels.some((level) => level.wantedMm !== 0)) return { ease: new Float64Array(total), findings };
  return { ease: correctedEase(body.mesh, levels, up, innermostMm), findings };
}

function correctedEase(mesh: HalfEdgeMesh, levels: readonly EaseLevel[], up: Vec3, innermostMm: number): Float64Array {
  const total = mesh.positions.length / 3;
  const heights = Float64Array.from({ length: total }, (_, v) =>
    dot([mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]], up),
  );
  const directions = offsetDirections(mesh);
  const girthsWith = (ease: F64): (number | undefined)[] => {
    const positions = pushedPositions(
      mesh,
      directions,
      Float64Array.from(ease, (mm) => innermostMm + mm),
    );
    return levels.map((level) => tapeAround({ ...mesh, positions }, level.plane));
  };
  const before = girthsWith(new Float64Array(total));
  let values = levels.map((level) => level.wantedMm / (2 * Math.PI));
  let ease = Float64Array.from(heights, (height) => easeAt(levels, values, height));
  for (let round = 0; round < 4; round++) {
    const after = girthsWith(ease);
    values = values.map((value, i) => {
      const [a, b] = [before[i], after[i]];
      if (a === undefined || b === undefined || levels[i].wantedMm === 0 || b === a) return value;
      return value * Math.min(2, Math.max(0.5, levels[i].wantedMm / (b - a)));
    });
    ease = Float64Array.from(heights, (height) => easeAt(levels, values, height));
  }
  return ease;
}

function easeAt(levels: readonly EaseLevel[], values: readonly number[], height: number): number {
  const last = levels.length - 1;
  if (height <= levels[0].height) return values[0] * (1 - blend((levels[0].height - height) / easeFadeMm));
  if (height >= levels[last].height) return values[last] * (1 - blend((height - levels[last].height) / easeFadeMm));
  let i = 0;
  while (height > levels[i + 1].height) i++;
  const t = blend((height - levels[i].height) / (levels[i + 1].height - levels[i].height));
  return values[i] + t * (values[i + 1] - values[i]);
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * Difference to the job's clearance: full inside an area, fading to 0 over `areaFadeMm` outside. Each vertex learns its nearest area vertex from its
 * neighbours (distances straight from vertex to vertex, so no zigzag of edges enters), nearest first.
 */
function fadeAreas(mesh: HalfEdgeMesh, wanted: F64, clearanceMm: number): Float64Array {
  const total = mesh.positions.length / 3;
  const source = new Int32Array(total).fill(-1);
  const distance = new Float64Array(total).fill(Infinity);
  let front: number[] = [];
  for (let v = 0; v < total; v++)
    if (wanted[v] >= 0) {
      source[v] = v;
      distance[v] = 0;
      front.push(v);
    }
  const { start, neighbours } = vertexNeighbours(mesh);
  const p = mesh.positions;
  while (front.length > 0) {
    const next = new Set<number>();
    for (const v of front)
      for (let i = start[v]; i < start[v + 1]; i++) {
        const u = neighbours[i];
        const s = source[v];
        const d = Math.hypot(p[3 * u] - p[3 * s], p[3 * u + 1] - p[3 * s + 1], p[3 * u + 2] - p[3 * s + 2]);
        if (d >= distance[u] || d > areaFadeMm) continue;
        distance[u] = d;
        source[u] = s;
        next.add(u);
      }
    front = [...next].sort((a, b) => a - b);
  }
  return Float64Array.from(distance, (d, v) => (source[v] === -1 ? 0 : (wanted[source[v]] - clearanceMm) * (1 - blend(d / areaFadeMm))));
}

/** Neighbours of every vertex in compressed rows. */
function vertexNeighbours(mesh: HalfEdgeMesh): { readonly start: Uint32Array; readonly neighbours: Uint32Array } {
  const total = mesh.positions.length / 3;
  const start = new Uint32Array(total + 1);
  const eachPair = (visit: (a: number, b: number) => void): void => {
    for (let h = 0; h < mesh.faces.length; h++) {
      const [a, b] = [mesh.faces[h], mesh.faces[nextHalfEdge(h)]];
      visit(a, b);
      if (mesh.twin[h] === -1) visit(b, a);
    }
  };
  eachPair((a) => start[a + 1]++);
  for (let v = 0; v < total; v++) start[v + 1] += start[v];
  const fill = start.slice();
  const neighbours = new Uint32Array(start[total]);
  eachPair((a, b) => {
    neighbours[fill[a]++] = b;
  });
  return { start, neighbours };
}
