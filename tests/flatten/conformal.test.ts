import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { conformal, conformalForm, conformalMap, conformalMatrix } from '../../src/flatten/conformal.ts';
import { conformalEnergy, faceDistortion, planeArea } from '../../src/flatten/distortion.ts';
import { flippedFaces } from '../../src/flatten/overlap.ts';
import { farthestBoundaryPair } from '../../src/flatten/pins.ts';
import { solveDense } from '../../src/linalg/dense.ts';
import { multiply } from '../../src/linalg/sparse.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { edgePattern, halfCotangents } from '../../src/mesh/cotangent.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { capMesh, lift, onSphere, planeDisc, triangulatePoints, triangulateRegion } from '../support/flat-shapes.ts';
import { energyByTwoRoutes, largestDistance, leastConformalChange, similarityError } from '../support/laws.ts';
import { hasReference, referenceMap, referenceMesh } from '../support/reference.ts';
import { createRandom } from '../../src/base/random.ts';

const bumpy = (seed: number): HalfEdgeMesh => lift(planeDisc(300, seed), (x, y) => [80 * x, 80 * y, 30 * Math.cos(3 * x) + 20 * x * y]);

describe('conformalMatrix', () => {
  it('gives ½ zᴴ K z = ½ Σ A (σ₁ − σ₂)² for any map, flipped faces too [second route]', () => {
    const mesh = bumpy(3);
    const random = createRandom(5);
    const plane = Float64Array.from({ length: (mesh.positions.length / 3) * 2 }, () => 100 * random());
    const pattern = edgePattern(mesh, mesh.positions.length / 3, []);
    const real = Float64Array.from({ length: pattern.size }, (_, i) => plane[2 * pattern.unknownVertex[i]]);
    const imaginary = Float64Array.from({ length: pattern.size }, (_, i) => plane[2 * pattern.unknownVertex[i] + 1]);
    const product = multiply(conformalMatrix(mesh, pattern, halfCotangents(mesh)), { real, imaginary });
    const form = 0.5 * real.reduce((sum, x, i) => sum + x * product.real[i] + imaginary[i] * product.imaginary[i], 0);
    const energy = conformalEnergy(faceDistortion(mesh, plane));
    expect(Math.abs(form / energy - 1)).toBeLessThan(1e-12);
    expect(Math.abs(conformalForm(mesh, halfCotangents(mesh), plane) / energy - 1)).toBeLessThan(1e-12);
  });

  it('is 0 on a similarity of a plane piece and 2·area on its mirror image [closed form]', () => {
    const disc = planeDisc(200, 2);
    const mesh = lift(disc, (x, y) => [x, y, 0]);
    const area = surfaceArea(mesh);
    const turned = Float64Array.from(disc.points, (_, k) => (k % 2 === 0 ? -disc.points[k + 1] + 7 : disc.points[k - 1]));
    const mirrored = Float64Array.from(disc.points, (value, k) => (k % 2 === 0 ? -value : value));
    expect(Math.abs(conformalForm(mesh, halfCotangents(mesh), turned))).toBeLessThan(1e-12);
    expect(Math.abs(conformalForm(mesh, halfCotangents(mesh), mirrored) - 2 * area)).toBeLessThan(1e-12);
  });
});

