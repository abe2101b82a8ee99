/*
 * Spherical caps: not developable, but every answer is known in closed form or from the radial problem in one variable.
 */
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { bestRatio } from '../../src/flatten/best-possible.ts';
import { faceDistortion, rigidEnergy, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { leastWorstMap } from '../../src/flatten/least-worst.ts';
import { prepareRigid, rigidSteps } from '../../src/flatten/as-rigid.ts';
import { shapeMap } from '../../src/flatten/shape.ts';
import { spectralMap } from '../../src/flatten/spectral.ts';
import { matchSeams } from '../../src/flatten/match-seams.ts';
import { describeFlat } from '../../src/flatten/flatten-patch.ts';
import { flippedFaces } from '../../src/flatten/overlap.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { materials } from '../../src/materials/index.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { halfEdgeLength } from '../../src/mesh/navigate.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { Seam } from '../../src/patches/patch.ts';
import { capMesh, patchOf } from '../support/flat-shapes.ts';
import { bestRadialMap, dirichletDensity, rigidDensity } from '../support/radial-map.ts';

const rad = (degrees: number): number => (degrees / 180) * Math.PI;
const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);

/** A map of a cap of the unit sphere given by ρ(θ). */
function azimuthal(mesh: HalfEdgeMesh, radius: number, rho: (theta: number) => number): Float64Array {
  const plane = new Float64Array((mesh.positions.length / 3) * 2);
  for (let v = 0; v < plane.length / 2; v++) {
    const [x, y, z] = mesh.positions.slice(3 * v, 3 * v + 3);
    const theta = Math.atan2(Math.hypot(x, y), z);
    const scale = theta === 0 ? 0 : (radius * rho(theta)) / Math.hypot(x, y);
    plane[2 * v] = scale * x;
    plane[2 * v + 1] = scale * y;
  }
  return plane;
}

/** Smallest σ₂ and largest σ₁; needles left out, on which a chord of the sphere differs most from the arc. */
function range2(mesh: HalfEdgeMesh, plane: Float64Array, leastHeight = 0): { least: number; largest: number } {
  const { sigma1, sigma2, area } = faceDistortion(mesh, plane);
  const isRound = (f: number): boolean => {
    const longest = Math.max(...[0, 1, 2].map((i) => halfEdgeLength(mesh, 3 * f + i)));
    return (2 * area[f]) / (longest * longest) > leastHeight;
  };
  const faces = Array.from(sigma1.keys()).filter(isRound);
  return { least: Math.min(...faces.map((f) => sigma2[f])), largest: Math.max(...faces.map((f) => sigma1[f])) };
}

