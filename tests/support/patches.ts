/*
 * Small patches and their flattenings from formulas, for tests of drafting: a rectangle of parameters (u, v) mapped into space and into the plane.
 */
import type { Vec2, Vec3 } from '../../src/base/arrays.ts';
import type { Distribution, FlatPart } from '../../src/flatten/flat-part.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { boundaryLoops, halfEdgeLength } from '../../src/mesh/navigate.ts';
import type { Patch, Seam, Side, SideKind } from '../../src/patches/patch.ts';

export type EdgeName = 'bottom' | 'right' | 'top' | 'left';

export interface GridPatch {
  readonly id: string;
  readonly columns: number;
  readonly rows: number;
  readonly space: (u: number, v: number) => Vec3;
  readonly plane: (u: number, v: number) => Vec2;
  /** The row v = 1 is one point. */
  readonly tip?: boolean;
  readonly forming?: Patch['forming'];
  readonly material?: string;
  readonly side?: Patch['side'];
  readonly pair?: string;
  readonly name?: string;
  /** Seam of an edge by name; edges without one are finished edges. */
  readonly seams?: Partial<Record<EdgeName, string>>;
  readonly lines?: Partial<Record<EdgeName, string>>;
  readonly kinds?: Partial<Record<EdgeName, SideKind>>;
}

const zero: Distribution = { min: 0, median: 0, p95: 0, p99: 0, max: 0 };
const one: Distribution = { min: 1, median: 1, p95: 1, p99: 1, max: 1 };

/** A patch with its flattening. Sides in border order: bottom, right, top (none at a tip), left. */
export function gridPatch(grid: GridPatch): { readonly patch: Patch; readonly flat: FlatPart } {
  const { columns, rows, tip = false } = grid;
  const index = (i: number, j: number): number => (tip && j === rows ? rows * (columns + 1) : j * (columns + 1) + i);
  const count = tip ? rows * (columns + 1) + 1 : (rows + 1) * (columns + 1);
  const positions = new Float64Array(3 * count);
  const flat = new Float64Array(2 * count);
  for (let j = 0; j <= rows; j++)
    for (let i = 0; i <= columns; i++) {
      const at = tip && j === rows ? [0.5, 1] : [i / columns, j / rows];
      positions.set(grid.space(at[0], at[1]), 3 * index(i, j));
      flat.set(grid.plane(at[0], at[1]), 2 * index(i, j));
    }
  const faces: number[] = [];
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < columns; i++) {
      const [a, b, c, d] = [index(i, j), index(i + 1, j), index(i + 1, j + 1), index(i, j + 1)];
      if (c === d) faces.push(a, b, c);
      else if ((i + j) % 2 === 0) faces.push(a, b, c, a, c, d);
      else faces.push(a, b, d, b, c, d);
    }
  const mesh = buildMesh(positions, Uint32Array.from(faces));
  const edges: { readonly name: EdgeName; readonly ends: readonly [number, number] }[] = [
    { name: 'bottom', ends: [index(0, 0), index(columns, 0)] },
    { name: 'right', ends: [index(columns, 0), index(columns, rows)] },
    ...(tip ? [] : [{ name: 'top', ends: [index(columns, rows), index(0, rows)] } as const]),
    { name: 'left', ends: [index(0, rows), index(0, 0)] },
  ];
  const loop = boundaryLoops(mesh)[0];
  const start = loop.findIndex((h) => mesh.faces[h] === 0);
  const ordered = [...loop.slice(start), ...loop.slice(0, start)];
  const sides = edges.map(({ name, ends }): Side => {
    const from = ordered.findIndex((h) => mesh.faces[h] === ends[0]);
    const last = ordered.findIndex((h) => mesh.faces[h] === ends[1]);
    const halfEdges = ordered.slice(from, last === 0 ? ordered.length : last);
    const seam = grid.seams?.[name];
    const line = grid.lines?.[name];
    return {
      halfEdges: Uint32Array.from(halfEdges),
      kind: grid.kinds?.[name] ?? (seam === undefined ? 'border' : 'seam'),
      ...(line === undefined ? {} : { line }),
      ...(seam === undefined ? {} : { seam }),
    };
  });
  const patch: Patch = {
    id: grid.id,
    area: grid.id.split('.')[0],
    name: grid.name ?? grid.id,
    side: grid.side ?? 'C',
    ...(grid.pair === undefined ? {} : { pair: grid.pair }),
    layer: 0,
    material: grid.material ?? 'eva-6',
    forming: grid.forming ?? 'domed',
    mesh,
    toSurface: { face: new Uint32Array(count), weights: new Float64Array(3 * count) },
    faceToSurfaceFace: new Uint32Array(faces.length / 3),
    loops: [sides.map((_, i) => i)],
    sides,
    marks: [],
    points: [],
    hash: grid.id,
  };
  return { patch, flat: flatOf(patch, flat) };
}

/** A flattening with given plane positions; strains are left at nought. */
export function flatOf(patch: Patch, positions: Float64Array): FlatPart {
  const faces = patch.mesh.faces.length / 3;
  return {
    patch: patch.id,
    positions,
    sigma1: new Float64Array(faces).fill(1),
    sigma2: new Float64Array(faces).fill(1),
    summary: {
      method: 'formula',
      iterations: 0,
      converged: true,
      flips: 0,
      overlaps: 0,
      surfaceAreaMm2: 0,
      flatAreaMm2: 0,
      areaRatio: { min: 1, mean: 1, max: 1 },
      sigma1: one,
      sigma2: one,
      stretch: zero,
      squeeze: zero,
      worstAt: [0, 0, 0],
      conformalEnergy: 0,
      symmetricDirichlet: 4,
      bestRatio: 1,
    },
    verdict: 'cold',
    findings: [],
  };
}

