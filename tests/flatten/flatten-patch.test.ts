/*
 * The account of a flat part: verdict.ts, check.ts, index.ts, stopwatch.ts and spectral.ts with it.
 */
import { describe, expect, it } from 'vitest';
import { quietRun } from '../../src/base/run.ts';
import { checkFlattenable } from '../../src/flatten/check.ts';
import { conformalMap } from '../../src/flatten/conformal.ts';
import { faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import { describeFlat, flattenPatch } from '../../src/flatten/flatten-patch.ts';
import { flattenMethods, methodOf } from '../../src/flatten/index.ts';
import { flippedFaces } from '../../src/flatten/overlap.ts';
import { level, spectralMap } from '../../src/flatten/spectral.ts';
import { createStopwatch } from '../../src/flatten/stopwatch.ts';
import { cutTips, faceCentre, facesAtTips, faceStrain, judge, largestBeyond, worstFace } from '../../src/flatten/verdict.ts';
import { materials } from '../../src/materials/index.ts';
import type { Material } from '../../src/materials/material.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { capMesh, cylinderMesh, lift, limbMesh, onSphere, patchOf, planeDisc, range, slitDiscPatch } from '../support/flat-shapes.ts';
import { similarityError } from '../support/laws.ts';

const base = materials.find((one) => one.id === 'eva-6') ?? materials[0];
const figure = (value: number): Material['stretchCold'] => ({ value, source: 'test' });
const material: Material = {
  ...base,
  stretchCold: figure(0.03),
  stretchHot: figure(0.1),
  squeezeCold: figure(0.02),
  squeezeHot: figure(0.05),
};

/** A strip of n squares of 10 mm, flat, with plane positions stretched along x from square `from` to `to`. */
function stretchedStrip(n: number, sigma: (i: number) => number): { mesh: HalfEdgeMesh; plane: Float64Array } {
  const at = range(n + 1).map((i) => range(i).reduce((sum, k) => sum + 10 * sigma(k), 0));
  const positions = Float64Array.from(range(n + 1).flatMap((i) => [10 * i, 0, 0, 10 * i, 10, 0]));
  const plane = Float64Array.from(range(n + 1).flatMap((i) => [at[i], 0, at[i], 10]));
  const faces = Uint32Array.from(range(n).flatMap((i) => [2 * i, 2 * i + 2, 2 * i + 3, 2 * i, 2 * i + 3, 2 * i + 1]));
  return { mesh: buildMesh(positions, faces), plane };
}

describe('flattenPatch', () => {
  it('accounts for a cylinder: no strain, cold, area kept [closed form]', async () => {
    const patch = patchOf('tube.1.C', cylinderMesh(60, 120, 2, 30, 8));
    const flat = await flattenPatch(patch, material, { method: 'shape' }, quietRun);
    expect([flat.verdict, flat.summary.flips, flat.summary.overlaps, flat.findings.length, flat.summary.converged]).toEqual([
      'cold',
      0,
      0,
      0,
      true,
    ]);
    expect(flat.summary.stretch.max).toBeLessThan(1e-6);
    expect(flat.summary.areaRatio.mean).toBeCloseTo(1, 9);
    expect(flat.summary.bestRatio).toBeCloseTo(1, 6);
    expect(flat.summary.symmetricDirichlet).toBeCloseTo(4, 9);
  });

  it('takes a gentle cap cold or hot and asks for a seam in a deep one, with the place [contract]', async () => {
    const verdicts = [];
    for (const halfAngle of [0.25, 0.55, 1.4]) {
      const flat = await flattenPatch(patchOf('cap.1.C', capMesh(150, halfAngle, 400)), material, { method: 'shape' }, quietRun);
      verdicts.push(flat.verdict);
      const finding = flat.findings.find((one) => one.code === 'flatten/needs-seam');
      expect(finding === undefined).toBe(flat.verdict !== 'needs-seam');
      if (finding) expect(finding.where.at).toEqual(flat.summary.worstAt);
    }
    expect(verdicts).toEqual(['cold', 'hot', 'needs-seam']);
  });

  it('answers "needs a seam" for a limb of length 10, by every method [algorithms: limb stress test]', async () => {
    const patch = patchOf('limb.1.C', limbMesh(10, 24));
    const scaled = { ...patch, mesh: { ...patch.mesh, positions: patch.mesh.positions.map((x) => 40 * x) } };
    for (const method of ['shape', 'conformal', 'spectral'] as const) {
      const flat = await flattenPatch(scaled, material, { method }, quietRun);
      expect(flat.verdict).toBe('needs-seam');
      expect(flat.findings.map((one) => one.code)).toContain('flatten/needs-seam');
    }
  });

  it('starts from a given map and ends at the same optimum; a useless start is not used [second route]', async () => {
    const patch = patchOf('cap.1.C', capMesh(100, 1, 300));
    const free = await flattenPatch(patch, material, { method: 'shape' }, quietRun);
    const start = (await conformalMap(patch.mesh, { pins: [0, 9] }, quietRun)).positions;
    for (const given of [start, start.map((x, k) => (k % 2 === 0 ? -x : x)), new Float64Array(4)]) {
      const flat = await flattenPatch(patch, material, { method: 'shape', start: given }, quietRun);
      expect(Math.abs(flat.summary.symmetricDirichlet - free.summary.symmetricDirichlet)).toBeLessThan(1e-9);
    }
    const again = await flattenPatch(patch, material, { method: 'shape', start: free.positions }, quietRun);
    expect(again.summary.iterations).toBeLessThanOrEqual(1);
  });

  it('says that a dart lies in a hollow [contract]', async () => {
    const { patch } = slitDiscPatch((x, y) => [100 * x, 100 * y, 45 * (x * x - y * y)], 0.15, 0.12);
    const flat = await flattenPatch(patch, material, { method: 'shape' }, quietRun);
    expect(flat.summary.overlaps).toBe(0);
    expect(flat.findings.map((one) => one.code)).toContain('flatten/dart-in-hollow');
  });

  it('is the same to the bit on every run [invariant]', async () => {
    const patch = patchOf('cap.1.C', capMesh(100, 1, 200));
    for (const { name } of flattenMethods) {
      const [one, other] = [
        await flattenPatch(patch, material, { method: name }, quietRun),
        await flattenPatch(patch, material, { method: name }, quietRun),
      ];
      expect(other).toEqual(one);
    }
  });
});

describe('describeFlat', () => {
  it('finds flips and overlaps as severe findings [contract]', () => {
    const { mesh, plane } = stretchedStrip(6, () => 1);
    const folded = plane.map((x, k) => (k === 12 || k === 14 ? 20 : x));
    const flat = describeFlat(patchOf('strip.1.C', mesh), material, folded, { method: 'shape', iterations: 3, converged: false });
    expect(flat.summary.flips).toBeGreaterThan(0);
    expect(flat.findings.map((one) => [one.code, one.severity])).toEqual(
      expect.arrayContaining([
        ['flatten/flipped', 'severe'],
        ['flatten/not-converged', 'warning'],
      ]),
    );
    expect(Number.isFinite(flat.summary.stretch.max)).toBe(true);
  });

  it('carries σ with the sheet strain 1/σ − 1 and the worst place [closed form]', () => {
    const { mesh, plane } = stretchedStrip(8, (i) => (i === 5 ? 0.8 : i === 2 ? 1.1 : 1));
    const { summary } = describeFlat(patchOf('strip.1.C', mesh), material, plane, { method: 'shape', iterations: 0, converged: true });
    expect(summary.stretch.max).toBeCloseTo(0.25, 12);
    expect(summary.squeeze.max).toBeCloseTo(1 - 1 / 1.1, 12);
    expect(summary.worstAt[0]).toBeGreaterThan(50);
    expect(summary.worstAt[0]).toBeLessThan(60);
    expect(summary.areaRatio).toMatchObject({
      min: expect.closeTo(0.8, 12) as number,
      mean: expect.closeTo(7.9 / 8, 12) as number,
      max: expect.closeTo(1.1, 12) as number,
    });
    expect(summary.flatAreaMm2).toBeCloseTo(790, 9);
  });
});

describe('judge', () => {
  it('counts connected patches beyond a limit above 4 cm², not scattered ones [contract]', () => {
    const verdictOf = (sigma: (i: number) => number): string => {
      const { mesh, plane } = stretchedStrip(20, sigma);
      const distortion = faceDistortion(mesh, plane);
      return judge(mesh, distortion.area, faceStrain(distortion), new Uint8Array(40), material).verdict;
    };
    const stretched = 1 / 1.05;
    expect(verdictOf((i) => (i < 4 ? stretched : 1))).toBe('cold');
    expect(verdictOf((i) => (i < 5 ? stretched : 1))).toBe('hot');
    expect(verdictOf((i) => (i % 5 !== 4 ? stretched : 1))).toBe('cold');
    expect(verdictOf((i) => (i < 5 ? 1 / 1.2 : 1))).toBe('needs-seam');
    expect(verdictOf((i) => (i < 5 ? 1 / 0.96 : 1))).toBe('hot');
    expect(verdictOf((i) => (i < 5 ? 1 / 0.9 : 1))).toBe('needs-seam');
  });

  it('reports the largest strain outside a cut’s tip, and that at the tip beside it [algorithms.md 0.5]', () => {
    const { patch, tip } = slitDiscPatch(onSphere(100, 0.8), 0.3, 0.08);
    // A plane map without the slit: strain everywhere; then one face at the tip is pulled out of shape.
    const positions = Float64Array.from(
      { length: (2 * patch.mesh.positions.length) / 3 },
      (_, i) => patch.mesh.positions[3 * (i >> 1) + (i % 2)],
    );
    const isNear = facesAtTips(patch.mesh, [tip]);
    const strain = faceStrain(faceDistortion(patch.mesh, positions));
    const largest = (values: ArrayLike<number>, wanted: number): number =>
      Math.max(...Array.from(values).filter((_, f) => isNear[f] === wanted));
    const { summary } = describeFlat(patch, material, positions, { method: 'shape', iterations: 0, converged: true });
    expect(summary.stretch.max).toBe(largest(strain.stretch, 0));
    expect(summary.squeeze.max).toBe(largest(strain.squeeze, 0));
    expect(summary.atTips).toEqual({ stretch: largest(strain.stretch, 1), squeeze: largest(strain.squeeze, 1) });
  });

  it('leaves faces within 10 mm of a cut’s tip out [contract]', () => {
    const { patch, tip } = slitDiscPatch(onSphere(100, 0.8), 0.3, 0.08);
    expect(cutTips(patch)).toEqual([tip]);
    const isNear = facesAtTips(patch.mesh, [tip]);
    const at = patch.mesh.positions.slice(3 * tip, 3 * tip + 3);
    for (let f = 0; f < isNear.length; f++) {
      const distance = Math.hypot(...faceCentre(patch.mesh, f).map((x, k) => x - at[k]));
      expect(isNear[f]).toBe(distance < 10 ? 1 : 0);
    }
    const strain = { stretch: Float64Array.from(isNear), squeeze: new Float64Array(isNear.length) };
    expect(isNear[worstFace(strain, isNear)]).toBe(0);
    expect(
      largestBeyond(patch.mesh, new Float64Array(isNear.length).fill(1000), strain, isNear, { stretch: 0.5, squeeze: 0.5 }).areaMm2,
    ).toBe(0);
  });

  it('sees the tip of an opening that runs in and back, not a plain corner of two openings [closed form]', () => {
    const { patch, tip } = slitDiscPatch((x, y) => [50 * x, 50 * y, 0], 0.3, 0.15);
    const opening = {
      ...patch,
      sides: patch.sides.map((side, i) => (i === 0 ? side : { halfEdges: side.halfEdges, kind: 'opening' as const, line: 'neck' })),
    };
    expect(cutTips(opening)).toEqual([tip]);
    const strip = patchOf('strip.1.C', stretchedStrip(4, () => 1).mesh, [0, 8, 9, 1], () => ({ kind: 'opening', line: 'neck' }));
    expect(cutTips(strip)).toEqual([]);
  });
});

describe('checkFlattenable', () => {
  const codeOf = (mesh: HalfEdgeMesh): string => {
    try {
      checkFlattenable(mesh);
    } catch (error) {
      return (error as { code: string }).code;
    }
    return 'sound';
  };
  const tetrahedron = Uint32Array.from([0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3]);
  const corners = Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 5, 5, 5]);

  it('names each way in which a surface cannot be laid flat [contract]', () => {
    expect(codeOf(buildMesh(corners, new Uint32Array(0)))).toBe('flatten/no-faces');
    expect(codeOf(buildMesh(corners, tetrahedron))).toBe('flatten/closed');
    const two = buildMesh(Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 5, 0, 0, 6, 0, 0, 5, 1, 0]), Uint32Array.from([0, 1, 2, 3, 4, 5]));
    expect(codeOf(two)).toBe('flatten/several-pieces');
    expect(codeOf(buildMesh(corners, tetrahedron.slice(0, 9)))).toBe('sound');
    expect(codeOf(buildMesh(Float64Array.from([0, 0, 0, 1, 0, 0, 2, 0, 0, 1, 1, 0]), Uint32Array.from([0, 1, 3, 1, 2, 3, 0, 2, 1])))).toBe(
      'flatten/no-area',
    );
    expect(
      codeOf(
        buildMesh(
          corners.map((x, k) => (k === 4 ? NaN : x)),
          Uint32Array.from([0, 1, 2]),
        ),
      ),
    ).toBe('flatten/no-area');
    expect(codeOf(pinched())).toBe('flatten/pinched');
    expect(codeOf(handle())).toBe('flatten/has-handle');
  });
});

