/*
 * measures.ts, measure-length.ts and scale.ts: tape values beside the mesh.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { MeasureResult } from '../../src/body/body.ts';
import { measureLength } from '../../src/body/measure-length.ts';
import { allowedDifference, measureMarks } from '../../src/body/measures.ts';
import { fitScale, scaleFindings } from '../../src/body/scale.ts';
import { buildMesh } from '../../src/mesh/build.ts';
import type { HalfEdgeMesh } from '../../src/mesh/half-edge-mesh.ts';
import { createSpatialIndex } from '../../src/mesh/spatial.ts';
import type { Shape } from '../support/shapes.ts';
import { cylinder, grid, moved, ringSurface, sphere, together } from '../support/shapes.ts';

const meshOf = (shape: Shape): HalfEdgeMesh => buildMesh(shape.positions, shape.faces);
const lengthOn = (shape: Shape, ...points: Vec3[]): number => {
  const mesh = meshOf(shape);
  return measureLength(mesh, createSpatialIndex(mesh), points).lengthMm;
};

describe('measureLength', () => {
  it('is the straight distance on a flat grid, in any direction [closed form]', () => {
    const sheet = grid(300, 200, 75, 50);
    fc.assert(
      fc.property(fc.tuple(...[300, 200, 300, 200].map((most) => fc.double({ min: 0, max: most, noNaN: true }))), ([ax, ay, bx, by]) => {
        const straight = Math.hypot(ax - bx, ay - by);
        expect(Math.abs(lengthOn(sheet, [ax, ay, 0], [bx, by, 0]) - straight)).toBeLessThan(0.001 * straight + 1e-6);
      }),
      { seed: 4, numRuns: 40 },
    );
  });

  it('is the helix on a cylinder [closed form: √((rθ)² + h²)]', () => {
    const tube = cylinder(100, 300, 160, 75, false);
    for (const [angle, height] of [
      [0.5, 0],
      [1.2, 100],
      [2.5, 250],
    ] as const) {
      const length = lengthOn(tube, [100, 10, 0], [100 * Math.cos(angle), 10 + height, -100 * Math.sin(angle)]);
      expect(Math.abs(length / Math.hypot(100 * angle, height) - 1)).toBeLessThan(0.001);
    }
  });

  it('is the great circle on a sphere of 4 mm edges [closed form: rα]', () => {
    const ball = sphere(100, 5);
    for (const alpha of [0.4, 1.1, 2.4]) {
      const to: Vec3 = [100 * Math.sin(alpha) * 0.6, 100 * Math.sin(alpha) * 0.8, 100 * Math.cos(alpha)];
      expect(Math.abs(lengthOn(ball, [0, 0, 100], to) / (100 * alpha) - 1)).toBeLessThan(0.0015);
    }
  });

  it('goes over the shoulder of a cone by its development [closed form: chord of the sector]', () => {
    // Half-angle with sin = 0.4: the development of half a turn is a sector of 0.4·π; the straight chord passes beside the tip.
    const slant = 250;
    const cone = ringSurface(
      Array.from({ length: 61 }, (_, i) =>
        Array.from({ length: 128 }, (_, j) => {
          const s = slant * (1 - (0.98 * i) / 60);
          const angle = (2 * Math.PI * j) / 128;
          const r = 0.4 * s;
          return [r * Math.cos(angle), (slant - s) * Math.sqrt(1 - 0.16), -r * Math.sin(angle)] as const;
        }),
      ),
      false,
    );
    const length = lengthOn(cone, [100, 0, 0], [-100, 0, 0]);
    expect(Math.abs(length / (2 * slant * Math.sin(0.2 * Math.PI)) - 1)).toBeLessThan(0.001);
  });

  it('adds up over several points and refuses parts that are not joined [closed form]', () => {
    const sheet = grid(300, 200, 75, 50);
    expect(lengthOn(sheet, [0, 0, 0], [100, 0, 0], [100, 100, 0])).toBeCloseTo(200, 1);
    const two = together(
      sheet,
      moved(sheet, (x, y, z) => [x, y, z + 50]),
    );
    expect(() => lengthOn(two, [0, 0, 0], [0, 0, 50])).toThrowError(/body\/no-way/);
  });
});

describe('measureMarks', () => {
  const tube = meshOf(cylinder(150, 600, 180, 60, true));
  const mark = (kind: MeasureResult['kind'], points: Vec3[], tapeMm = 0): Parameters<typeof measureMarks>[1][number] => ({
    name: kind,
    kind,
    points,
    tapeMm,
  });

  it('measures each kind on a cylinder [closed forms]', () => {
    const { results, findings } = measureMarks(
      tube,
      [
        mark('girth', [[150, 300, 0]], 940),
        mark('length', [
          [150, 100, 0],
          [150, 400, 0],
        ]),
        mark('distance', [
          [150, 300, 0],
          [-150, 300, 0],
        ]),
        mark('height', [[150, 420, 0]]),
        mark('height', [
          [150, 420, 0],
          [150, 120, 0],
        ]),
      ],
      'y',
    );
    expect(findings).toEqual([]);
    const expected = [2 * Math.PI * 150, 300, 300, 420, 300];
    results.forEach((result, i) => expect(Math.abs(result.meshMm - expected[i]), result.kind).toBeLessThan(0.1));
    expect(results[0].differenceMm).toBeCloseTo(results[0].meshMm - 940, 9);
    expect(results[0].skinMm).toBeCloseTo(results[0].meshMm, 6);
  });

  it('takes what the scan wore off the girth, 2π times its thickness [closed form]', () => {
    const bare = measureMarks(tube, [mark('girth', [[150, 300, 0]])], 'y').results[0].meshMm;
    const worn = measureMarks(tube, [mark('girth', [[150, 300, 0]])], 'y', 3).results[0].meshMm;
    expect(bare - worn).toBeCloseTo(6 * Math.PI, 9);
  });

  it('turns a measure that cannot be taken into a finding and keeps the others [repro]', () => {
    const { results, findings } = measureMarks(tube, [mark('length', [[150, 100, 0]]), mark('height', [[150, 420, 0]])], 'y');
    expect(results.map((result) => result.kind)).toEqual(['height']);
    expect(findings.map((found) => found.code)).toEqual(['body/too-few-points']);
  });
});

describe('allowedDifference', () => {
  it('is 4 mm for small girths and heights, 5 mm for lengths, 9 mm for large girths [spec: ISO 20685]', () => {
    expect([
      allowedDifference('girth', 380),
      allowedDifference('girth', 940),
      allowedDifference('length', 400),
      allowedDifference('distance', 400),
      allowedDifference('height', 1200),
    ]).toEqual([4, 9, 5, 5, 4]);
  });
});

describe('fitScale', () => {
  const result = (kind: MeasureResult['kind'], meshMm: number, tapeMm: number): MeasureResult => ({
    name: `${kind} ${tapeMm}`,
    kind,
    tapeMm,
    meshMm,
    differenceMm: meshMm - tapeMm,
    allowedMm: allowedDifference(kind, tapeMm),
  });

  it('finds a pure scale error exactly and names it [closed form]', () => {
    const measures = [result('girth', 900, 945), result('length', 400, 420), result('height', 1200, 1260)];
    const fit = fitScale(measures);
    expect(fit?.scale).toBeCloseTo(1.05, 12);
    expect(fit?.verdict).toBe('scale');
    expect(scaleFindings(measures, fit ?? expect.fail())[0]).toMatchObject({ code: 'body/scale-error' });
    expect(scaleFindings(measures, fit ?? expect.fail())[0].what).toContain('5.0 % too small');
  });

  it('is the minimum of the weighted squares, girths counting a ninth [second route: direct search]', () => {
    const measures = [result('girth', 900, 960), result('length', 400, 410), result('height', 1250, 1262), result('girth', 370, 372)];
    const spread = [27, 5, 4, 12];
    const sum = (s: number): number =>
      measures.reduce((total, { meshMm, tapeMm }, i) => total + ((s * meshMm - tapeMm) / spread[i]) ** 2, 0);
    const scale = fitScale(measures)?.scale ?? NaN;
    for (const step of [1e-4, -1e-4, 1e-3, -1e-3]) expect(sum(scale + step)).toBeGreaterThan(sum(scale));
    // Bones decide: the height asks for 1.0096, the girth for 1.0667.
    expect(scale).toBeLessThan(1.013);
  });

  it('leaves a scan alone that fits, and does not trust one value [table]', () => {
    expect(fitScale([result('girth', 950, 943), result('height', 1200, 1197)])?.verdict).toBe('fits');
    expect(fitScale([result('height', 1200, 1260)])?.verdict).toBe('unsure');
    expect(fitScale([result('height', 1200, 0)])).toBeUndefined();
  });

  it('calls differing per cents posture or clothing and names the worst [repro]', () => {
    const measures = [result('girth', 1000, 900), result('height', 1260, 1260), result('length', 420, 420)];
    const fit = fitScale(measures) ?? expect.fail();
    expect(fit.verdict).toBe('shape');
    const [found] = scaleFindings(measures, fit);
    expect(found.code).toBe('body/tape-differs');
    expect(found.what).toContain('"girth 900"');
    expect(Math.abs(fit.scale - 1)).toBeLessThan(0.01);
  });
});
