/*
 * Mates meet: with seam-stretches.ts, joint-system.ts and joint-search.ts.
 */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/base/random.ts';
import { quietRun } from '../../src/base/run.ts';
import { createBarrier } from '../../src/flatten/contacts.ts';
import { faceDistortion, symmetricDirichlet } from '../../src/flatten/distortion.ts';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import { describeFlat, flattenPatch } from '../../src/flatten/flatten-patch.ts';
import { jointEnergy, jointStep, linearise } from '../../src/flatten/joint-system.ts';
import { matchSeams } from '../../src/flatten/match-seams.ts';
import { prepareNewton } from '../../src/flatten/newton.ts';
import type { SeamStretch } from '../../src/flatten/seam-stretches.ts';
import { addLengthGradientInto, planeLength, seamDifferences, seamStretches } from '../../src/flatten/seam-stretches.ts';
import { materials } from '../../src/materials/index.ts';
import type { Patch, Seam } from '../../src/patches/patch.ts';
import { goreSet, lift, onSphere, patchOf, range, slitDiscPatch, triangulateRegion } from '../support/flat-shapes.ts';

const material = materials.find((one) => one.id === 'eva-6') ?? materials[0];
const bump = (x: number, y: number): [number, number, number] => [
  150 * x,
  150 * y,
  45 * Math.exp(-6 * ((x - 0.35) ** 2 + (y - 0.25) ** 2)),
];

async function flattenAll(patches: readonly Patch[]): Promise<FlatPart[]> {
  const flats: FlatPart[] = [];
  for (const patch of patches) flats.push(await flattenPatch(patch, material, { method: 'shape' }, quietRun));
  return flats;
}

/** Three parts that meet in one point, on a bumpy surface: their seams differ when each takes its own best shape. */
function threeParts(): { patches: Patch[]; seams: Seam[] } {
  const { patches, seams } = goreSet(100, 1, 3, 0.08);
  const place = (x: number, y: number, z: number): [number, number, number] => [
    x * 1.2,
    y,
    z + 25 * Math.exp(-((x - 30) ** 2 + (y - 35) ** 2) / 900),
  ];
  const moved = patches.map((patch) => {
    const p = patch.mesh.positions;
    const positions = Float64Array.from(p, (_, k) => place(p[k - (k % 3)], p[k - (k % 3) + 1], p[k - (k % 3) + 2])[k % 3]);
    return { ...patch, mesh: { ...patch.mesh, positions } };
  });
  return { patches: moved, seams };
}

describe('seamStretches', () => {
  it('divides both sides at equal shares of length, in the same order in space [closed form]', () => {
    const { patches, seams } = goreSet(100, Math.PI / 2, 4, 0.07);
    const stretches = seamStretches(patches, seams);
    expect(stretches.filter((stretch) => stretch.seam === 0).length).toBe(Math.round((100 * Math.PI) / 2 / 30));
    for (const { sides, surfaceMm } of stretches) {
      const middles = sides.map((side) => {
        const { positions } = patches[side.patch].mesh;
        let [length, height] = [0, 0];
        for (let e = 0; e < side.share.length; e++) {
          const [a, b] = [3 * side.ends[2 * e], 3 * side.ends[2 * e + 1]];
          const edge = side.share[e] * Math.hypot(...[0, 1, 2].map((k) => positions[a + k] - positions[b + k]));
          length += edge;
          height += (edge * (positions[a + 2] + positions[b + 2])) / 2;
        }
        return { length, height: height / length };
      });
      for (const { length } of middles) expect(Math.abs(length / surfaceMm - 1)).toBeLessThan(1e-9);
      expect(Math.abs(middles[0].height - middles[1].height)).toBeLessThan(4);
    }
  });

  it('has the gradient of its length [second route]', () => {
    const side = { patch: 0, ends: Uint32Array.from([0, 1, 1, 2]), share: Float64Array.from([0.3, 1]) };
    const plane = Float64Array.from([0, 0, 3, 1, 4, -2]);
    const gradient = new Float64Array(6);
    addLengthGradientInto(gradient, side, plane, -2);
    for (let i = 0; i < 6; i++) {
      const [ahead, behind] = [1e-6, -1e-6].map((t) =>
        planeLength(
          side,
          plane.map((x, k) => (k === i ? x + t : x)),
        ),
      );
      expect(Math.abs(gradient[i] + (2 * (ahead - behind)) / 2e-6)).toBeLessThan(1e-8);
    }
  });
});

describe('jointStep', () => {
  it('is the minimiser of the linearised problem, as a dense look at its slope and curvature says [second route]', async () => {
    const { patches, seams } = threeParts();
    const flats = await flattenAll(patches);
    const systems = [];
    for (const patch of patches) systems.push(await prepareNewton(patch.mesh, quietRun));
    const planes = flats.map((flat) => flat.positions);
    const stretches = seamStretches(patches, seams);
    const system = { systems, stretches, barriers: patches.map((patch, p) => createBarrier(patch.mesh, planes[p])) };
    const softness = Float64Array.from(stretches, () => 1e-4);
    const step = jointStep(system, await linearise(system, planes, { softness, isProjected: true }, quietRun), softness);
    const at = (t: number): number =>
      jointEnergy(
        system,
        planes.map((plane, p) => Float64Array.from(plane, (x, i) => x + t * step.directions[p][i])),
        softness,
      );
    const t = 1e-5;
    expect(Math.abs((at(t) - at(-t)) / (2 * t) / step.slope - 1)).toBeLessThan(1e-4);
    // Along a Newton direction slope + curvature = 0 in the quadratic model; the true energy is close to it here.
    const curvature = (at(1e-3) - 2 * at(0) + at(-1e-3)) / 1e-6;
    expect(Math.abs(curvature / -step.slope - 1)).toBeLessThan(0.15);
  });
});

