import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { conformalEnergy, faceDistortion, planeArea, rigidEnergy, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { faceFrames, frameArea } from '../../src/flatten/face-frames.ts';
import { singularValuesDense } from '../../src/linalg/dense.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import { surfaceArea } from '../../src/mesh/measure.ts';
import { lift, planeDisc } from '../support/flat-shapes.ts';

describe('faceDistortion', () => {
  it('has the singular values of the Jacobian, σ₂ with the sign of the determinant [ml-matrix]', () => {
    const random = createRandom(3);
    for (let trial = 0; trial < 50; trial++) {
      const positions = Float64Array.from({ length: 9 }, () => random() * 10 ** (trial % 5));
      const plane = Float64Array.from({ length: 6 }, () => random());
      const { sigma1, sigma2, area } = faceDistortion({ positions, faces: Uint32Array.from([0, 1, 2]) }, plane);
      // J of 2 × 3 with J (b − a) = B − A and J (c − a) = C − A, rows in the face's plane: by the pseudo-inverse of the edge matrix.
      const e = [0, 1].map((i) => [0, 1, 2].map((k) => positions[3 * (i + 1) + k] - positions[k]));
      const gram = [[0, 1].map((j) => dot(e[0], e[j])), [0, 1].map((j) => dot(e[1], e[j]))];
      const det = gram[0][0] * gram[1][1] - gram[0][1] * gram[1][0];
      const inverse = [
        [gram[1][1] / det, -gram[0][1] / det],
        [-gram[1][0] / det, gram[0][0] / det],
      ];
      const dual = [0, 1].map((i) => [0, 1, 2].map((k) => inverse[i][0] * e[0][k] + inverse[i][1] * e[1][k]));
      const jacobian = Float64Array.from(
        [0, 1].flatMap((r) => [0, 1, 2].map((k) => dual[0][k] * (plane[2 + r] - plane[r]) + dual[1][k] * (plane[4 + r] - plane[r]))),
      );
      const expected = singularValuesDense(Float64Array.from([0, 1, 2].flatMap((k) => [jacobian[k], jacobian[3 + k]])), 3, 2);
      const turned = (plane[2] - plane[0]) * (plane[5] - plane[1]) - (plane[3] - plane[1]) * (plane[4] - plane[0]);
      expect(Math.abs(sigma1[0] / expected[0] - 1)).toBeLessThan(1e-9);
      expect(Math.abs(sigma2[0] / (Math.sign(turned) * expected[1]) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(area[0] / (Math.sqrt(det) / 2) - 1)).toBeLessThan(1e-6);
    }
  });

  it('gives the known stretches of an affine map and its energies [closed form]', () => {
    const disc = planeDisc(100);
    const mesh = lift(disc, (x, y) => [x, y, 0]);
    const distortion = faceDistortion(
      mesh,
      disc.points.map((x, k) => (k % 2 === 0 ? 2 * x : 0.5 * x)),
    );
    const total = surfaceArea(mesh);
    expect(Math.max(...distortion.sigma1.map((s) => Math.abs(s - 2)))).toBeLessThan(1e-12);
    expect(Math.max(...distortion.sigma2.map((s) => Math.abs(s - 0.5)))).toBeLessThan(1e-12);
    expect(conformalEnergy(distortion) / total).toBeCloseTo(0.5 * 1.5 * 1.5, 12);
    expect(symmetricDirichlet(distortion)).toBeCloseTo(4 + 0.25 + 0.25 + 4, 12);
    expect(rigidEnergy(distortion) / total).toBeCloseTo(1 + 0.25, 12);
    const mirrored = faceDistortion(
      mesh,
      disc.points.map((x, k) => (k % 2 === 0 ? -x : x)),
    );
    expect(conformalEnergy(mirrored) / total).toBeCloseTo(2, 12);
    expect(planeArea(mesh, disc.points)).toBeCloseTo(total, 12);
    expect(frameArea(faceFrames(mesh))).toBeCloseTo(total, 12);
  });

  it('is finite where a face has no area [contract]', () => {
    const mesh = buildMesh(Float64Array.from([0, 0, 0, 1, 0, 0, 2, 0, 0]), Uint32Array.from([0, 1, 2]));
    const { sigma1, sigma2 } = faceDistortion(mesh, Float64Array.from([0, 0, 1, 0, 0, 1]));
    expect([sigma1[0], sigma2[0]]).toEqual([0, 0]);
  });
});

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, x, k) => sum + x * b[k], 0);