describe('flattenMethods', () => {
  it('are the four of the contract, found by name [contract]', () => {
    expect(flattenMethods.map((one) => one.name).sort()).toEqual(['conformal', 'least-worst', 'shape', 'spectral']);
    expect(methodOf('spectral').rescaled).toBe(true);
    expect(() => methodOf('flat')).toThrow('flatten/unknown-method');
  });
});

describe('spectralMap', () => {
  it('does not feel the pins: dense and sparse halves and jagged rims give the smooth map, two pins do not [closed form]', async () => {
    const mesh = capMesh(100, 1.3, 2500);
    const smooth = new Float64Array((mesh.positions.length / 3) * 2);
    for (let v = 0; v < smooth.length / 2; v++) {
      const [x, y, z] = mesh.positions.slice(3 * v, 3 * v + 3);
      smooth[2 * v] = (2 * x) / (1 + z / 100);
      smooth[2 * v + 1] = (2 * y) / (1 + z / 100);
    }
    const free = await spectralMap(mesh, {}, quietRun);
    expect([free.converged, flippedFaces(mesh, free.positions).length]).toEqual([true, 0]);
    const pinned = similarityError((await conformalMap(mesh, {}, quietRun)).positions, smooth);
    const error = similarityError(free.positions, smooth);
    expect(error).toBeLessThan(0.004);
    expect(pinned).toBeGreaterThan(2 * error);
    expect(symmetricDirichlet(faceDistortion(mesh, free.positions))).toBeLessThan(
      symmetricDirichlet(faceDistortion(mesh, (await conformalMap(mesh, {}, quietRun)).positions)),
    );
  });

  it('lies level on the farthest border pair [contract]', () => {
    const turned = level(Float64Array.from([1, 1, 4, 5, 0, 2]), [0, 1]);
    expect(Array.from(turned.slice(0, 2))).toEqual([0, 0]);
    expect(turned[2]).toBeCloseTo(5, 12);
    expect(turned[3]).toBeCloseTo(0, 12);
  });

  it('is exact on a plane piece [closed form]', async () => {
    const disc = planeDisc(300, 8);
    const map = await spectralMap(
      lift(disc, (x, y) => [20 * x, 20 * y, 3]),
      {},
      quietRun,
    );
    expect(similarityError(map.positions, disc.points)).toBeLessThan(1e-7);
  });
});

