/*
 * Handbook developments: polyhedra whose strips between generators are flat come out exactly (σ = 1); their outlines tend to the smooth ones.
 */
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { bestRatio } from '../../src/flatten/best-possible.ts';
import { planeArea, rigidEnergy, faceDistortion } from '../../src/flatten/distortion.ts';
import { methodOf } from '../../src/flatten/index.ts';
import { prepareRigid, rigidSteps } from '../../src/flatten/as-rigid.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { boundaryLoops } from '../../src/mesh/navigate.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { coneMesh, cylinderMesh, lift, planeDisc, range, ruledStrips, slitDiscPatch } from '../support/flat-shapes.ts';
import { isometryError } from '../support/laws.ts';

type Point = [number, number, number];
const degrees = Math.PI / 180;
const smooth = 5e-4;

/** All vertices whose surface point satisfies a test, with their plane positions. */
function where(mesh: HalfEdgeMesh, plane: Float64Array, test: (x: number, y: number, z: number) => boolean): [number, number][] {
  return range(mesh.positions.length / 3)
    .filter((v) => test(mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]))
    .map((v) => [plane[2 * v], plane[2 * v + 1]]);
}

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);

/** Length of the border of a map along the half-edges whose two ends satisfy a test in space. */
function borderLength(mesh: HalfEdgeMesh, plane: Float64Array, test: (x: number, y: number, z: number) => boolean): number {
  let length = 0;
  for (const loop of boundaryLoops(mesh))
    for (const h of loop) {
      const ends = [mesh.faces[h], mesh.faces[h % 3 === 2 ? h - 2 : h + 1]];
      if (!ends.every((v) => test(mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]))) continue;
      length += Math.hypot(plane[2 * ends[0]] - plane[2 * ends[1]], plane[2 * ends[0] + 1] - plane[2 * ends[1] + 1]);
    }
  return length;
}

/** Angle at `tip` over the plane polyline of points that follow each other at one distance round it. */
function fanAngle(tip: readonly number[], points: readonly (readonly number[])[]): number {
  let angle = 0;
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i], points[i + 1]].map((p) => [p[0] - tip[0], p[1] - tip[1]]);
    angle += Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
  }
  return Math.abs(angle);
}

async function flat(mesh: HalfEdgeMesh, name = 'shape'): Promise<Float64Array> {
  const map = await methodOf(name).flatten(mesh, {}, quietRun);
  expect(map.converged).toBe(true);
  expect(flippedFaces(mesh, map.positions)).toEqual([]);
  return Float64Array.from(map.positions);
}

/** A cone slit along a generator, from rim to its tip. */
const wholeCone = (radius: number, height: number, segments: number): HalfEdgeMesh => coneMesh(radius, 0, height, segments, 3);

describe('exactly developable polyhedra', () => {
  const bodies: readonly (readonly [string, HalfEdgeMesh])[] = [
    ['plane', lift(planeDisc(150), (x, y) => [30 * x, 20 * y, 7])],
    ['cylinder R50 H100', cylinderMesh(50, 100, 1.7 * Math.PI, 60, 6)],
    ['cone r60 h80', wholeCone(60, 80, 48)],
    ['frustum', coneMesh(4, 2.5, 4, 40, 3)],
    ['oblique cone', obliqueCone(60)],
  ];
  it.each(bodies)('%s: σ₁ = σ₂ = 1 to 1e-6 by every method [closed form]', async (_, mesh) => {
    for (const name of ['conformal', 'spectral', 'shape', 'least-worst'])
      expect(isometryError(mesh, await flat(mesh, name))).toBeLessThan(1e-6);
    expect(bestRatio(mesh)).toBeLessThan(1 + 1e-9);
  });

  it('as-rigid energy of a cylinder falls below 1e-12 of its area on any triangulation [closed form]', async () => {
    for (const seed of [1, 2, 3]) {
      const mesh = cylinderMesh(50, 100, 1.9 * Math.PI, 40, 5, seed);
      const system = await prepareRigid(mesh, quietRun);
      const start = (await methodOf('conformal').flatten(mesh, {}, quietRun)).positions;
      const result = await rigidSteps(system, start, 50, 0, quietRun);
      expect(rigidEnergy(faceDistortion(mesh, result.positions)) / surfaceArea(mesh)).toBeLessThan(1e-12);
    }
  });
});