describe('conformalMap', () => {
  it('is the minimum: the energy by both routes agrees and no displacement of free vertices lowers it [second route]', async () => {
    for (const seed of [1, 2, 3]) {
      const mesh = bumpy(seed);
      const map = await conformalMap(mesh, {}, quietRun);
      expect(energyByTwoRoutes(mesh, map.positions)).toBeLessThan(1e-10);
      expect(leastConformalChange(mesh, map.positions, map.pins, 30, seed)).toBeGreaterThan(0);
    }
  });

  it('keeps the total area, the lower pin at the origin and the other level to its right [invariant]', async () => {
    const mesh = bumpy(4);
    const map = await conformalMap(mesh, { pins: [40, 7] }, quietRun);
    expect(map.pins).toEqual([7, 40]);
    expect(Math.abs(planeArea(mesh, map.positions) / surfaceArea(mesh) - 1)).toBeLessThan(1e-12);
    expect([map.positions[14], map.positions[15], map.positions[81]]).toEqual([0, 0, 0]);
    expect(map.positions[80]).toBeGreaterThan(0);
  });

  it('lays a plane piece back on itself [closed form]', async () => {
    const disc = planeDisc(400, 6);
    const mesh = lift(disc, (x, y) => [x * 50, 30 * y + 40 * y, 0.5 * x]);
    const map = await conformalMap(mesh, {}, quietRun);
    const { sigma1, sigma2 } = faceDistortion(mesh, map.positions);
    expect(Math.max(...sigma1.map((s, f) => Math.max(Math.abs(s - 1), Math.abs(sigma2[f] - 1))))).toBeLessThan(1e-9);
  });

  it('takes a spherical cap to its stereographic image: scale cos(α/2) at the centre [closed form]', async () => {
    // Equal area makes the stereographic scale at the centre cos(α/2): 0.8660 at 60°, 0.7071 at 90°.
    for (const degrees of [60, 90]) {
      const halfAngle = (degrees / 180) * Math.PI;
      const mesh = capMesh(100, halfAngle, 1500, 3);
      const map = await conformalMap(mesh, {}, quietRun);
      const { sigma1, sigma2, area } = faceDistortion(mesh, map.positions);
      let [sum, weight] = [0, 0];
      for (let f = 0; f < area.length; f++) {
        const v = 3 * mesh.faces[3 * f];
        if (mesh.positions[v + 2] < 100 * Math.cos(0.15)) continue;
        sum += area[f] * Math.sqrt(sigma1[f] * sigma2[f]);
        weight += area[f];
      }
      // Mean over a disc of 0.15 rad: the scale there is cos(α/2)·sec²(θ/2), at most 0.6 % more; two pins add a bias of the mesh.
      expect(Math.abs(sum / weight / Math.cos(halfAngle / 2) - 1)).toBeLessThan(0.01);
    }
  });

  it('weighs faces as the paper does, on a mesh that is dense in one half and sparse in the other [second route]', async () => {
    // The paper's least-squares system itself, dense: rows Σ W_j U_j scaled by a power of d = 2A; only 1/√d gives our map.
    const mesh = halfDenseCap();
    const map = await conformalMap(mesh, { pins: [0, 12] }, quietRun);
    const pinned = [map.positions[0], map.positions[1], map.positions[24], map.positions[25]];
    const byRows = (power: number): number => similarityError(map.positions, rowsOfThePaper(mesh, [0, 12], pinned, power));
    expect(byRows(-0.5)).toBeLessThan(1e-9);
    expect(byRows(0)).toBeGreaterThan(0.01);
    expect(byRows(-1)).toBeGreaterThan(0.01);
  });

  it('goes with rigid motions, scale, renumbering and mirroring of the body [invariant]', async () => {
    const mesh = bumpy(9);
    const map = await conformalMap(mesh, {}, quietRun);
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const moved = Float64Array.from(mesh.positions, (_, k) => {
      const v = k - (k % 3);
      const [x, y, z] = [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]];
      return [c * x - s * z + 5, y - 11, s * x + c * z][k % 3];
    });
    expect(similarityError((await conformalMap(buildMesh(moved, mesh.faces), {}, quietRun)).positions, map.positions)).toBeLessThan(1e-9);
    for (const scale of [1e-3, 1e3]) {
      const scaled = await conformalMap(
        buildMesh(
          mesh.positions.map((x) => x * scale),
          mesh.faces,
        ),
        {},
        quietRun,
      );
      expect(
        largestDistance(
          scaled.positions.map((x) => x / scale),
          map.positions,
        ),
      ).toBeLessThan(1e-9 * 160);
    }
    const n = mesh.positions.length / 3;
    const renumber = (v: number): number => (v * 7 + 3) % n;
    expect(new Set(Array.from({ length: n }, (_, v) => renumber(v))).size).toBe(n);
    const positions = new Float64Array(3 * n);
    for (let v = 0; v < n; v++) for (let k = 0; k < 3; k++) positions[3 * renumber(v) + k] = mesh.positions[3 * v + k];
    const pins: [number, number] = [renumber(map.pins[0]), renumber(map.pins[1])];
    const other = await conformalMap(buildMesh(positions, mesh.faces.map(renumber)), { pins }, quietRun);
    const back = Float64Array.from(map.positions, (_, k) => other.positions[2 * renumber(Math.floor(k / 2)) + (k % 2)]);
    expect(similarityError(back, map.positions)).toBeLessThan(1e-9);
    const mirroredMesh = buildMesh(
      mesh.positions.map((x, k) => (k % 3 === 0 ? -x : x)),
      mesh.faces.map((_, h) => mesh.faces[h - (h % 3) + ((3 - (h % 3)) % 3)]),
    );
    const mirrored = await conformalMap(mirroredMesh, {}, quietRun);
    expect(flippedFaces(mirroredMesh, mirrored.positions)).toEqual(flippedFaces(mesh, map.positions));
    expect(
      similarityError(
        mirrored.positions.map((x, k) => (k % 2 === 0 ? -x : x)),
        map.positions,
      ),
    ).toBeLessThan(1e-9);
  });

  it('lays a ring flat, its hole clockwise and inside [invariant]', async () => {
    const ring = ringMesh();
    const map = await conformalMap(ring, {}, quietRun);
    expect(flippedFaces(ring, map.positions)).toEqual([]);
    expect(energyByTwoRoutes(ring, map.positions)).toBeLessThan(1e-10);
  });

  it('refuses pins that cannot be pins, naming the range that would do [contract]', async () => {
    const mesh = bumpy(1);
    for (const pins of [
      [3, 3],
      [0, 1e6],
      [-1, 4],
      [0.5, 2],
    ] as const)
      await expect(conformalMap(mesh, { pins }, quietRun)).rejects.toMatchObject({ code: 'flatten/bad-pins' });
  });

  it('says that its scale is set by area [contract]', () => {
    expect([conformal.name, conformal.rescaled]).toEqual(['conformal', true]);
  });
});

