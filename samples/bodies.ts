/*
 * Bodies from formulas, for tests and lessons: millimetres, faces counter-clockwise seen from outside. Ruled bodies have their vertices on
 * common generators, so that each strip of faces is flat and the polyhedron is exactly developable. A seed makes a body irregular without
 * moving it off its surface: uneven spacing and random diagonals.
 */
import Delaunator from 'delaunator';
import { cos, sin, tan } from '../src/base/elementary.ts';
import { createRandom } from '../src/base/random.ts';

export interface SampleMesh {
  /** mm, shape 3·n. */
  readonly positions: Float64Array;
  /** Shape 3·m. */
  readonly faces: Uint32Array;
}

/** How finely and how irregularly a body is meshed. */
export interface SampleGrain {
  /** Edge length, mm. */
  readonly edgeMm: number;
  /** Absent: regular. */
  readonly seed?: number;
}

type Place = (u: number, v: number) => readonly [number, number, number];

interface Patch {
  readonly columns: number;
  readonly rows: number;
  readonly at: Place;
  /** Columns (rows) close on themselves. */
  readonly closedColumns?: boolean;
  readonly closedRows?: boolean;
  readonly seed?: number;
  /** Move vertices along their column only (keeps generators straight). */
  readonly alongColumnsOnly?: boolean;
  /** A column that keeps its place (a crease). */
  readonly keptColumn?: number;
}

