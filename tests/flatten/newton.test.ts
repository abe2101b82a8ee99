/*
 * Newton on stretch energies: derivatives, line search, convergence; with stretch-energy.ts, step-limit.ts and face-frames.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { conformalMap } from '../../src/flatten/conformal.ts';
import { faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { assembleAndFactor, newtonSteps, prepareNewton } from '../../src/flatten/newton.ts';
import { flippedFaces } from '../../src/flatten/overlap.ts';
import { stepLimit } from '../../src/flatten/step-limit.ts';
import type { Density } from '../../src/flatten/stretch-energy.ts';
import { assembleEnergyInto, stretchEnergy, symmetricDirichletDensity } from '../../src/flatten/stretch-energy.ts';
import { symmetricEigen } from '../../src/linalg/dense.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { capMesh, lift, planeDisc } from '../support/flat-shapes.ts';

const bumpy = (count: number, seed: number): HalfEdgeMesh =>
  lift(planeDisc(count, seed), (x, y) => [80 * x, 80 * y, 30 * Math.cos(3 * x) + 20 * x * y]);
const densities = (faceTotal: number): readonly (readonly [string, Density])[] => [
  ['symmetric Dirichlet', symmetricDirichletDensity],
  [
    'exponential',
    { kind: 'exponential', sharpness: 6, shift: 0.5, plainFaces: Uint8Array.from({ length: faceTotal }, (_, f) => (f % 9 === 0 ? 1 : 0)) },
  ],
];

describe('assembleEnergyInto', () => {
  it.each(densities(600))('%s: gradient and Hessian are the differences of energy and gradient [second route]', async (_, density) => {
    const mesh = bumpy(120, 2);
    const system = await prepareNewton(mesh, quietRun);
    const plane = (await conformalMap(mesh, {}, quietRun)).positions;
    const random = createRandom(7);
    const at = (map: ArrayLike<number>): { energy: number; gradient: Float64Array; hessian: Float64Array } => {
      const energy = assembleEnergyInto(system.target, system, Float64Array.from(map), density, false);
      return { energy, gradient: Float64Array.from(system.target.gradient), hessian: Float64Array.from(system.target.hessian) };
    };
    const here = at(plane);
    expect(Math.abs(here.energy / stretchEnergy(system.faces, system.frames, plane, density) - 1)).toBeLessThan(1e-10);
    for (let trial = 0; trial < 3; trial++) {
      const d = Float64Array.from(plane, () => random() - 0.5);
      const step = 1e-4;
      const [ahead, behind] = [1, -1].map((sign) => at(Float64Array.from(plane, (x, i) => x + sign * step * d[i])));
      const slope = here.gradient.reduce((sum, g, i) => sum + g * d[i], 0);
      expect(Math.abs((ahead.energy - behind.energy) / (2 * step) / slope - 1)).toBeLessThan(1e-5);
      const product = timesDirection(system.blocks, here.hessian, d);
      const largest = Math.max(...product.map(Math.abs));
      const worst = Math.max(...product.map((value, i) => Math.abs(value - (ahead.gradient[i] - behind.gradient[i]) / (2 * step))));
      expect(worst / largest).toBeLessThan(1e-5);
    }
  });

  it('projected, the Hessian has no negative eigenvalue on a squeezed map; exact, it has [ml-matrix]', async () => {
    const mesh = bumpy(40, 3);
    const system = await prepareNewton(mesh, quietRun);
    const plane = (await conformalMap(mesh, {}, quietRun)).positions.map((x) => 0.7 * x);
    const least = (isProjected: boolean): number => {
      assembleEnergyInto(system.target, system, plane, symmetricDirichletDensity, isProjected);
      const dense = new Float64Array(system.blocks.size * system.blocks.size);
      forEachEntry(system.blocks, (i, j, q) => {
        dense[i * system.blocks.size + j] = dense[j * system.blocks.size + i] = system.target.hessian[q];
      });
      return symmetricEigen(dense, system.blocks.size).values[0];
    };
    expect(least(true)).toBeGreaterThan(-1e-9);
    expect(least(false)).toBeLessThan(-1e-3);
  });

  it('is 0 with all its derivatives at an isometry [closed form]', async () => {
    const disc = planeDisc(80);
    const mesh = lift(disc, (x, y) => [3 * x, 3 * y, 0]);
    const system = await prepareNewton(mesh, quietRun);
    const energy = assembleEnergyInto(
      system.target,
      system,
      disc.points.map((x) => 3 * x),
      symmetricDirichletDensity,
      true,
    );
    expect(Math.abs(energy)).toBeLessThan(1e-24);
    expect(Math.max(...system.target.gradient.map(Math.abs))).toBeLessThan(1e-12);
  });

  it('costs ∞ where a face is flipped or flat [contract]', () => {
    const faces = Uint32Array.from([0, 1, 2]);
    const frames = Float64Array.from([0.5, 0, 0.5, 0.5]);
    expect(stretchEnergy(faces, frames, Float64Array.from([0, 0, 0, 1, 1, 0]), symmetricDirichletDensity)).toBe(Infinity);
    expect(stretchEnergy(faces, frames, Float64Array.from([0, 0, 1, 1, 2, 2]), symmetricDirichletDensity)).toBe(Infinity);
    expect(stretchEnergy(faces, frames, Float64Array.from([0, 0, 1, 0, 0, 1]), symmetricDirichletDensity)).toBe(0);
  });
});

describe('stepLimit', () => {
  it('is the first time at which a face has no area [second route]', () => {
    const random = createRandom(11);
    const mesh = bumpy(60, 4);
    const plane = planeDisc(60, 4).points;
    for (let trial = 0; trial < 20; trial++) {
      const direction = Float64Array.from(plane, () => (random() - 0.5) * 10 ** ((trial % 4) - 2));
      const limit = stepLimit(mesh.faces, plane, direction);
      const flipsAt = (t: number): number =>
        flippedFaces(
          mesh,
          plane.map((x, i) => x + t * direction[i]),
        ).length;
      if (limit < Infinity) {
        expect(flipsAt(limit * (1 - 1e-9))).toBe(0);
        expect(flipsAt(limit * (1 + 1e-9))).toBeGreaterThan(0);
      } else expect(flipsAt(1e3)).toBe(0);
    }
  });

  it('is ∞ for a motion that keeps areas [closed form]', () => {
    const mesh = bumpy(30, 1);
    const plane = planeDisc(30, 1).points;
    expect(
      stepLimit(
        mesh.faces,
        plane,
        plane.map(() => 2),
      ),
    ).toBe(Infinity);
    expect(stepLimit(mesh.faces, plane, plane)).toBe(Infinity);
    expect(
      stepLimit(
        mesh.faces,
        plane,
        plane.map((x) => -x),
      ),
    ).toBeCloseTo(1, 6);
  });
});

describe('newtonSteps', () => {
  it('never raises the energy, never flips a face, and ends with no gradient [invariant]', async () => {
    const mesh = bumpy(300, 5);
    const system = await prepareNewton(mesh, quietRun);
    let plane = (await conformalMap(mesh, {}, quietRun)).positions;
    let energy = Infinity;
    for (let step = 0; step < 12; step++) {
      const result = await newtonSteps(system, plane, symmetricDirichletDensity, 1, quietRun);
      expect(result.energy).toBeLessThanOrEqual(energy + 1e-13);
      expect(flippedFaces(mesh, result.positions)).toEqual([]);
      expect(Math.abs(result.energy + 4 - symmetricDirichlet(faceDistortion(mesh, result.positions)))).toBeLessThan(1e-10);
      [plane, energy] = [result.positions, result.energy];
    }
    await assembleAndFactor(system, plane, symmetricDirichletDensity, false, quietRun);
    expect(Math.max(...system.target.gradient.map(Math.abs))).toBeLessThan(1e-8);
  });

  it('is at a minimum: random displacements only raise the energy [second route]', async () => {
    const mesh = bumpy(150, 6);
    const system = await prepareNewton(mesh, quietRun);
    const { positions, energy, converged } = await newtonSteps(
      system,
      (await conformalMap(mesh, {}, quietRun)).positions,
      symmetricDirichletDensity,
      50,
      quietRun,
    );
    expect(converged).toBe(true);
    const random = createRandom(2);
    for (let trial = 0; trial < 30; trial++) {
      const moved = positions.map((x) => x + 10 ** (-1 - (trial % 3)) * (random() - 0.5));
      expect(stretchEnergy(system.faces, system.frames, moved, symmetricDirichletDensity) / system.area).toBeGreaterThan(energy);
    }
  });

  it('finds the same optimum from far-off starts [second route]', async () => {
    const mesh = capMesh(100, 1, 400);
    const system = await prepareNewton(mesh, quietRun);
    const start = (await conformalMap(mesh, {}, quietRun)).positions;
    const energies: number[] = [];
    for (const [sx, sy] of [
      [1, 1],
      [0.02, 0.03],
      [5, 0.3],
      [40, 40],
    ]) {
      const result = await newtonSteps(
        system,
        start.map((x, k) => (k % 2 === 0 ? sx : sy) * x),
        symmetricDirichletDensity,
        100,
        quietRun,
      );
      expect(result.converged).toBe(true);
      energies.push(result.energy);
    }
    for (const energy of energies) expect(Math.abs(energy / energies[0] - 1)).toBeLessThan(1e-9);
  });

  it('says when its steps were not enough, and refuses a flipped start [contract]', async () => {
    const mesh = bumpy(100, 7);
    const system = await prepareNewton(mesh, quietRun);
    const start = (await conformalMap(mesh, {}, quietRun)).positions.map((x) => 0.01 * x);
    expect((await newtonSteps(system, start, symmetricDirichletDensity, 2, quietRun)).converged).toBe(false);
    await expect(
      newtonSteps(
        system,
        start.map((x, k) => (k % 2 === 0 ? -x : x)),
        symmetricDirichletDensity,
        2,
        quietRun,
      ),
    ).rejects.toMatchObject({ code: 'flatten/flipped-start' });
  });
});

type Blocks = { readonly size: number; readonly columnStart: ArrayLike<number>; readonly row: ArrayLike<number> };

function forEachEntry(blocks: Blocks, act: (i: number, j: number, q: number) => void): void {
  for (let j = 0; j < blocks.size; j++) for (let q = blocks.columnStart[j]; q < blocks.columnStart[j + 1]; q++) act(blocks.row[q], j, q);
}

function timesDirection(blocks: Blocks, values: Float64Array, d: Float64Array): Float64Array {
  const product = new Float64Array(blocks.size);
  forEachEntry(blocks, (i, j, q) => {
    product[i] += values[q] * d[j];
    if (i !== j) product[j] += values[q] * d[i];
  });
  return product;
}