describe('distortion of known maps of caps', () => {
  it('azimuthal equidistant, balanced: ±2.333 %, ±9.964 %, ±25.331 %, ratio α / sin α [closed form]', () => {
    for (const [degrees, share, ratio] of [
      [30, 0.02333, 1.047198],
      [60, 0.09964, 1.2092],
      [90, 0.25331, 1.570796],
    ] as const) {
      const alpha = rad(degrees);
      const mesh = capMesh(100, alpha, 3000);
      const scale = Math.sqrt(Math.sin(alpha) / alpha);
      const { least, largest } = range2(
        mesh,
        azimuthal(mesh, 100, (theta) => scale * theta),
      );
      // Chords of a mesh of 6,000 faces: the error grows with the distortion.
      // σ₁ is a chord's length; σ₂ on an obtuse face feels how the map bends along it.
      const slack = 5e-4 + 0.05 * share;
      const bent = 5e-3 + 0.12 * share;
      expect(relative(largest, 1 + share)).toBeLessThan(slack);
      expect(relative(1 / least, 1 + share)).toBeLessThan(bent);
      expect(relative(largest / least, ratio)).toBeLessThan(slack + bent);
    }
  });

  it('stereographic: conformal, ratio of scales 1.071797, 1.333333, 2; energy 4.208333 at 60°, 4.055556 at equal area [closed form]', () => {
    for (const [degrees, ratio] of [
      [30, 1.071797],
      [60, 4 / 3],
      [90, 2],
    ] as const) {
      const mesh = capMesh(100, rad(degrees), 3000);
      const { least, largest } = range2(
        mesh,
        azimuthal(mesh, 100, (theta) => 2 * Math.tan(theta / 2)),
      );
      // Chords: σ differs from the smooth scale by the square of the edge length.
      expect(relative(largest / least, ratio)).toBeLessThan(0.012);
    }
    const mesh = capMesh(100, rad(60), 6000);
    const energyAt = (scale: number): number =>
      symmetricDirichlet(
        faceDistortion(
          mesh,
          azimuthal(mesh, 100, (theta) => scale * 2 * Math.tan(theta / 2)),
        ),
      );
    expect(relative(energyAt(1), 4.208333)).toBeLessThan(2e-4);
    expect(relative(energyAt(Math.cos(rad(30))), 4.055556)).toBeLessThan(2e-4);
  });

  it('Lambert: σ₁σ₂ = 1, ratio sec²(α/2) [closed form]', () => {
    const mesh = capMesh(100, rad(60), 6000);
    const { sigma1, sigma2, area } = faceDistortion(
      mesh,
      azimuthal(mesh, 100, (theta) => 2 * Math.sin(theta / 2)),
    );
    const total = area.reduce((sum, a) => sum + a, 0);
    const deviation = area.reduce((sum, a, f) => sum + a * Math.abs(sigma1[f] * sigma2[f] - 1), 0) / total;
    expect(deviation).toBeLessThan(2e-3);
    expect(relative(Math.max(...sigma1) / Math.min(...sigma2), 1 / Math.cos(rad(30)) ** 2)).toBeLessThan(6e-3);
  });
});

describe('the radial problem', () => {
  it('has the optima of print: SD 4.000098 … 4.140509, as-rigid, and SD with the rim at its length in space [second route]', () => {
    for (const [degrees, energy] of [
      [15, 4.000098],
      [30, 4.001582],
      [45, 4.008113],
      [60, 4.026131],
      [75, 4.065469],
      [90, 4.140509],
    ] as const)
      expect(Math.abs(bestRadialMap(rad(degrees), dirichletDensity, undefined, 800).energy - energy)).toBeLessThan(5e-6);
    for (const [degrees, energy] of [
      [30, 0.0004005],
      [60, 0.0068683],
      [90, 0.039094],
    ] as const)
      expect(relative(bestRadialMap(rad(degrees), rigidDensity, undefined, 800).energy, energy)).toBeLessThan(2e-4);
    for (const [degrees, energy] of [
      [30, 4.011256],
      [60, 4.196821],
      [90, 5.2026],
    ] as const)
      expect(Math.abs(bestRadialMap(rad(degrees), dirichletDensity, Math.sin(rad(degrees)), 800).energy - energy)).toBeLessThan(3e-5);
  });
});

describe('shapeMap of a cap', () => {
  it('reaches the SD optimum and its range of σ, the error falling as h² [second route]', async () => {
    for (const degrees of [30, 60, 90]) {
      const radial = bestRadialMap(rad(degrees), dirichletDensity, undefined, 500);
      const excess: number[] = [];
      for (const count of [500, 2000]) {
        const mesh = capMesh(100, rad(degrees), count);
        const map = await shapeMap(mesh, {}, quietRun);
        const { least, largest } = range2(mesh, Float64Array.from(map.positions));
        expect(map.converged).toBe(true);
        expect(flippedFaces(mesh, map.positions)).toEqual([]);
        excess.push(symmetricDirichlet(faceDistortion(mesh, map.positions)) - radial.energy);
        expect(relative(largest, radial.largest)).toBeLessThan(count === 500 ? 0.03 : 0.015);
        expect(relative(least, radial.least)).toBeLessThan(count === 500 ? 0.03 : 0.015);
      }
      expect(excess[1] / (radial.energy - 4)).toBeLessThan(0.02);
      expect(excess[0] / excess[1]).toBeGreaterThan(3);
    }
  });

  it('its as-rigid neighbour reaches Σ(σ − 1)² of print [second route]', async () => {
    for (const degrees of [60, 90]) {
      const mesh = capMesh(100, rad(degrees), 1500);
      const start = (await spectralMap(mesh, {}, quietRun)).positions;
      const result = await rigidSteps(await prepareRigid(mesh, quietRun), start, 300, 1e-8, quietRun);
      const energy = rigidEnergy(faceDistortion(mesh, result.positions)) / surfaceArea(mesh);
      expect(relative(energy, result.energy / surfaceArea(mesh))).toBeLessThan(1e-9);
      expect(relative(energy, bestRadialMap(rad(degrees), rigidDensity).energy)).toBeLessThan(0.01);
    }
  });
});

