import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { borderEdges, borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { forEachClosePair } from '../../src/plane/segment-grid.ts';
import { segmentsMeet } from '../../src/plane/predicates.ts';
import { lift, planeDisc, range, slitDiscPatch, triangulateRegion } from '../support/flat-shapes.ts';

/** A strip of 2 × n squares; its plane positions are given by a map of (along 0…1, across 0…1). */
function strip(n: number, place: (u: number, v: number) => readonly [number, number]): { mesh: HalfEdgeMesh; plane: Float64Array } {
  const at = (i: number, j: number): number => 2 * i + j;
  const faces = range(n).flatMap((i) => [at(i, 0), at(i + 1, 0), at(i + 1, 1), at(i, 0), at(i + 1, 1), at(i, 1)]);
  const points = range(n + 1).flatMap((i) => [place(i / n, 0), place(i / n, 1)]);
  const positions = Float64Array.from(points.flatMap(([x, y]) => [x, y, 0]));
  return { mesh: buildMesh(positions, Uint32Array.from(faces)), plane: Float64Array.from(points.flat()) };
}

const ring =
  (turns: number, width: number) =>
  (u: number, v: number): [number, number] => {
    const angle = -2 * Math.PI * turns * u;
    return [(1 + width * v) * Math.cos(angle), (1 + width * v) * Math.sin(angle)];
  };

describe('flippedFaces', () => {
  it('finds faces that are turned over or flat, exactly [closed form]', () => {
    const { mesh, plane } = strip(3, (u, v) => [u, v]);
    expect(flippedFaces(mesh, plane)).toEqual([]);
    const folded = Float64Array.from(plane);
    folded[12] = 0.5;
    folded[14] = 0.5;
    expect(flippedFaces(mesh, folded)).toEqual([4, 5]);
    const flat = Float64Array.from(plane);
    flat[1] = flat[5];
    flat[3] = flat[5];
    expect(flippedFaces(mesh, flat)).toContain(1);
    expect(
      flippedFaces(
        mesh,
        plane.map((x, k) => (k % 2 === 0 ? -x : x)),
      ).length,
    ).toBe(6);
  });
});

describe('borderOverlaps', () => {
  it('counts nothing on a disc, a strip bent to three quarters and a ring [closed form]', () => {
    const disc = planeDisc(200);
    expect(
      borderOverlaps(
        lift(disc, (x, y) => [x, y, 0]),
        disc.points,
      ).count,
    ).toBe(0);
    const bent = strip(60, ring(0.75, 0.3));
    expect([flippedFaces(bent.mesh, bent.plane).length, borderOverlaps(bent.mesh, bent.plane).count]).toEqual([0, 0]);
    const hole = range(20).map((i) => [0.3 * Math.cos((i * Math.PI) / 10), 0.3 * Math.sin((i * Math.PI) / 10)] as const);
    const rim = range(60).map((i) => [Math.cos((i * Math.PI) / 30), Math.sin((i * Math.PI) / 30)] as const);
    const plane = triangulateRegion([...rim, ...hole], (x, y) => Math.hypot(x, y) < 1 && Math.hypot(x, y) > 0.295, 0.1);
    expect(
      borderOverlaps(
        lift(plane, (x, y) => [x, y, 0]),
        plane.points,
      ).count,
    ).toBe(0);
  });

  it('sees a strip that runs over itself, and names edges of both stretches [closed form]', () => {
    const { mesh, plane } = strip(80, (u, v) => {
      const [x, y] = ring(1.2, 0.3)(u, v);
      return [x + 0.4 * u, y];
    });
    expect(flippedFaces(mesh, plane)).toEqual([]);
    const report = borderOverlaps(mesh, plane);
    expect(report.count).toBeGreaterThan(1);
    const faces = Array.from(report.pairs, (h) => Math.floor(h / 6));
    expect(Math.max(...faces) - Math.min(...faces)).toBeGreaterThan(40);
  });

  it('sees a strip wound twice exactly over itself, where edges only touch [closed form]', () => {
    const { mesh, plane } = strip(80, ring(2, 0.3));
    expect(borderOverlaps(mesh, plane).count).toBeGreaterThan(0);
  });

  it('lets the legs of a cut lie on each other, also where rounding makes them cross [closed form]', () => {
    const { mesh } = slitDiscPatch((x, y) => [50 * x, 50 * y, 0], 0.2, 0.1).patch;
    const plane = Float64Array.from({ length: (mesh.positions.length / 3) * 2 }, (_, k) => mesh.positions[3 * Math.floor(k / 2) + (k % 2)]);
    expect(borderOverlaps(mesh, plane).count).toBe(0);
    const random = createRandom(4);
    const shaken = plane.map((x) => x + 1e-13 * (random() - 0.5));
    expect(borderOverlaps(mesh, shaken).count).toBe(0);
    // One leg 0.1 mm over the other is an overlap.
    const over = plane.map((x, k) => (k % 2 === 1 && k / 2 >= mesh.positions.length / 3 - 8 ? x + 0.1 : x));
    expect(borderOverlaps(mesh, over).count).toBeGreaterThan(0);
  });

  it('sees a border inside the hole of another, or a hole that runs the wrong way [closed form]', () => {
    const { mesh, plane } = twoRings(0.3, 1);
    expect(borderOverlaps(mesh, plane).count).toBe(0);
    // The hole put outside of the ring: no edges cross, but the hole no longer lies inside.
    const outside = plane.map((x, k) => (Math.hypot(plane[k - (k % 2)], plane[k - (k % 2) + 1]) < 0.5 && k % 2 === 0 ? x + 3 : x));
    expect(borderOverlaps(mesh, outside).count).toBeGreaterThan(0);
  });
});

describe('forEachClosePair', () => {
  it('visits exactly the pairs whose boxes meet, each once [second route]', () => {
    for (const seed of [1, 2, 3]) {
      const random = createRandom(seed);
      const ends = Float64Array.from({ length: 400 }, () => random() * 10);
      for (let i = 0; i < ends.length; i += 4)
        if (i % 12 !== 0) for (let k = 0; k < 2; k++) ends[i + 2 + k] = ends[i + k] + (random() - 0.5);
      const margin = seed === 3 ? 0.4 : 0;
      const seen = new Map<string, number>();
      forEachClosePair(ends, margin, (e, g) => seen.set(`${e} ${g}`, (seen.get(`${e} ${g}`) ?? 0) + 1));
      const box = (e: number, k: number): [number, number] => [
        Math.min(ends[4 * e + k], ends[4 * e + 2 + k]) - margin / 2,
        Math.max(ends[4 * e + k], ends[4 * e + 2 + k]) + margin / 2,
      ];
      let expected = 0;
      for (let e = 0; e < 100; e++)
        for (let g = e + 1; g < 100; g++) {
          const isNear = [0, 1].every((k) => box(e, k)[0] <= box(g, k)[1] && box(g, k)[0] <= box(e, k)[1]);
          if (isNear) expected++;
          expect(seen.get(`${e} ${g}`) ?? 0).toBe(isNear ? 1 : 0);
        }
      expect(seen.size).toBe(expected);
    }
  });
});

describe('borderEdges', () => {
  it('crossings of random border polygons are those of all pairs [second route]', () => {
    for (const seed of [1, 2, 3, 4]) {
      const random = createRandom(seed);
      const { mesh, plane } = strip(20, () => [random(), random()]);
      const edges = borderEdges(mesh, plane);
      let crossings = 0;
      for (let e = 0; e < edges.halfEdge.length; e++)
        for (let g = e + 1; g < edges.halfEdge.length; g++) {
          const [a, b] = [edges.vertices.slice(2 * e, 2 * e + 2), edges.vertices.slice(2 * g, 2 * g + 2)];
          if (a.some((v) => b.includes(v))) continue;
          const [p, q] = [edges.ends.slice(4 * e, 4 * e + 4), edges.ends.slice(4 * g, 4 * g + 4)];
          if (segmentsMeet(p[0], p[1], p[2], p[3], q[0], q[1], q[2], q[3])) crossings++;
        }
      expect(borderOverlaps(mesh, plane).count).toBe(crossings);
    }
  });
});

function twoRings(inner: number, outer: number): { mesh: HalfEdgeMesh; plane: Float64Array } {
  const n = 24;
  const points = [inner, outer].flatMap((radius) =>
    range(n).map((i) => [radius * Math.cos((2 * Math.PI * i) / n), radius * Math.sin((2 * Math.PI * i) / n)]),
  );
  const faces = range(n).flatMap((i) => [i, n + i, n + ((i + 1) % n), i, n + ((i + 1) % n), (i + 1) % n]);
  return {
    mesh: buildMesh(Float64Array.from(points.flatMap(([x, y]) => [x, y, 0])), Uint32Array.from(faces)),
    plane: Float64Array.from(points.flat()),
  };
}