describe('createStopwatch', () => {
  it('adds up laps by stage, and is 0 without a clock [contract]', () => {
    let time = 10;
    const watch = createStopwatch(() => time);
    time = 11;
    watch.lap('assemble');
    time = 14;
    watch.lap('solve');
    expect(watch.seconds()).toMatchObject({ assemble: 1, solve: 3, factor: 0, total: 4 });
    const silent = createStopwatch(undefined);
    silent.lap('order');
    expect(silent.seconds().total).toBe(0);
  });
});

/** Two triangle pairs that touch in one vertex only, joined far round by a band: here simply a bow-tie joined through a third fan. */
function pinched(): HalfEdgeMesh {
  const positions = Float64Array.from([0, 0, 0, 1, 0, 0, 1, 1, 0, -1, 0, 0, -1, -1, 0, 2, 2, 0, -2, 2, 0]);
  return buildMesh(
    positions,
    Uint32Array.from(
      [0, 1, 2, 0, 3, 4, 1, 5, 2, 2, 5, 6, 5, 3, 6, 3, 5, 4].slice(0, 12).concat([6, 3, 2].slice(0, 0), [6, 5, 3], [3, 5, 4]),
    ),
  );
}

/** A torus of 4 × 4 squares with one square left out. */
function handle(): HalfEdgeMesh {
  const n = 5;
  const at = (i: number, j: number): number => (i % n) * n + (j % n);
  const positions = Float64Array.from(
    range(n * n).flatMap((v) => {
      const [u, w] = [(2 * Math.PI * Math.floor(v / n)) / n, (2 * Math.PI * (v % n)) / n];
      return [(3 + Math.cos(w)) * Math.cos(u), (3 + Math.cos(w)) * Math.sin(u), Math.sin(w)];
    }),
  );
  const faces = range(n * n).flatMap((v) => {
    const [i, j] = [Math.floor(v / n), v % n];
    return v === 0 ? [] : [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1)];
  });
  return buildMesh(positions, Uint32Array.from(faces));
}