/** A grid of u, v in 0…1; outside is where ∂u × ∂v points. */
function patchMesh(patch: Patch): SampleMesh {
  const { columns, rows } = patch;
  const random = patch.seed === undefined ? undefined : createRandom(patch.seed);
  const wiggle = (): number => (random === undefined ? 0 : 0.6 * (random() - 0.5));
  const across = patch.closedColumns === true ? columns : columns + 1;
  const up = patch.closedRows === true ? rows : rows + 1;
  const columnAt = Array.from(
    { length: across },
    (_, i) => (i + (i === 0 || i === columns || i === patch.keptColumn ? 0 : wiggle())) / columns,
  );
  const positions: number[] = [];
  for (let i = 0; i < across; i++)
    for (let k = 0; k < up; k++) {
      const isInner = k > 0 && k < rows;
      const isFree = i > 0 && i < columns && i !== patch.keptColumn && patch.alongColumnsOnly !== true;
      positions.push(...patch.at(columnAt[i] + (isFree ? wiggle() / columns / 2 : 0), (k + (isInner ? wiggle() : 0)) / rows));
    }
  const faces: number[] = [];
  const vertex = (i: number, k: number): number => (i % across) * up + (k % up);
  for (let i = 0; i < columns; i++)
    for (let k = 0; k < rows; k++) {
      const [a, b, c, d] = [vertex(i, k), vertex(i + 1, k), vertex(i + 1, k + 1), vertex(i, k + 1)];
      if (random !== undefined && random() < 0.5) faces.push(a, b, c, a, c, d);
      else faces.push(a, b, d, b, c, d);
    }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

const seedOf = (grain: SampleGrain): { seed?: number } => (grain.seed === undefined ? {} : { seed: grain.seed });
const steps = (length: number, edgeMm: number, least = 1): number => Math.max(least, Math.round(length / edgeMm));

/** A level rectangle, z up, one corner at the origin. */
export function plane(size: { readonly width: number; readonly height: number }, grain: SampleGrain): SampleMesh {
  const { width, height } = size;
  return patchMesh({
    columns: steps(width, grain.edgeMm),
    rows: steps(height, grain.edgeMm),
    at: (u, v) => [u * width, v * height, 0],
    ...seedOf(grain),
  });
}

/** A ruled body around the z axis: straight generators from a lower to an upper curve. */
export interface Ruled {
  /** Points of the lower and the upper curve at an angle, mm. */
  readonly lower: (angle: number) => readonly [number, number, number];
  readonly upper: (angle: number) => readonly [number, number, number];
  /** Angle covered, rad; default 2π. */
  readonly turn?: number;
  /** Cut open along the first generator, so that a whole turn is a disc. Always so for less than a whole turn. */
  readonly cut?: boolean;
}

/** Mesh of a ruled body; columns are its generators. */
export function ruled(body: Ruled, grain: SampleGrain): SampleMesh {
  const turn = body.turn ?? 2 * Math.PI;
  const isClosed = body.cut !== true && body.turn === undefined;
  const at: Place = (u, v) => {
    const [a, b] = [body.lower(u * turn), body.upper(u * turn)];
    if (v === 1) return b;
    return [a[0] + v * (b[0] - a[0]), a[1] + v * (b[1] - a[1]), a[2] + v * (b[2] - a[2])];
  };
  let [girth, slant] = [0, 0];
  for (let i = 0; i < 64; i++) {
    const [p, q, r] = [body.lower((i / 64) * turn), body.lower(((i + 1) / 64) * turn), body.upper((i / 64) * turn)];
    girth += Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    slant = Math.max(slant, Math.hypot(r[0] - p[0], r[1] - p[1], r[2] - p[2]));
  }
  return patchMesh({
    columns: steps(girth, grain.edgeMm, 3),
    rows: steps(slant, grain.edgeMm),
    at,
    closedColumns: isClosed,
    alongColumnsOnly: true,
    ...seedOf(grain),
  });
}

const circle =
  (radius: number, z: number) =>
  (angle: number): readonly [number, number, number] => [radius * cos(angle), radius * sin(angle), z];

/** Open tube around z. */
export const cylinder = (
  size: { readonly radius: number; readonly height: number; readonly turn?: number; readonly cut?: boolean },
  grain: SampleGrain,
): SampleMesh => ruled({ ...size, lower: circle(size.radius, 0), upper: circle(size.radius, size.height) }, grain);

/** Cone without its tip: radii at the foot and at the top. */
export const frustum = (
  size: {
    readonly bottomRadius: number;
    readonly topRadius: number;
    readonly height: number;
    readonly turn?: number;
    readonly cut?: boolean;
  },
  grain: SampleGrain,
): SampleMesh => ruled({ ...size, lower: circle(size.bottomRadius, 0), upper: circle(size.topRadius, size.height) }, grain);

/** Tube around z whose upper end is cut by a plane that leans by `lean` (rad) about y; `height` at the axis. */
export const truncatedCylinder = (
  size: { readonly radius: number; readonly height: number; readonly lean: number; readonly cut?: boolean },
  grain: SampleGrain,
): SampleMesh =>
  ruled(
    {
      ...size,
      lower: circle(size.radius, 0),
      upper: (angle) => [size.radius * cos(angle), size.radius * sin(angle), size.height + size.radius * cos(angle) * tan(size.lean)],
    },
    grain,
  );

/** Circle carried along a slanted straight line: generators parallel, top circle shifted by `shift` along x. */
export const obliqueCylinder = (
  size: { readonly radius: number; readonly height: number; readonly shift: number; readonly cut?: boolean },
  grain: SampleGrain,
): SampleMesh =>
  ruled(
    {
      ...size,
      lower: circle(size.radius, 0),
      upper: (angle) => [size.shift + size.radius * cos(angle), size.radius * sin(angle), size.height],
    },
    grain,
  );

/**
 * Cone with its tip at (shift, 0, height) over a circle at z = 0, with the share `from`…1 of each generator counted from the tip; `from` above 0
 * cuts the tip off. `lean` tilts the upper cut of a cone without tip about y.
 */
export function cone(
  size: {
    readonly radius: number;
    readonly height: number;
    readonly shift?: number;
    readonly from?: number;
    readonly lean?: number;
    readonly cut?: boolean;
  },
  grain: SampleGrain,
): SampleMesh {
  const tip = [size.shift ?? 0, 0, size.height] as const;
  const from = size.from ?? 0;
  const foot = circle(size.radius, 0);
  const slope = tan(size.lean ?? 0);
  const upper = (angle: number): readonly [number, number, number] => {
    const a = foot(angle);
    // Share t from the tip at which the generator meets the plane z = (1 − from)·height + slope·x.
    const t = (from * size.height - slope * tip[0]) / (size.height + slope * (a[0] - tip[0]));
    return [tip[0] + t * (a[0] - tip[0]), tip[1] + t * (a[1] - tip[1]), tip[2] + t * (a[2] - tip[2])];
  };
  const body: Ruled = { lower: foot, upper: from === 0 ? () => tip : upper, ...(size.cut === undefined ? {} : { cut: size.cut }) };
  return from === 0 ? mergeTip(ruled(body, grain)) : ruled(body, grain);
}

/** Makes the many vertices at a tip one, and drops the faces that vanish. */
function mergeTip(mesh: SampleMesh): SampleMesh {
  const last = mesh.positions.slice(-3);
  const isTip = (v: number): boolean => [0, 1, 2].every((k) => mesh.positions[3 * v + k] === last[k]);
  const number = new Int32Array(mesh.positions.length / 3);
  const positions: number[] = [...last];
  for (let v = 0; v < number.length; v++) {
    if (isTip(v)) continue;
    number[v] = positions.length / 3;
    positions.push(...mesh.positions.slice(3 * v, 3 * v + 3));
  }
  const faces: number[] = [];
  for (let h = 0; h < mesh.faces.length; h += 3) {
    const [a, b, c] = [0, 1, 2].map((i) => number[mesh.faces[h + i]]);
    if (a !== b && b !== c && c !== a) faces.push(a, b, c);
  }
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(faces) };
}