describe('matchSeams', () => {
  it('brings three parts that meet in one point to equal edges, stretch by stretch, at little cost [contract]', async () => {
    const { patches, seams } = threeParts();
    const flats = await flattenAll(patches);
    const stretches = seamStretches(patches, seams);
    const before = seamDifferences(
      stretches,
      flats.map((flat) => flat.positions),
    );
    expect(Math.max(...before.map((one) => one.worstStretchMm))).toBeGreaterThan(0.3);
    const matched = await matchSeams(flats, patches, seams, materials, quietRun);
    const after = seamDifferences(
      stretches,
      matched.map((flat) => flat.positions),
    );
    for (const { lengthsMm, worstStretchMm } of after) {
      expect(Math.abs(lengthsMm[0] - lengthsMm[1])).toBeLessThan(Math.max(0.5, 0.002 * lengthsMm[0]));
      expect(worstStretchMm).toBeLessThan(0.3);
    }
    matched.forEach((flat, p) => {
      expect([flat.summary.flips, flat.summary.overlaps]).toEqual([0, 0]);
      expect(flat.summary.symmetricDirichlet).toBeGreaterThanOrEqual(flats[p].summary.symmetricDirichlet - 1e-9);
      expect(flat.summary.symmetricDirichlet - flats[p].summary.symmetricDirichlet).toBeLessThan(0.02);
      expect(flat.findings.filter((one) => one.code === 'flatten/seam-differs')).toEqual([]);
    });
  });

  it('brings the legs of a dart to equal length, forced to no length in space [contract]', async () => {
    const { patch, seam } = slitDiscPatch(bump, 0.25, 0.06);
    const flats = await flattenAll([patch]);
    const stretches = seamStretches([patch], [seam]);
    expect(seamDifferences(stretches, [flats[0].positions])[0].worstStretchMm).toBeGreaterThan(0.5);
    const [matched] = await matchSeams(flats, [patch], [seam], materials, quietRun);
    const [{ lengthsMm, worstStretchMm }] = seamDifferences(stretches, [matched.positions]);
    expect(Math.abs(lengthsMm[0] - lengthsMm[1])).toBeLessThan(0.5);
    expect(worstStretchMm).toBeLessThan(0.3);
    expect(Math.abs(lengthsMm[0] - 2 * stretches.length * stretches[0].surfaceMm)).toBeGreaterThan(0.5);
    expect([matched.summary.flips, matched.summary.overlaps]).toEqual([0, 0]);
  });

  it('returns the same objects where nothing has to change, and parts without seams untouched [contract]', async () => {
    const gores = goreSet(100, 0.8, 4, 0.1);
    const lone = patchOf(
      'lone.1.C',
      lift(
        triangulateRegion(
          range(30).map((i) => [Math.cos((i * Math.PI) / 15), Math.sin((i * Math.PI) / 15)] as const),
          (x, y) => Math.hypot(x, y) < 1,
          0.2,
        ),
        onSphere(100, 0.5),
      ),
    );
    const patches = [...gores.patches, lone];
    const flats = await flattenAll(patches);
    const matched = await matchSeams(flats, patches, gores.seams, materials, quietRun);
    matched.forEach((flat, p) => {
      expect(flat).toBe(flats[p]);
    });
  });

  it('does not move parts that are not shapes, but says by how much their edges differ [contract]', async () => {
    const { patch, seam } = slitDiscPatch(bump, 0.25, 0.08);
    const conformal = await flattenPatch(patch, material, { method: 'conformal' }, quietRun);
    const [matched] = await matchSeams([conformal], [patch], [seam], materials, quietRun);
    expect(matched.positions).toBe(conformal.positions);
    const finding = matched.findings.find((one) => one.code === 'flatten/seam-differs');
    const [{ lengthsMm }] = seamDifferences(seamStretches([patch], [seam]), [conformal.positions]);
    expect(finding?.severity).toBe(Math.abs(lengthsMm[0] - lengthsMm[1]) > 3 ? 'severe' : 'warning');
    expect(finding?.what).toContain(Math.abs(lengthsMm[0] - lengthsMm[1]).toFixed(1));
  });

  it('is the same to the bit on every run [invariant]', async () => {
    const { patch, seam } = slitDiscPatch(bump, 0.3, 0.1);
    const flats = await flattenAll([patch]);
    const [one] = await matchSeams(flats, [patch], [seam], materials, quietRun);
    const [other] = await matchSeams(flats, [patch], [seam], materials, quietRun);
    expect(Array.from(one.positions)).toEqual(Array.from(other.positions));
    expect(symmetricDirichlet(faceDistortion(patch.mesh, one.positions))).toBe(one.summary.symmetricDirichlet);
  });

  it('stops when it is told to [contract]', async () => {
    const { patch, seam } = slitDiscPatch(bump, 0.3, 0.1);
    const flats = [
      describeFlat(patch, material, (await flattenAll([patch]))[0].positions, { method: 'shape', iterations: 0, converged: true }),
    ];
    const random = createRandom(1);
    const stopping = { ...quietRun, breathe: () => (random() < 0.3 ? Promise.reject(new Error('stopped')) : Promise.resolve()) };
    await expect(matchSeams(flats, [patch], [seam], materials, stopping)).rejects.toThrow('stopped');
  });
});

it('seam stretches know their seam by its index [contract]', () => {
  const { patches, seams } = goreSet(50, 0.5, 3, 0.2);
  const seen = new Set(seamStretches(patches, seams).map((stretch: SeamStretch) => stretch.seam));
  expect([...seen]).toEqual([0, 1, 2]);
});
