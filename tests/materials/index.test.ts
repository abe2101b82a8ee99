import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/base/failure.ts';
import { materialOf, materials } from '../../src/materials/index.ts';
import type { Figure, Material } from '../../src/materials/material.ts';
import { sheetThickness } from '../../src/materials/material.ts';

const figuresOf = (material: Material): Figure[] =>
  [
    material.thicknessMm,
    material.density,
    material.neutralFactor,
    material.stretchCold,
    material.stretchHot,
    material.squeezeCold,
    material.squeezeHot,
    material.bendRadiusColdMm,
    material.bendRadiusHotMm,
    material.stripMm,
    ...Object.values(material.kerfMm),
    material.shrink,
  ] as Figure[];

describe('materials', () => {
  it('holds every figure with a source and a number that can be reckoned with [invariant]', () => {
    for (const material of materials)
      for (const { value, source } of figuresOf(material)) {
        expect(Number.isFinite(value) && value >= 0, `${material.id} ${value}`).toBe(true);
        expect(source.length, material.id).toBeGreaterThan(3);
      }
  });

  it('has unique ids and 2 to 10 mm of foam [contract: materials]', () => {
    expect(new Set(materials.map((material) => material.id)).size).toBe(materials.length);
    const foam = materials.filter((material) => material.id.startsWith('eva-')).map((material) => material.thicknessMm.value);
    expect([Math.min(...foam), Math.max(...foam)]).toEqual([2, 10]);
  });

  it('starts 6 mm EVA at the default limits [contract: Verdict]', () => {
    const eva = materialOf('eva-6');
    expect([eva.stretchCold, eva.stretchHot, eva.squeezeCold, eva.squeezeHot].map((figure) => figure.value)).toEqual([
      0.03, 0.1, 0.02, 0.05,
    ]);
  });

  it('keeps the outer fibre of a cold bend at 10 % and of a hot bend at 20 % [closed form: ε = t/(2R + t)]', () => {
    for (const material of materials.filter(({ family }) => family === 'foam')) {
      const strain = (radius: number): number => material.thicknessMm.value / (2 * radius + material.thicknessMm.value);
      expect(strain(material.bendRadiusColdMm.value)).toBeCloseTo(0.1, 12);
      expect(strain(material.bendRadiusHotMm.value)).toBeCloseTo(0.2, 12);
    }
  });

  it('is never laxer cold than hot [invariant]', () => {
    for (const material of materials) {
      expect(material.stretchCold.value, material.id).toBeLessThanOrEqual(material.stretchHot.value);
      expect(material.squeezeCold.value, material.id).toBeLessThanOrEqual(material.squeezeHot.value);
      expect(material.bendRadiusHotMm.value, material.id).toBeLessThanOrEqual(material.bendRadiusColdMm.value);
    }
  });

  it('refuses a laser for chlorine-bearing and unknown sheet [contract: laser rule]', () => {
    for (const material of materials)
      if (/pvc|vinyl|neoprene|unknown|chrome/i.test(`${material.id} ${material.name}`)) {
        expect(material.laser, material.id).toBe('refused');
        expect(material.laserReason).toMatch(/chlorine|chromium/);
      }
  });
});

describe('materialOf', () => {
  it("prefers the maker's own entry [contract: materials]", () => {
    const own: Material = { ...materialOf('eva-6'), realThicknessMm: { value: 5.6, source: 'callipers' } };
    expect(materialOf('eva-6', [own])).toBe(own);
    expect(sheetThickness(own)).toBe(5.6);
    expect(sheetThickness(materialOf('eva-6'))).toBe(6);
  });

  it('lists what would have worked when the id is unknown [conventions 24]', () => {
    let failure: unknown;
    try {
      materialOf('cheese');
    } catch (thrown) {
      failure = thrown;
    }
    expect(failure).toBeInstanceOf(Failure);
    expect((failure as Failure).code).toBe('materials/unknown');
    expect((failure as Failure).mend).toContain('eva-6');
  });
});
