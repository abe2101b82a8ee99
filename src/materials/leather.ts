/*
 * Leathers. Thickness is sold in ounces, 1 oz = 1/64 in ≈ 0.4 mm [leather-ounces], and a hide varies. Keys: [water-hardening] what hot water does
 * to vegetable-tanned leather, [laser-hazards] lists of materials that must not meet a laser, [hides] sizes of hides.
 */
import type { Figure, Material } from './material.ts';
import { commonPractice, fromMemory, measureCoupon } from './material.ts';

const figure = (value: number, source: string): Figure => ({ value, source });

interface LeatherEntry {
  readonly id: string;
  readonly name: string;
  readonly thicknessMm: number;
  readonly shrink: Figure;
  readonly laser: Material['laser'];
  readonly laserReason: string;
  readonly notes: readonly string[];
}

function leather(entry: LeatherEntry): Material {
  const t = entry.thicknessMm;
  return {
    id: entry.id,
    name: entry.name,
    family: 'leather',
    thicknessMm: figure(t, '[leather-ounces]'),
    density: figure(950, fromMemory),
    neutralFactor: figure(0.5, measureCoupon),
    stretchCold: figure(0.03, measureCoupon),
    stretchHot: figure(0.1, measureCoupon),
    squeezeCold: figure(0.01, measureCoupon),
    squeezeHot: figure(0.05, measureCoupon),
    bendRadiusColdMm: figure(2 * t, measureCoupon),
    // "Hot" stands for cased (wetted) leather here.
    bendRadiusHotMm: figure(1.5 * t, commonPractice),
    stripMm: figure(8, commonPractice),
    kerfMm: { hand: figure(0, commonPractice), knife: figure(0, commonPractice), laser: figure(0.2, fromMemory) },
    shrink: entry.shrink,
    laser: entry.laser,
    laserReason: entry.laserReason,
    sheets: [{ name: 'side', widthMm: 1800, heightMm: 700, source: '[hides]' }],
    notes: ['Lay plates in the bend of the hide and hidden parts in the belly.', ...entry.notes],
  };
}

const vegetableReason =
  'Vegetable-tanned leather is the only leather that a laser may cut; it smokes and smells: use extraction [laser-hazards].';

export const leathers: readonly Material[] = [
  leather({
    id: 'leather-2',
    name: 'Vegetable-tanned leather 5 oz (2 mm)',
    thicknessMm: 2,
    shrink: figure(0, measureCoupon),
    laser: 'ask',
    laserReason: vegetableReason,
    notes: [],
  }),
  leather({
    id: 'leather-3',
    name: 'Vegetable-tanned leather 8 oz (3.2 mm)',
    thicknessMm: 3.2,
    shrink: figure(0, measureCoupon),
    laser: 'ask',
    laserReason: vegetableReason,
    notes: [],
  }),
  leather({
    id: 'leather-4',
    name: 'Vegetable-tanned leather 10 oz (4 mm)',
    thicknessMm: 4,
    shrink: figure(0, measureCoupon),
    laser: 'ask',
    laserReason: vegetableReason,
    notes: [],
  }),
  leather({
    id: 'leather-hardened-3',
    name: 'Vegetable-tanned leather 8 oz, to be hardened in hot water',
    thicknessMm: 3.2,
    shrink: figure(0.125, '[water-hardening]'),
    laser: 'ask',
    laserReason: vegetableReason,
    notes: [
      'About 82 °C for half a minute: sides shrink to about 7/8 and the sheet thickens by about a quarter. Makers report up to 30 %: cut a coupon first.',
    ],
  }),
  leather({
    id: 'leather-chrome-2',
    name: 'Chrome-tanned leather 2 mm',
    thicknessMm: 2,
    shrink: figure(0, measureCoupon),
    laser: 'refused',
    laserReason: 'Burning chrome-tanned leather sets chromium(VI) free [laser-hazards].',
    notes: ['Does not harden in hot water.'],
  }),
];
