import { describe, expect, it } from 'vitest';
import { prepareParts } from '../../src/draft/prepare.ts';
import { checkSkin } from '../../src/draft/skin.ts';
import type { PreparedPart } from '../../src/draft/prepare.ts';
import { draftInput } from '../support/drafting.ts';
import { gridPatch } from '../support/patches.ts';

/** A sheet of 100 × 100 mm on a layer, a quarter of which must shrink by a given ratio. */
function skin(material: string, layer: number, shrink: number): PreparedPart {
  const { patch, flat } = gridPatch({
    id: 'skin.1.C',
    columns: 10,
    rows: 10,
    material,
    space: (u, v) => [100 * u, 100 * v, 0],
    plane: (u, v) => [100 * u, 100 * v],
  });
  const sigma1 = new Float64Array(200).fill(1).fill(1 / (1 - shrink), 0, 50);
  return prepareParts(draftInput([{ ...patch, layer }], [{ ...flat, sigma1 }])).parts[0];
}

describe('checkSkin', () => {
  it('says by how much and over what area a thin skin must shrink [closed form: strain 1/σ − 1 over a quarter]', () => {
    const [finding] = checkSkin(skin('eva-2', 1, 0.05));
    expect(finding.code).toBe('draft/skin-wrinkles');
    expect(finding.what).toContain('5 %');
    expect(finding.what).toContain('25 cm²');
    expect(finding.where.faces?.every((f) => f < 50)).toBe(true);
  });

  it('is silent within the limit, for the base layer, and for a thick relief [contract: layers]', () => {
    expect(checkSkin(skin('eva-2', 1, 0.015))).toEqual([]);
    expect(checkSkin(skin('eva-2', 0, 0.05))).toEqual([]);
    expect(checkSkin(skin('eva-6', 1, 0.05))).toEqual([]);
  });

  it('does not take stretch for squeeze [invariant]', () => expect(checkSkin(skin('eva-2', 1, -0.2))).toEqual([]));
});
