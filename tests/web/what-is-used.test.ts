import { describe, expect, it } from 'vitest';
import { materialOf } from '../../src/materials/index.ts';
import type { Sheet } from '../../src/nest/sheet.ts';
import { swapped } from '../../web/panels/order.ts';
import { whatIsUsed } from '../../web/panels/what-is-used.ts';

const sheet = (id: string, stock: string, parts: readonly string[]): Sheet => ({
  id,
  stock,
  material: 'eva-6',
  widthMm: 600,
  heightMm: 500,
  use: 0,
  placements: parts.map((part) => ({ part, xMm: 0, yMm: 0, angleDeg: 0, mirrored: false })),
});

describe('whatIsUsed', () => {
  const stock = { name: 'tile', material: 'eva-6', widthMm: 600, heightMm: 500, count: 8, marginMm: 0, turns: 'any', price: 5 } as const;
  const parts = [
    { id: 'a', areaMm2: 60_000 },
    { id: 'b', areaMm2: 30_000 },
  ];

  it('counts sheets, area and price by stock [closed form]', () => {
    const [tile, roll] = whatIsUsed(
      [sheet('sheet-1', 'tile', ['a']), sheet('sheet-2', 'tile', ['b']), sheet('sheet-3', 'roll', [])],
      [stock],
      () => undefined,
      parts,
    );
    expect(tile).toEqual({ stock: 'tile', sheets: 2, use: 90_000 / 600_000, cost: 10 });
    expect(roll).toEqual({ stock: 'roll', sheets: 1, use: 0 });
  });

  it('weighs parts by area, thickness and density [closed form]', () => {
    const material = materialOf('eva-6');
    const [tile] = whatIsUsed([sheet('sheet-1', 'tile', ['a'])], [stock], () => material, parts);
    const volumeM3 = 0.06 * (material.thicknessMm.value / 1000);
    expect(tile.partsKg).toBeCloseTo(volumeM3 * material.density.value, 12);
  });
});

describe('swapped', () => {
  it('exchanges two neighbours and nothing else [closed form]', () => {
    expect(swapped(['a', 'b', 'c', 'd'], 1)).toEqual(['a', 'c', 'b', 'd']);
  });
});