/** The seam between two edges of grid patches; the second runs against the first. */
export function seamBetween(
  id: string,
  first: Patch,
  firstEdge: number,
  second: Patch,
  secondEdge: number,
  kind: Seam['kind'] = 'seam',
): Seam {
  const surfaceMm = [...first.sides[firstEdge].halfEdges].reduce((sum, h) => sum + halfEdgeLength(first.mesh, h), 0);
  return {
    id,
    kind,
    line: first.sides[firstEdge].line ?? id,
    sides: [
      { patch: first.id, side: firstEdge },
      { patch: second.id, side: secondEdge },
    ],
    surfaceMm,
  };
}

/** Two flat sheets of given size that meet in a ridge along y: the sheets fall away by half the fold on either side (a valley if negative). */
export function roof(
  foldDeg: number,
  width: number,
  length: number,
  material = 'eva-6',
): { readonly patches: Patch[]; readonly flats: FlatPart[]; readonly seams: Seam[] } {
  const slope = (foldDeg * Math.PI) / 360;
  const common = { columns: 6, rows: 12, material, forming: 'domed' as const };
  // Left sheet: x from −width to 0; right sheet: 0 to width. Seen from outside (z up), counter-clockwise.
  const left = gridPatch({
    ...common,
    id: 'left.1.C',
    seams: { right: 'S1' },
    lines: { right: 'ridge' },
    space: (u, v) => [(u - 1) * width * Math.cos(slope), v * length, (u - 1) * width * Math.sin(slope)],
    plane: (u, v) => [(u - 1) * width, v * length],
  });
  const right = gridPatch({
    ...common,
    id: 'right.1.C',
    seams: { left: 'S1' },
    lines: { left: 'ridge' },
    space: (u, v) => [u * width * Math.cos(slope), v * length, -u * width * Math.sin(slope)],
    plane: (u, v) => [u * width, v * length],
  });
  return { patches: [left.patch, right.patch], flats: [left.flat, right.flat], seams: [seamBetween('S1', left.patch, 1, right.patch, 3)] };
}

/** A hemisphere in `count` gores, pole up (y), flattened by the sinusoidal gore: half-width (π·R/count)·cos φ at meridian length R·φ. */
export function goreHemisphere(
  count: number,
  radius: number,
  forming: Patch['forming'],
  fineness = 24,
): { readonly patches: Patch[]; readonly flats: FlatPart[]; readonly seams: Seam[] } {
  const half = Math.PI / count;
  const gores = [...Array(count).keys()].map((k) =>
    gridPatch({
      id: `cap.${k + 1}.C`,
      columns: Math.max(4, Math.round(fineness / 2)),
      rows: fineness,
      tip: true,
      forming,
      seams: { right: `S${k + 1}`, left: `S${((k + count - 1) % count) + 1}` },
      lines: { right: `meridian-${k + 1}`, left: `meridian-${((k + count - 1) % count) + 1}` },
      space: (u, v) => {
        const latitude = (v * Math.PI) / 2;
        const longitude = 2 * half * k + (2 * u - 1) * half;
        // Longitude runs counter-clockwise seen from outside with y up: x = sin, z = cos.
        return [
          radius * Math.cos(latitude) * Math.sin(longitude),
          radius * Math.sin(latitude),
          radius * Math.cos(latitude) * Math.cos(longitude),
        ];
      },
      plane: (u, v) => {
        const latitude = (v * Math.PI) / 2;
        return [(2 * u - 1) * half * radius * Math.cos(latitude), radius * latitude];
      },
    }),
  );
  const patches = gores.map(({ patch }) => patch);
  return {
    patches,
    flats: gores.map(({ flat }) => flat),
    // Right edge is side 1; left edge is side 2 at a tip.
    seams: patches.map((patch, k) => seamBetween(`S${k + 1}`, patch, 1, patches[(k + 1) % count], 2)),
  };
}

/** A flat ring between two circles: an outline and a hole, each one closed side without a corner. */
export function ringPatch(inner: number, outer: number, segments: number): { readonly patch: Patch; readonly flat: FlatPart } {
  const positions = new Float64Array(6 * segments);
  const flat = new Float64Array(4 * segments);
  for (let i = 0; i < segments; i++)
    for (const [k, radius] of [inner, outer].entries()) {
      const angle = (i / segments) * 2 * Math.PI;
      const v = 2 * i + k;
      positions.set([radius * Math.cos(angle), radius * Math.sin(angle), 0], 3 * v);
      flat.set([radius * Math.cos(angle), radius * Math.sin(angle)], 2 * v);
    }
  const faces: number[] = [];
  for (let i = 0; i < segments; i++) {
    const [a, b, c, d] = [2 * i, 2 * i + 1, (2 * i + 3) % (2 * segments), (2 * i + 2) % (2 * segments)];
    faces.push(a, b, c, a, c, d);
  }
  const mesh = buildMesh(positions, Uint32Array.from(faces));
  const sides = boundaryLoops(mesh).map((halfEdges): Side => ({ halfEdges, kind: 'border' }));
  const patch: Patch = {
    id: 'ring.1.C',
    area: 'ring',
    name: 'Ring',
    side: 'C',
    layer: 0,
    material: 'eva-6',
    forming: 'domed',
    mesh,
    toSurface: { face: new Uint32Array(2 * segments), weights: new Float64Array(6 * segments) },
    faceToSurfaceFace: new Uint32Array(2 * segments),
    loops: [[0], [1]],
    sides,
    marks: [],
    points: [],
    hash: 'ring',
  };
  return { patch, flat: flatOf(patch, flat) };
}