describe('spectralMap of a cap', () => {
  it('is the stereographic image: scale cos(α/2) at the centre [closed form]', async () => {
    for (const degrees of [60, 90]) {
      const mesh = capMesh(100, rad(degrees), 1500);
      const map = await spectralMap(mesh, {}, quietRun);
      const { sigma1, sigma2, area } = faceDistortion(mesh, map.positions);
      let [sum, weight] = [0, 0];
      for (let f = 0; f < area.length; f++) {
        if (mesh.positions[3 * mesh.faces[3 * f] + 2] < 100 * Math.cos(0.1)) continue;
        sum += area[f] * Math.sqrt(sigma1[f] * sigma2[f]);
        weight += area[f];
      }
      expect(relative(sum / weight, Math.cos(rad(degrees / 2)))).toBeLessThan(0.006);
    }
  });
});

describe('leastWorstMap of a cap', () => {
  it('reaches Milnor’s ratio α / sin α within 1 % and never beats it by more than discretisation [milnor1969]', async () => {
    for (const degrees of [30, 60, 90]) {
      const mesh = capMesh(100, rad(degrees), 800);
      const map = await leastWorstMap(mesh, {}, quietRun);
      const { least, largest } = range2(mesh, Float64Array.from(map.positions));
      const milnor = rad(degrees) / Math.sin(rad(degrees));
      expect(largest / least).toBeLessThan(1.01 * milnor);
      expect(largest / least).toBeGreaterThan(0.999 * milnor);
      expect(bestRatio(mesh)).toBeLessThan(1.001 * milnor);
      expect(bestRatio(mesh)).toBeGreaterThan(0.98 * milnor);
      expect(flippedFaces(mesh, map.positions)).toEqual([]);
    }
  });
});

describe('matchSeams against a stiff mate', () => {
  it('a rim held to its length in space costs what the radial problem says: 4.0113 at 30°, 4.1968 at 60° [second route]', async () => {
    for (const degrees of [30, 60]) {
      const cap = patchOf('cap.1.C', capMesh(100, rad(degrees), 900), [0], () => ({ kind: 'seam', seam: 'S1' }));
      const rim = 200 * Math.PI * Math.sin(rad(degrees));
      // The mate: one triangle with a side of the rim's length and so much area that nothing moves it.
      const triangle = buildMesh(Float64Array.from([0, 0, 0, rim, 0, 0, rim / 2, 3e5, 0]), Uint32Array.from([0, 1, 2]));
      const wall = patchOf('wall.1.C', triangle, [0, 1, 2], () => ({ kind: 'seam', seam: 'S1' }));
      const seam: Seam = {
        id: 'S1',
        kind: 'seam',
        line: 'rim',
        sides: [
          { patch: cap.id, side: 0 },
          { patch: wall.id, side: 0 },
        ],
        surfaceMm: rim,
      };
      const material = materials[0];
      const flats = [];
      for (const patch of [cap, wall])
        flats.push(
          describeFlat(patch, material, (await shapeMap(patch.mesh, {}, quietRun)).positions, {
            method: 'shape',
            iterations: 1,
            converged: true,
          }),
        );
      const [matched] = await matchSeams(
        flats,
        [
          { ...cap, material: material.id },
          { ...wall, material: material.id },
        ],
        [seam],
        materials,
        quietRun,
      );
      const expected = bestRadialMap(rad(degrees), dirichletDensity, Math.sin(rad(degrees)), 500).energy;
      expect(relative(matched.summary.symmetricDirichlet - 4, expected - 4)).toBeLessThan(0.05);
    }
  });
});
