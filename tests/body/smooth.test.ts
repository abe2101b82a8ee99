import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { smoothVertices } from '../../src/body/smooth.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { enclosedVolume, vertexNormals } from '../../src/mesh/measure.ts';
import { moved, grid, sphere } from '../support/shapes.ts';

const ball = sphere(100, 5);

describe('smoothVertices', () => {
  it('keeps the volume of a sphere to 0.02 % where Laplacian smoothing would shrink it [closed form]', async () => {
    const mesh = buildMesh(ball.positions, ball.faces);
    const { positions, largestMm } = await smoothVertices(mesh, 5, 30, quietRun);
    expect(Math.abs(enclosedVolume({ positions, faces: ball.faces }) / enclosedVolume(ball) - 1)).toBeLessThan(2e-4);
    expect(largestMm).toBeLessThan(0.05);
  });

  it('lowers ripples by 1/(1 + (ℓc/ℓ)⁴) [closed form on a flat sheet]', async () => {
    for (const wave of [12, 20, 30, 60]) {
      const sheet = moved(grid(240, 60, 160, 40), (x, y) => [x, y, 0.05 * Math.sin((2 * Math.PI * x) / wave)]);
      const { positions } = await smoothVertices(buildMesh(sheet.positions, sheet.faces), 5, 30, quietRun);
      // Amplitude by projection on the sine, away from the borders.
      let [dot, norm] = [0, 0];
      for (let v = 0; v < positions.length; v += 3) {
        if (Math.abs(sheet.positions[v] - 120) > 60 || Math.abs(sheet.positions[v + 1] - 30) > 3) continue;
        const s = Math.sin((2 * Math.PI * sheet.positions[v]) / wave);
        dot += positions[v + 2] * s;
        norm += s * s;
      }
      const kept = dot / norm / 0.05;
      expect(Math.abs(kept - 1 / (1 + (30 / wave) ** 4)), `wave ${wave}`).toBeLessThan(0.04);
    }
  });

  it('takes noise of 1 mm off a sphere down to below 0.5 mm for 95 % [closed form]', async () => {
    const random = createRandom(9);
    const normals = vertexNormals(ball);
    const noisy = Float64Array.from(ball.positions);
    for (let v = 0; v < noisy.length; v += 3) {
      const step = 2 * random() - 1;
      for (let k = 0; k < 3; k++) noisy[v + k] += step * normals[v + k];
    }
    const { positions, limited } = await smoothVertices(buildMesh(noisy, ball.faces), 3, 30, quietRun);
    const errors = Array.from({ length: positions.length / 3 }, (_, v) =>
      Math.abs(Math.hypot(...positions.slice(3 * v, 3 * v + 3)) - 100),
    ).sort((a, b) => a - b);
    expect(errors[Math.floor(0.95 * errors.length)]).toBeLessThan(0.5);
    expect(limited).toBe(0);
  });

  it('moves no vertex further than the limit and counts those that it held [invariant]', async () => {
    const spiked = Float64Array.from(ball.positions);
    for (let k = 0; k < 3; k++) spiked[3000 + k] *= 1.2;
    const { positions, largestMm, limited } = await smoothVertices(buildMesh(spiked, ball.faces), 2, 30, quietRun);
    expect(largestMm).toBeLessThanOrEqual(2 + 1e-9);
    expect(limited).toBeGreaterThan(0);
    for (let v = 0; v < positions.length; v += 3)
      expect(Math.hypot(...[0, 1, 2].map((k) => positions[v + k] - spiked[v + k]))).toBeLessThanOrEqual(2 + 1e-9);
  });
});
