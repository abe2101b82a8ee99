import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { bestRatio } from '../../src/flatten/best-possible.ts';
import { faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { borderOverlaps, flippedFaces } from '../../src/flatten/overlap.ts';
import { shape, shapeMap } from '../../src/flatten/shape.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { lift, planeDisc, triangulateRegion } from '../support/flat-shapes.ts';
import { motionError } from '../support/laws.ts';
import { randomPiece } from '../support/body-patches.ts';
import { hasBodies, hasReference, referenceMap, referenceMesh } from '../support/reference.ts';

const bumpy = (seed: number): HalfEdgeMesh => lift(planeDisc(300, seed), (x, y) => [80 * x, 80 * y, 30 * Math.cos(3 * x) + 20 * x * y]);
const flat = async (mesh: HalfEdgeMesh): Promise<Float64Array> => Float64Array.from((await shapeMap(mesh, {}, quietRun)).positions);

describe('shapeMap', () => {
  it('goes with rigid motions, scale, renumbering and mirroring of the body [invariant]', async () => {
    const mesh = bumpy(2);
    const map = await flat(mesh);
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const moved = Float64Array.from(mesh.positions, (_, k) => {
      const [x, y, z] = mesh.positions.slice(k - (k % 3), k - (k % 3) + 3);
      return [c * x - s * z + 5, y - 11, s * x + c * z][k % 3];
    });
    expect(motionError(await flat(buildMesh(moved, mesh.faces)), map)).toBeLessThan(1e-7);
    for (const scale of [1e-3, 1e3]) {
      const scaled = await flat(
        buildMesh(
          mesh.positions.map((x) => x * scale),
          mesh.faces,
        ),
      );
      expect(
        motionError(
          scaled.map((x) => x / scale),
          map,
        ),
      ).toBeLessThan(1e-7);
    }
    const n = mesh.positions.length / 3;
    const place = Array.from({ length: n }, (_, v) => n - 1 - v);
    const positions = new Float64Array(3 * n);
    for (let v = 0; v < n; v++) for (let k = 0; k < 3; k++) positions[3 * place[v] + k] = mesh.positions[3 * v + k];
    const other = await flat(
      buildMesh(
        positions,
        mesh.faces.map((v) => place[v]),
      ),
    );
    expect(
      motionError(
        Float64Array.from(map, (_, k) => other[2 * place[Math.floor(k / 2)] + (k % 2)]),
        map,
      ),
    ).toBeLessThan(1e-7);
    const mirrored = buildMesh(
      mesh.positions.map((x, k) => (k % 3 === 0 ? -x : x)),
      mesh.faces.map((_, h) => mesh.faces[h - (h % 3) + ((3 - (h % 3)) % 3)]),
    );
    expect(
      motionError(
        (await flat(mirrored)).map((x, k) => (k % 2 === 0 ? -x : x)),
        map,
      ),
    ).toBeLessThan(1e-7);
  });

  it('gives the same outline on a finer mesh and on one that is dense in one half [closed form]', async () => {
    const place = (x: number, y: number): [number, number, number] => [80 * x, 80 * y, 25 * Math.cos(2 * x) + 12 * x * y];
    const rim = Array.from({ length: 48 }, (_, i) => [Math.cos((i * Math.PI) / 24), Math.sin((i * Math.PI) / 24)] as const);
    const inside = (x: number, y: number): boolean => Math.hypot(x, y) < 1;
    const outlines: Float64Array[] = [];
    for (const spacing of [0.16, 0.08, 0.05])
      outlines.push((await flat(lift(triangulateRegion(rim, inside, spacing), place))).slice(0, 96));
    expect(motionError(outlines[1], outlines[2])).toBeLessThan(1.2e-3);
    expect(motionError(outlines[0], outlines[2])).toBeLessThan(5e-3);
  });

  it('never beats the bound of its curvature [invariant]', async () => {
    for (const seed of [1, 2, 3]) {
      const mesh = bumpy(seed);
      const { sigma1, sigma2 } = faceDistortion(mesh, await flat(mesh));
      expect(bestRatio(mesh)).toBeLessThan(Math.max(...sigma1) / Math.min(...sigma2));
      expect(bestRatio(mesh)).toBeGreaterThan(1);
    }
  });

  it('says that its scale is its own [contract]', () => {
    expect([shape.name, shape.rescaled]).toEqual(['shape', false]);
  });
});

describe.skipIf(!hasReference)('shapeMap beside the reference', () => {
  it.each([
    ['cup_1k', 4.09773],
    ['torso_5k', 4.03718],
    ['cup_20k', 4.09581],
  ] as const)('%s: reaches %s, what an independent Newton solve found, and less than the library did [reference]', async (name, energy) => {
    const mesh = referenceMesh(name);
    const map = await shapeMap(mesh, {}, quietRun);
    const reached = symmetricDirichlet(faceDistortion(mesh, map.positions));
    expect(map.converged).toBe(true);
    expect([flippedFaces(mesh, map.positions).length, borderOverlaps(mesh, map.positions).count]).toEqual([0, 0]);
    expect(reached).toBeLessThan(energy + 1e-5);
    expect(reached).toBeGreaterThan(energy - 2e-5);
    expect(reached).toBeLessThan(symmetricDirichlet(faceDistortion(mesh, referenceMap(name, 'igl_slim'))));
  });
});

describe.skipIf(!hasBodies)('shapeMap of random patches of the shared bodies', () => {
  // Some with darts, holes, several borders; two hundred of them in the slow tests.
  it.each([2, 4, 5, 10, 16, 26, 29, 38, 43, 51])('piece %s has no flips and no overlaps [invariant]', async (seed) => {
    const { mesh } = randomPiece(seed);
    const map = await shapeMap(mesh, {}, quietRun);
    expect([flippedFaces(mesh, map.positions).length, borderOverlaps(mesh, map.positions).count]).toEqual([0, 0]);
  });
});