/** Torus around z, tube radius `tube`, closed. */
export function torus(size: { readonly radius: number; readonly tube: number }, grain: SampleGrain): SampleMesh {
  const at: Place = (u, v) => {
    const [p, q] = [2 * Math.PI * u, 2 * Math.PI * v];
    const r = size.radius + size.tube * cos(q);
    return [r * cos(p), r * sin(p), size.tube * sin(q)];
  };
  const [long, short] = [2 * Math.PI * size.radius, 2 * Math.PI * size.tube];
  return patchMesh({
    columns: steps(long, grain.edgeMm, 3),
    rows: steps(short, grain.edgeMm, 3),
    at,
    closedColumns: true,
    closedRows: true,
    ...seedOf(grain),
  });
}

/** z = curvature·(x² − y²)/2 over a square around the origin. */
export function saddle(size: { readonly width: number; readonly curvature: number }, grain: SampleGrain): SampleMesh {
  const at: Place = (u, v) => {
    const [x, y] = [(u - 0.5) * size.width, (v - 0.5) * size.width];
    return [x, y, (size.curvature * (x * x - y * y)) / 2];
  };
  const count = steps(size.width, grain.edgeMm);
  return patchMesh({ columns: count, rows: count, at, ...seedOf(grain) });
}

/**
 * Spherical cap around +z by its half-angle (rad, up to π/2): rings in the azimuthal equidistant plane, joined by Delaunay's rule there.
 */
export function sphericalCap(size: { readonly radius: number; readonly angle: number }, grain: SampleGrain): SampleMesh {
  const rings = steps(size.radius * size.angle, grain.edgeMm, 2);
  return fromDisc(rings, grain, (distance, around) => {
    const polar = distance * size.angle;
    return [size.radius * sin(polar) * cos(around), size.radius * sin(polar) * sin(around), size.radius * cos(polar)];
  });
}

