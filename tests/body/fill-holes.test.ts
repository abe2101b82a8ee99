/*
 * fill-holes.ts, hole-triangles.ts, holes.ts and fair.ts.
 */
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { fairVertices, vertexStencils } from '../../src/body/fair.ts';
import { fillHoles } from '../../src/body/fill-holes.ts';
import { closeBorder } from '../../src/body/hole-triangles.ts';
import { listBorders } from '../../src/body/holes.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { faceAreas } from '../../src/mesh/measure.ts';
import { boundaryLoops, eulerCharacteristic } from '../../src/mesh/navigate.ts';
import type { Shape } from '../support/shapes.ts';
import { cylinder, grid, moved, ringSurface, sphere } from '../support/shapes.ts';

const meshOf = (shape: Shape): HalfEdgeMesh => buildMesh(shape.positions, shape.faces);

/** The shape without the faces that have a corner where `isGone` says so. */
function without(shape: Shape, isGone: (x: number, y: number, z: number) => boolean): Shape {
  const p = shape.positions;
  const gone = (v: number): boolean => isGone(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  const faces: number[] = [];
  for (let f = 0; f < shape.faces.length; f += 3) {
    const corners = [...shape.faces.slice(f, f + 3)];
    if (!corners.some(gone)) faces.push(...corners);
  }
  const used = new Map<number, number>();
  for (const v of faces) if (!used.has(v)) used.set(v, used.size);
  return {
    positions: Float64Array.from([...used.keys()].flatMap((v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]])),
    faces: Uint32Array.from(faces, (v) => used.get(v) ?? 0),
  };
}

describe('closeBorder', () => {
  const flat = (n: number): Float64Array =>
    Float64Array.from(
      Array.from({ length: n }, (_, i) => {
        const angle = (2 * Math.PI * i) / n;
        const r = i % 2 === 0 ? 50 : 35;
        return [r * Math.cos(angle), -r * Math.sin(angle), 0];
      }).flat(),
    );

  it('covers flat borders of any length once, without a fold [closed form: area of the polygon]', () => {
    for (const n of [3, 4, 7, 40, 119, 121, 500]) {
      const border = flat(n);
      const middle = Float64Array.from(border, (x) => 2 * x);
      const triangles = closeBorder(border, middle);
      expect(triangles.length, `n ${n}`).toBe(3 * (n - 2));
      const area = faceAreas({ positions: border, faces: Uint32Array.from(triangles) }).reduce((sum, a) => sum + a, 0);
      let twice = 0;
      for (let i = 0; i < n; i++) {
        const j = (i + 1) % n;
        twice += border[3 * i] * border[3 * j + 1] - border[3 * j] * border[3 * i + 1];
      }
      expect(Math.abs(area / (Math.abs(twice) / 2) - 1), `n ${n}`).toBeLessThan(1e-9);
    }
  });

  it('uses each border edge once, against the border, and every other edge twice [invariant]', () => {
    const triangles = closeBorder(
      flat(200),
      Float64Array.from(flat(200), (x) => 2 * x),
    );
    const edges = new Map<string, number>();
    triangles.forEach((v, h) => {
      const w = triangles[h % 3 === 2 ? h - 2 : h + 1];
      edges.set(`${v} ${w}`, (edges.get(`${v} ${w}`) ?? 0) + 1);
    });
    for (let i = 0; i < 200; i++) expect(edges.get(`${(i + 1) % 200} ${i}`)).toBe(1);
    for (const [key, count] of edges) {
      const [v, w] = key.split(' ').map(Number);
      expect(count).toBe(1);
      if ((w + 1) % 200 !== v) expect(edges.get(`${w} ${v}`)).toBe(1);
    }
  });
});

describe('fillHoles', () => {
  it('gives a sphere its cap back within a twentieth of the hole [closed form: distance from the centre]', async () => {
    for (const size of [15, 40]) {
      const ball = sphere(100, 5);
      const mesh = meshOf(without(ball, (x, y, z) => Math.hypot(x, y) < size && z > 0));
      const before = mesh.positions.length;
      const { triangles, filled, addedFaces } = await fillHoles(mesh, boundaryLoops(mesh), quietRun);
      expect(filled).toBe(1);
      expect(eulerCharacteristic(buildMesh(triangles.positions, triangles.faces))).toBe(2);
      expect(addedFaces).toBe((triangles.faces.length - mesh.faces.length) / 3);
      let worst = 0;
      for (let i = before; i < triangles.positions.length; i += 3) {
        worst = Math.max(worst, Math.abs(Math.hypot(...triangles.positions.slice(i, i + 3)) - 100));
      }
      expect(triangles.positions.length).toBeGreaterThan(before);
      expect(worst, `size ${size}`).toBeLessThan((2 * size) / 20);
      // Old vertices and faces are where they were.
      expect([...triangles.positions.slice(0, before)]).toEqual([...mesh.positions]);
      expect([...triangles.faces.slice(0, mesh.faces.length)]).toEqual([...mesh.faces]);
    }
  });

  it('closes a flat hole flat, with triangles of the size around it [closed form: plane]', async () => {
    const sheet = without(grid(200, 200, 50, 50), (x, y) => Math.hypot(x - 100, y - 100) < 30);
    const mesh = meshOf(sheet);
    const [, hole] = boundaryLoops(mesh);
    const { triangles } = await fillHoles(mesh, [hole], quietRun);
    for (let i = 2; i < triangles.positions.length; i += 3) expect(triangles.positions[i]).toBeCloseTo(0, 9);
    const area = faceAreas(triangles).reduce((sum, a) => sum + a, 0);
    expect(area).toBeCloseTo(40_000, 6);
    const added = faceAreas(triangles).slice(mesh.faces.length / 3);
    expect(added.length).toBeGreaterThan(200);
    expect(Math.max(...added)).toBeLessThan(5 * 8);
  });

  it('bridges a hole around a corner of a tube [invariant: closed, no face on the wrong side]', async () => {
    const tube = cylinder(60, 200, 90, 50, true);
    const mesh = meshOf(without(tube, (x, y) => x > 0 && Math.abs(y - 100) < 45));
    const { triangles } = await fillHoles(mesh, boundaryLoops(mesh), quietRun);
    const filled = buildMesh(triangles.positions, triangles.faces);
    expect(eulerCharacteristic(filled)).toBe(2);
    for (let i = mesh.positions.length; i < triangles.positions.length; i += 3) {
      const r = Math.hypot(triangles.positions[i], triangles.positions[i + 2]);
      // A fair surface bulges less or more than the tube, by less than a tenth of the hole's 120 mm.
      expect(Math.abs(r - 60)).toBeLessThan(12);
    }
  });
});