describe.skipIf(!hasReference)('conformalMap beside the reference maps', () => {
  it.each(['cup_1k', 'torso_5k', 'cup_20k'])(
    '%s: the same map as the library with the weights of the paper, its pins found by our rule [igl lscm]',
    async (name) => {
      const mesh = referenceMesh(name);
      const map = await conformalMap(mesh, {}, quietRun);
      const stored = { cup_1k: [471, 504], torso_5k: [2407, 2493], cup_20k: [9890, 10039] }[name];
      expect(farthestBoundaryPair(mesh)).toEqual(stored);
      expect(similarityError(map.positions, referenceMap(name, 'igl_lscm'))).toBeLessThan(1e-9);
      expect(energyByTwoRoutes(mesh, map.positions)).toBeLessThan(1e-10);
    },
  );

  it('is not the map of rows that are not scaled [cgal lscm]', async () => {
    const map = await conformalMap(referenceMesh('cup_1k'), {}, quietRun);
    expect(similarityError(map.positions, referenceMap('cup_1k', 'cgal_lscm'))).toBeGreaterThan(1e-3);
  });
});

/** A cap of 1.2 rad with three times the vertex spacing on its left half. */
function halfDenseCap(): HalfEdgeMesh {
  const border = Array.from({ length: 24 }, (_, i) => [Math.cos((i * Math.PI) / 12), Math.sin((i * Math.PI) / 12)] as const);
  const plane = triangulateRegion(border, (x, y) => Math.hypot(x, y) < 1, 0.26, 2);
  const random = createRandom(8);
  const points = Array.from(plane.points);
  for (let i = 0; i < 50; i++) {
    const [x, y] = [0.05 + 0.9 * random(), 1.8 * (random() - 0.5)];
    if (Math.hypot(x, y) < 0.93) points.push(x, y);
  }
  return lift(triangulatePoints(points), onSphere(100, 1.2));
}