/** The end of a limb: a hemisphere around +z on an open tube that reaches down to z = −length. */
export function limb(size: { readonly radius: number; readonly length: number }, grain: SampleGrain): SampleMesh {
  const dome = (size.radius * Math.PI) / 2;
  const rings = steps(dome + size.length, grain.edgeMm, 3);
  return fromDisc(rings, grain, (distance, around) => {
    const run = distance * (dome + size.length);
    const polar = Math.min(run, dome) / size.radius;
    const r = size.radius * sin(polar);
    return [r * cos(around), r * sin(around), run <= dome ? size.radius * cos(polar) : dome - run];
  });
}

/** Vertices on rings of a unit disc, 6·k on ring k, joined by Delaunay in the disc, then placed. */
function fromDisc(
  rings: number,
  grain: SampleGrain,
  place: (distance: number, around: number) => readonly [number, number, number],
): SampleMesh {
  const random = grain.seed === undefined ? undefined : createRandom(grain.seed);
  const wiggle = (): number => (random === undefined ? 0 : 0.5 * (random() - 0.5));
  const flat: number[] = [0, 0];
  const positions: number[] = [...place(0, 0)];
  for (let ring = 1; ring <= rings; ring++)
    for (let i = 0; i < 6 * ring; i++) {
      const distance = (ring + (ring < rings ? wiggle() : 0)) / rings;
      const around = (2 * Math.PI * (i + (ring % 2) / 2 + wiggle())) / (6 * ring);
      flat.push(distance * cos(around), distance * sin(around));
      positions.push(...place(distance, around));
    }
  const { triangles } = new Delaunator(flat);
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(counterClockwise(triangles, flat)) };
}

/** Faces turned to the left in the plane; slivers on the rim are dropped. */
function counterClockwise(triangles: Uint32Array, flat: readonly number[]): number[] {
  const faces: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const area =
      (flat[2 * b] - flat[2 * a]) * (flat[2 * c + 1] - flat[2 * a + 1]) - (flat[2 * b + 1] - flat[2 * a + 1]) * (flat[2 * c] - flat[2 * a]);
    if (area > 0) faces.push(a, b, c);
    else if (area < 0) faces.push(a, c, b);
  }
  return faces;
}

/** One of `count` equal gores of a hemisphere around +z, from the meridian at angle 0; both meridians are borders. */
export function hemisphereGore(size: { readonly radius: number; readonly count: number }, grain: SampleGrain): SampleMesh {
  const width = (2 * Math.PI) / size.count;
  const at: Place = (u, v) => {
    const polar = (v * Math.PI) / 2;
    const around = u * width;
    return [size.radius * sin(polar) * cos(around), size.radius * sin(polar) * sin(around), size.radius * cos(polar)];
  };
  const mesh = patchMesh({
    columns: steps(size.radius * width, grain.edgeMm, 2),
    rows: steps((size.radius * Math.PI) / 2, grain.edgeMm, 2),
    at: (u, v) => at(u, 1 - v),
    ...seedOf(grain),
  });
  return mergeTip(mesh);
}

/** Two rectangles that meet in a ridge along y and stand at a fold angle (rad; 0 is flat, positive convex above), each `slope` wide. */
export function roof(size: { readonly fold: number; readonly slope: number; readonly length: number }, grain: SampleGrain): SampleMesh {
  const [run, drop] = [size.slope * cos(size.fold / 2), size.slope * sin(size.fold / 2)];
  const half = steps(size.slope, grain.edgeMm);
  return patchMesh({
    columns: 2 * half,
    rows: steps(size.length, grain.edgeMm),
    at: (u, v) => [(2 * u - 1) * run, v * size.length, -Math.abs(2 * u - 1) * drop],
    keptColumn: half,
    ...seedOf(grain),
  });
}

/** A closed box with one corner at the origin, twelve faces. */
export function box(size: { readonly x: number; readonly y: number; readonly z: number }): SampleMesh {
  const positions: number[] = [];
  for (let i = 0; i < 8; i++) positions.push((i & 1) * size.x, ((i >> 1) & 1) * size.y, (i >> 2) * size.z);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return { positions: Float64Array.from(positions), faces: Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])) };
}