describe('fairVertices', () => {
  it('leaves linear functions alone: a moved vertex of a flat sheet returns to it [closed form]', () => {
    const sheet = grid(100, 100, 20, 20);
    const bent = moved(sheet, (x, y, z) => [x, y, Math.hypot(x - 50, y - 50) < 18 ? 7 : z]);
    const isFree = Uint8Array.from({ length: 441 }, (_, v) =>
      Math.hypot(sheet.positions[3 * v] - 50, sheet.positions[3 * v + 1] - 50) < 25 ? 1 : 0,
    );
    const fair = fairVertices(meshOf(bent), isFree, 4);
    for (let v = 0; v < 441; v++) expect(Math.abs(fair[3 * v + 2])).toBeLessThan(isFree[v] === 1 ? 1e-6 : 1e-12);
  });

  it('is the minimum of the bending energy: any small move raises it [second route]', () => {
    const bowl = moved(grid(100, 100, 12, 12), (x, y) => [x, y, ((x - 50) ** 2 - (y - 50) ** 2) / 60]);
    const mesh = meshOf(bowl);
    const isFree = Uint8Array.from({ length: 169 }, (_, v) =>
      Math.hypot(bowl.positions[3 * v] - 50, bowl.positions[3 * v + 1] - 50) < 30 ? 1 : 0,
    );
    const fair = fairVertices(mesh, isFree, 1);
    const { start, neighbour, weight, mass } = vertexStencils(mesh, mesh.positions);
    const energy = (x: Float64Array): number => {
      let sum = 0;
      for (let v = 0; v < 169; v++)
        for (let k = 0; k < 3; k++) {
          let row = 0;
          for (let q = start[v]; q < start[v + 1]; q++) row += weight[q] * (x[3 * neighbour[q] + k] - x[3 * v + k]);
          sum += (row * row) / mass[v];
        }
      return sum;
    };
    const least = energy(fair);
    for (let v = 0; v < 169; v++) {
      if (isFree[v] === 0) continue;
      for (const step of [0.01, -0.01]) {
        const other = Float64Array.from(fair);
        other[3 * v + 2] += step;
        expect(energy(other)).toBeGreaterThan(least);
      }
    }
  });
});

describe('listBorders', () => {
  it('tells holes from the openings of neck, waist and arm [table of shapes]', () => {
    // A trunk of half an ellipse's girth, open above (neck 360 mm) and below (waist 750 mm).
    const trunk = ringSurface(
      Array.from({ length: 61 }, (_, r) => {
        const y = 10 * r;
        const radius = y < 450 ? 120 : 120 - 63 * ((y - 450) / 150) ** 0.7;
        return Array.from({ length: 96 }, (_, i) => {
          const angle = (2 * Math.PI * i) / 96;
          return [radius * Math.cos(angle), y, -radius * Math.sin(angle)] as const;
        });
      }),
      false,
    );
    const kinds = (shape: Shape): string[] => listBorders(meshOf(shape), 'y').map((border) => border.kind);
    expect(kinds(trunk)).toEqual(['waist', 'neck']);
    const holed = without(trunk, (x, y, z) => Math.hypot(y - 250, z) < 40 && x > 0);
    expect(kinds(holed)).toEqual(['waist', 'neck', 'hole']);
    // An arm cut off by a plane beside a wide trunk with rounded sides.
    const armless = without(sphere(150, 5), (x) => x > 110);
    expect(kinds(armless)).toEqual(['hole']);
    const sleeve = moved(cylinder(50, 200, 60, 20, false), (x, y, z) => [y, x, z]);
    expect(kinds(sleeve)).toEqual(['arm', 'arm']);
    expect(kinds(grid(200, 200, 20, 20))).toEqual(['rim']);
  });

  it('measures length and width of a border [closed form: circle]', () => {
    const [first] = listBorders(meshOf(cylinder(60, 200, 180, 10, false)), 'y');
    expect(first.lengthMm).toBeCloseTo(2 * 180 * 60 * Math.sin(Math.PI / 180), 6);
    expect(first.diameterMm).toBeCloseTo(120, 6);
  });
});