/** Least squares of the rows r_f = Σ W_j U_j · d^power with two vertices pinned, by a dense solve of 2n − 4 unknowns [levy2002 §2.3]. */
function rowsOfThePaper(mesh: HalfEdgeMesh, pins: readonly number[], pinned: readonly number[], power: number): Float64Array {
  const n = mesh.positions.length / 3;
  const columnOf = new Map(
    Array.from({ length: n }, (_, v) => v)
      .filter((v) => !pins.includes(v))
      .map((v, i) => [v, i]),
  );
  const columns = 2 * columnOf.size;
  const rows = (mesh.faces.length / 3) * 2;
  const matrix = new Float64Array(rows * columns);
  const right = new Float64Array(rows);
  for (let f = 0; f < mesh.faces.length / 3; f++) {
    const corner = [0, 1, 2].map((i) => mesh.faces[3 * f + i]);
    const at = corner.map((v) => [0, 1, 2].map((k) => mesh.positions[3 * v + k]));
    const u = at[1].map((x, k) => x - at[0][k]);
    const v = at[2].map((x, k) => x - at[0][k]);
    const l = Math.hypot(...u);
    const along = u.reduce((sum, x, k) => sum + x * v[k], 0) / l;
    const up = Math.sqrt(v.reduce((sum, x) => sum + x * x, 0) - along * along);
    const local = [
      [0, 0],
      [l, 0],
      [along, up],
    ];
    const scale = (l * up) ** power;
    for (let j = 0; j < 3; j++) {
      // W_j runs along the edge opposite corner j.
      const [p, q] = [local[(j + 2) % 3], local[(j + 1) % 3]];
      const [wx, wy] = [(p[0] - q[0]) * scale, (p[1] - q[1]) * scale];
      const column = columnOf.get(corner[j]);
      if (column === undefined) {
        const place = pins.indexOf(corner[j]);
        const [x, y] = [pinned[2 * place], pinned[2 * place + 1]];
        right[2 * f] -= wx * x - wy * y;
        right[2 * f + 1] -= wy * x + wx * y;
        continue;
      }
      matrix[2 * f * columns + 2 * column] = wx;
      matrix[2 * f * columns + 2 * column + 1] = -wy;
      matrix[(2 * f + 1) * columns + 2 * column] = wy;
      matrix[(2 * f + 1) * columns + 2 * column + 1] = wx;
    }
  }
  const solution = solveDense(matrix, right);
  return Float64Array.from({ length: 2 * n }, (_, k) => {
    const v = Math.floor(k / 2);
    const column = columnOf.get(v);
    return column === undefined ? pinned[2 * pins.indexOf(v) + (k % 2)] : solution[2 * column + (k % 2)];
  });
}

function ringMesh(): HalfEdgeMesh {
  const border = Array.from({ length: 60 }, (_, i) => [Math.cos((i * Math.PI) / 30), Math.sin((i * Math.PI) / 30)] as const);
  const hole = Array.from({ length: 20 }, (_, i) => [0.3 * Math.cos((i * Math.PI) / 10), 0.3 * Math.sin((i * Math.PI) / 10)] as const);
  const plane = triangulateRegion([...border, ...hole], (x, y) => Math.hypot(x, y) < 1 && Math.hypot(x, y) > 0.295, 0.1, 4);
  return lift(plane, (x, y) => [100 * x, 100 * y, 25 * x * x + 10 * y]);
}