describe('developments', () => {
  it('cylinder R50 H100: 314.159 × 100 [closed form]', async () => {
    const mesh = cylinderMesh(50, 100, 2 * Math.PI - 1e-9, 120, 4);
    const plane = await flat(mesh);
    expect(
      relative(
        borderLength(mesh, plane, (_x, _y, z) => z === 0),
        100 * Math.PI,
      ),
    ).toBeLessThan(smooth);
    expect(
      relative(
        borderLength(mesh, plane, (_x, _y, z) => z === 100),
        100 * Math.PI,
      ),
    ).toBeLessThan(smooth);
    expect(relative(planeArea(mesh, plane), 31415.927)).toBeLessThan(smooth);
  });

  it('cone r60 h80: sector of 100 over 216°, area 18,849.556 [closed form]', async () => {
    const mesh = wholeCone(60, 80, 180);
    const plane = await flat(mesh);
    const [tip] = where(mesh, plane, (_x, _y, z) => z === 80);
    for (const point of where(mesh, plane, (_x, _y, z) => z === 0)) expect(relative(distance(tip, point), 100)).toBeLessThan(1e-9);
    expect(relative(borderLength(mesh, plane, (_x, _y, z) => z === 0) / 100, 216 * degrees)).toBeLessThan(smooth);
    expect(relative(planeArea(mesh, plane), 18849.556)).toBeLessThan(smooth);
  });

  it('cone of 90° at its apex: 254.6° [closed form]', async () => {
    const mesh = wholeCone(50, 50, 180);
    const plane = await flat(mesh);
    expect(relative(borderLength(mesh, plane, (_x, _y, z) => z === 0) / (50 * Math.SQRT2), 254.558 * degrees)).toBeLessThan(smooth);
  });

  it('frustum of diameters 5 and 8, height 4: radii 7.12 and 11.39 over 126.4° [closed form]', async () => {
    const mesh = coneMesh(4, 2.5, 4, 180, 2);
    const plane = await flat(mesh);
    const slant = Math.hypot(4, 1.5);
    const outer = borderLength(mesh, plane, (_x, _y, z) => z === 0);
    const inner = borderLength(mesh, plane, (_x, _y, z) => z === 4);
    const angle = (outer - inner) / slant;
    expect(relative(angle, 126.4 * degrees)).toBeLessThan(smooth);
    expect(relative(inner / angle, 7.12)).toBeLessThan(smooth);
    expect(relative(outer / angle, 11.39)).toBeLessThan(smooth);
  });

  it('cylinder R50 cut at 30°: edge y = 28.868 cos(x/50), 338.896 long [closed form]', async () => {
    const count = 180;
    const ring = (z: (angle: number) => number): Point[] =>
      range(count + 1).map((i) => [
        50 * Math.cos((2 * Math.PI * i) / count),
        50 * Math.sin((2 * Math.PI * i) / count),
        z((2 * Math.PI * i) / count),
      ]);
    const mesh = ruledStrips(
      ring(() => -60),
      ring((angle) => 50 * Math.tan(30 * degrees) * Math.cos(angle)),
      3,
    );
    const plane = await flat(mesh);
    expect(isometryError(mesh, plane)).toBeLessThan(1e-6);
    const isTop = (x: number, _y: number, z: number): boolean => Math.abs(z - x * Math.tan(30 * degrees)) < 1e-9;
    expect(relative(borderLength(mesh, plane, isTop), 338.896)).toBeLessThan(smooth);
    // Heights over the straight base edge, developed: the cosine.
    const base = where(mesh, plane, (_x, _y, z) => z === -60);
    const [a, b] = farthestTwo(base);
    for (const v of range(mesh.positions.length / 3)) {
      const [x, y, z] = mesh.positions.slice(3 * v, 3 * v + 3);
      if (!isTop(x, y, z)) continue;
      const height = Math.abs((b[0] - a[0]) * (plane[2 * v + 1] - a[1]) - (b[1] - a[1]) * (plane[2 * v] - a[0])) / distance(a, b);
      expect(Math.abs(height - 60 - 28.868 * (x / 50))).toBeLessThan(1e-3);
    }
  });

  it('tee of r40 into R50: edge y = √(50² − 40² sin²φ), 20.000 deep [closed form]', async () => {
    const count = 180;
    const height = (angle: number): number => Math.sqrt(2500 - 1600 * Math.sin(angle) ** 2);
    const ring = (z: (angle: number) => number): Point[] =>
      range(count + 1).map((i) => [
        40 * Math.cos((2 * Math.PI * i) / count),
        40 * Math.sin((2 * Math.PI * i) / count),
        z((2 * Math.PI * i) / count),
      ]);
    const mesh = ruledStrips(
      ring(height),
      ring(() => 90),
      3,
    );
    const plane = await flat(mesh);
    const [a, b] = farthestTwo(where(mesh, plane, (_x, _y, z) => z === 90));
    const reach = range(mesh.positions.length / 3)
      .filter((v) => Math.abs(mesh.positions[3 * v + 2] - height(Math.atan2(mesh.positions[3 * v + 1], mesh.positions[3 * v]))) < 1e-9)
      .map((v) => Math.abs((b[0] - a[0]) * (plane[2 * v + 1] - a[1]) - (b[1] - a[1]) * (plane[2 * v] - a[0])) / distance(a, b));
    expect(Math.abs(Math.max(...reach) - Math.min(...reach) - 20)).toBeLessThan(1e-6);
    expect(
      relative(
        borderLength(mesh, plane, (_x, _y, z) => z === 90),
        80 * Math.PI,
      ),
    ).toBeLessThan(smooth);
  });

  it('oblique cone h100 r50, apex 60 aside: generators 100.499 to 148.661, apex angle 136.954°, area 18,568.392 [closed form]', async () => {
    const mesh = obliqueCone(360);
    const plane = await flat(mesh);
    const [tip] = where(mesh, plane, (_x, _y, z) => z === 100);
    const rim = range(mesh.positions.length / 3).filter((v) => mesh.positions[3 * v + 2] === 0);
    const generators = rim.map((v) => distance(tip, [plane[2 * v], plane[2 * v + 1]]));
    expect(relative(Math.min(...generators), 100.499)).toBeLessThan(1e-5);
    expect(relative(Math.max(...generators), 148.661)).toBeLessThan(1e-5);
    expect(relative(planeArea(mesh, plane), 18568.392)).toBeLessThan(smooth);
    expect(
      relative(
        fanAngle(
          tip,
          inBorderOrder(mesh, rim).map((v) => [plane[2 * v], plane[2 * v + 1]]),
        ),
        136.954 * degrees,
      ),
    ).toBeLessThan(smooth);
  });

  it('tangent surface of the helix r30 c20: its edge becomes a circle of radius 43.3333 [closed form]', async () => {
    const mesh = helixTangents(30, 20, 161, 6);
    const plane = await flat(mesh);
    const edge = range(mesh.positions.length / 3)
      .filter((v) => Math.abs(Math.hypot(mesh.positions[3 * v], mesh.positions[3 * v + 1]) - 30) < 1e-9)
      .sort((v, w) => mesh.positions[3 * v + 2] - mesh.positions[3 * w + 2]);
    // Radius of the circle through three points of the edge, far apart.
    const [p, q, r] = [edge[0], edge[80], edge[160]].map((v) => [plane[2 * v], plane[2 * v + 1]]);
    const area = Math.abs((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / 2;
    expect(relative((distance(p, q) * distance(q, r) * distance(r, p)) / (4 * area), 43.33333)).toBeLessThan(smooth);
  });

  it('disc with a wedge δ taken out closes to a cone of r = R(1 − δ/2π) and lies flat again as that disc [closed form]', async () => {
    const wedge = 1.1;
    const radius = 80 * (1 - wedge / (2 * Math.PI));
    const mesh = wholeCone(radius, Math.sqrt(6400 - radius * radius), 180);
    const plane = await flat(mesh);
    const [tip] = where(mesh, plane, (_x, _y, z) => z > 0.999999 * Math.sqrt(6400 - radius * radius));
    const rim = range(mesh.positions.length / 3).filter((v) => mesh.positions[3 * v + 2] === 0);
    expect(
      Math.abs(
        2 * Math.PI -
          fanAngle(
            tip,
            inBorderOrder(mesh, rim).map((v) => [plane[2 * v], plane[2 * v + 1]]),
          ) -
          wedge,
      ),
    ).toBeLessThan(5e-4 * 2 * Math.PI);
  });

  it('bent gores of a sphere: length πR, widths (2πR/N) cos φ, areas sum to 4πR², edges as the elliptic integral says [closed form]', async () => {
    for (const [n, edge] of [
      [4, 1.139839],
      [6, 1.065367],
      [8, 1.037505],
      [12, 1.016921],
      [16, 1.00957],
    ] as const) {
      const mesh = bentGore(100, n, 120);
      const plane = await flat(mesh);
      expect(isometryError(mesh, plane)).toBeLessThan(1e-6);
      expect(relative(planeArea(mesh, plane) * n, 4 * Math.PI * 10000)).toBeLessThan(smooth);
      const tips = where(mesh, plane, (_x, _y, z) => Math.abs(Math.abs(z) - 100) < 1e-9);
      expect(relative(distance(tips[0], tips[1]), 100 * Math.PI)).toBeLessThan(smooth);
      expect(relative(borderLength(mesh, plane, () => true) / 2 / (100 * Math.PI), edge)).toBeLessThan(smooth);
    }
  });

  it('outlines of the polyhedra tend to the smooth ones as h² [closed form]', async () => {
    const errors: number[] = [];
    for (const count of [20, 40, 80]) {
      const mesh = cylinderMesh(50, 40, Math.PI, count, 2);
      errors.push(Math.abs(borderLength(mesh, await flat(mesh), (_x, _y, z) => z === 0) - 50 * Math.PI));
    }
    expect(errors[0] / errors[1]).toBeGreaterThan(3.9);
    expect(errors[1] / errors[2]).toBeGreaterThan(3.9);
  });

  it('a slit in a plane piece lies flat with its legs on each other and counts no overlap [closed form]', async () => {
    const { mesh } = slitDiscPatch((x, y) => [50 * x, 50 * y, 0], 0.2, 0.12).patch;
    expect(borderOverlaps(mesh, await flat(mesh)).count).toBe(0);
  });
});

/**
 * The surface of the lines through neighbouring points of a helix, 40 beyond: lines j and j + 1 meet in point j + 1, so each strip is flat.
 */
function helixTangents(radius: number, climb: number, count: number, rows: number): HalfEdgeMesh {
  const points = range(count + 1).map((i): Point => [
    radius * Math.cos((3 * i) / count),
    radius * Math.sin((3 * i) / count),
    (climb * 3 * i) / count,
  ]);
  const positions: number[] = points[0].slice();
  // Line j: point j + 1 first, then its rows.
  for (let j = 0; j < count; j++) {
    const along = points[j + 1].map((x, k) => x - points[j][k]);
    const length = Math.hypot(...along);
    for (let r = 0; r <= rows; r++) for (let k = 0; k < 3; k++) positions.push(points[j + 1][k] + (along[k] / length) * ((40 * r) / rows));
  }
  const line = (j: number, r: number): number => 1 + j * (rows + 1) + r;
  const faces: number[] = [];
  for (let j = 1; j < count; j++) {
    faces.push(line(j - 1, 0), line(j, 0), line(j - 1, 1));
    for (let r = 1; r <= rows; r++) {
      faces.push(line(j - 1, r), line(j, r - 1), line(j, r));
      if (r < rows) faces.push(line(j - 1, r), line(j, r), line(j - 1, r + 1));
    }
  }
  // Point 0 belongs to no strip: leave it out.
  return buildMesh(
    Float64Array.from(positions.slice(3)),
    Uint32Array.from(faces, (v) => v - 1),
  );
}

/** Cone over a circle of radius 50 at z = 0 with its apex at height 100, 60 beside the centre, slit along the longest generator's opposite. */
function obliqueCone(count: number): HalfEdgeMesh {
  const rim = range(count + 1).map((i): Point => [50 * Math.cos((2 * Math.PI * i) / count), 50 * Math.sin((2 * Math.PI * i) / count), 0]);
  return ruledStrips(
    rim,
    rim.map((): Point => [60, 0, 100]),
    3,
  );
}

/** A gore that bends one way only: straight across, half-width (πR/N) cos φ along the meridian. */
function bentGore(radius: number, n: number, count: number): HalfEdgeMesh {
  const side = (sign: number): Point[] =>
    range(count + 1).map((i) => {
      const latitude = -Math.PI / 2 + (Math.PI * i) / count;
      const half = i === 0 || i === count ? 0 : ((Math.PI * radius) / n) * Math.cos(latitude);
      return [i === 0 || i === count ? 0 : radius * Math.cos(latitude), sign * half, radius * Math.sin(latitude)];
    });
  return ruledStrips(side(-1), side(1), 4);
}

function farthestTwo(points: readonly [number, number][]): [[number, number], [number, number]] {
  let best: [[number, number], [number, number]] = [points[0], points[0]];
  for (const a of points) for (const b of points) if (distance(a, b) > distance(...best)) best = [a, b];
  return best;
}

/** Vertices of a set in border order, starting where the set starts. */
function inBorderOrder(mesh: HalfEdgeMesh, set: readonly number[]): number[] {
  const order = Array.from(boundaryLoops(mesh)[0], (h) => mesh.faces[h]);
  const start = order.findIndex((v, i) => set.includes(v) && !set.includes(order[(i + order.length - 1) % order.length]));
  return [...order.slice(start), ...order.slice(0, start)].filter((v) => set.includes(v));
}
