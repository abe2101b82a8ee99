import { describe, expect, it } from 'vitest';
import { cylinder } from '../../samples/bodies.ts';
import { capsule } from '../../samples/closed-bodies.ts';
import type { MeasureMark } from '../../src/body/settings.ts';
import { areaFadeMm, easeFadeMm, extraDistance } from '../../src/standoff/extra-distance.ts';
import { offsetDirections, pushedPositions } from '../../src/standoff/push.ts';
import { tapeAround } from '../../src/standoff/tape.ts';
import { bodyOf, plainSettings } from '../support/standoff-bodies.ts';

const girth = (name: string, height: number, radius: number): MeasureMark => ({
  name,
  kind: 'girth',
  points: [[radius, 0, height]],
  tapeMm: 0,
});
const tube = bodyOf(cylinder({ radius: 100, height: 600 }, { edgeMm: 8 }));
const heightOf = (v: number): number => tube.mesh.positions[3 * v + 2];

describe('ease', () => {
  const measures = [girth('waist', 200, 100), girth('bust', 350, 100)];

  it('gives ease/2π at the level of the girth of a straight tube, nothing at a measured girth without ease, and fades out above [closed form]', () => {
    const { extra, findings } = extraDistance(tube, { ...plainSettings, ease: [{ measure: 'bust', mm: 40 }] }, 8, { measures });
    expect(findings).toEqual([]);
    let checked = 0;
    extra.forEach((mm, v) => {
      const z = heightOf(v);
      if (Math.abs(z - 350) < 6) expect(mm).toBeCloseTo(40 / (2 * Math.PI), 1);
      else if (z <= 200 || z >= 350 + easeFadeMm) expect(mm).toBe(0);
      else expect(mm).toBeGreaterThanOrEqual(0);
      checked++;
    });
    expect(checked).toBeGreaterThan(1000);
  });
  it('grows the girth by what was asked within 0.3 mm where the side slopes too [contract: ease is girth growth]', () => {
    const body = bodyOf(capsule({ radius: 90, length: 60 }, { edgeMm: 5 }));
    // 40 mm above the tube the half sphere leans by 26°.
    const marks = [girth('upper', 70, 80)];
    const distance = 8;
    const grown = (ease: number): number => {
      const { extra } = extraDistance(body, { ...plainSettings, ease: [{ measure: 'upper', mm: ease }] }, distance, { measures: marks });
      const positions = pushedPositions(
        body.mesh,
        offsetDirections(body.mesh),
        Float64Array.from(extra, (mm) => mm + distance),
      );
      return tapeAround({ ...body.mesh, positions }, { point: [80, 0, 70], normal: [0, 0, 1] }) ?? NaN;
    };
    const before = grown(0);
    for (const ease of [20, 45]) expect(Math.abs(grown(ease) - before - ease)).toBeLessThan(0.3);
  });
  it('says which ease names no girth [contract]', () => {
    const { extra, findings } = extraDistance(tube, { ...plainSettings, ease: [{ measure: 'hip', mm: 30 }] }, 8, { measures });
    expect(findings.map((found) => found.code)).toEqual(['standoff/ease-without-girth']);
    expect(findings[0].where.item).toBe('hip');
    expect(extra.every((mm) => mm === 0)).toBe(true);
  });
});

describe("an area's own clearance", () => {
  it('is kept inside, fades to the job’s over the stated distance, and never overshoots [invariant]', () => {
    const inside = (v: number): boolean => heightOf(v) > 250 && heightOf(v) < 350;
    const areaClearanceMm = Float64Array.from({ length: tube.mesh.positions.length / 3 }, (_, v) => (inside(v) ? 12 : -1));
    const { extra } = extraDistance(tube, plainSettings, 8, { areaClearanceMm });
    let between = 0;
    extra.forEach((mm, v) => {
      const outside = Math.max(0, 250 - heightOf(v), heightOf(v) - 350);
      if (inside(v)) expect(mm).toBe(7);
      else if (outside > areaFadeMm) expect(mm).toBe(0);
      else if (mm > 0.1 && mm < 6.9) between++;
      expect(mm).toBeGreaterThanOrEqual(0);
      expect(mm).toBeLessThanOrEqual(7);
    });
    expect(between).toBeGreaterThan(200);
  });
  it('has no step: neighbours two rows apart differ by less than a quarter of the whole [invariant]', () => {
    const areaClearanceMm = Float64Array.from({ length: tube.mesh.positions.length / 3 }, (_, v) => (heightOf(v) < 300 ? 0 : -1));
    const { extra } = extraDistance(tube, plainSettings, 8, { areaClearanceMm });
    for (let h = 0; h < tube.mesh.faces.length; h++) {
      const [a, b] = [tube.mesh.faces[h], tube.mesh.faces[h % 3 === 2 ? h - 2 : h + 1]];
      expect(Math.abs(extra[a] - extra[b])).toBeLessThan(0.5 * 5);
    }
  });
});

describe('what the scan wore', () => {
  it('stands for that much of the clearance [contract: wornMm]', () => {
    const { extra } = extraDistance({ ...tube, wornMm: 2 }, plainSettings, 8, {});
    expect(extra.every((mm) => mm === -2)).toBe(true);
  });
});
