/*
 * Thermoplastic sheets, card, and the sheets that a laser must never meet. Keys: [expanded-pvc] fabrication guide, [laser-kerfs] table of cut
 * widths, [laser-hazards] lists of materials that must not meet a laser, [foam-skin] polystyrene skin over foam.
 */
import type { Figure, Material } from './material.ts';
import { commonPractice, fromMemory, measureCoupon } from './material.ts';

const figure = (value: number, source: string): Figure => ({ value, source });

interface SheetEntry {
  readonly id: string;
  readonly name: string;
  readonly family: Material['family'];
  readonly thicknessMm: Figure;
  readonly density: Figure;
  /** Strain limits: stretch cold, hot, squeeze cold, hot. */
  readonly limits: readonly [number, number, number, number];
  readonly bendRadiusMm: readonly [Figure, Figure];
  readonly laserKerf: Figure;
  readonly laser: Material['laser'];
  readonly laserReason: string;
  readonly sheets?: Material['sheets'];
  readonly notes: readonly string[];
}

function sheet(entry: SheetEntry): Material {
  const [stretchCold, stretchHot, squeezeCold, squeezeHot] = entry.limits;
  return {
    id: entry.id,
    name: entry.name,
    family: entry.family,
    thicknessMm: entry.thicknessMm,
    density: entry.density,
    neutralFactor: figure(0.5, measureCoupon),
    stretchCold: figure(stretchCold, measureCoupon),
    stretchHot: figure(stretchHot, measureCoupon),
    squeezeCold: figure(squeezeCold, measureCoupon),
    squeezeHot: figure(squeezeHot, measureCoupon),
    bendRadiusColdMm: entry.bendRadiusMm[0],
    bendRadiusHotMm: entry.bendRadiusMm[1],
    stripMm: figure(5, commonPractice),
    kerfMm: { hand: figure(0, commonPractice), knife: figure(0, commonPractice), laser: entry.laserKerf },
    shrink: figure(0, measureCoupon),
    laser: entry.laser,
    laserReason: entry.laserReason,
    ...(entry.sheets === undefined ? {} : { sheets: entry.sheets }),
    notes: entry.notes,
  };
}

const cardSheets = [
  { name: 'A1', widthMm: 594, heightMm: 841, source: '[paper-sizes]' },
  { name: 'A2', widthMm: 420, heightMm: 594, source: '[paper-sizes]' },
] as const;

export const sheets: readonly Material[] = [
  sheet({
    id: 'pcl-1',
    name: 'Low-temperature thermoplastic 1 mm (polycaprolactone)',
    family: 'thermoplastic',
    thicknessMm: figure(1, 'nominal; measure your sheet'),
    density: figure(1100, fromMemory),
    limits: [0.01, 0.2, 0.01, 0.1],
    bendRadiusMm: [figure(20, measureCoupon), figure(1, commonPractice)],
    laserKerf: figure(0.2, measureCoupon),
    laser: 'ask',
    laserReason: 'It melts and may carry fillers: ask for its data sheet.',
    notes: ['Softens at about 60 to 90 °C (from memory, check) and shrinks a little when heated again: cut a coupon.'],
  }),
  sheet({
    id: 'styrene-05',
    name: 'High-impact polystyrene 0.5 mm',
    family: 'thermoplastic',
    thicknessMm: figure(0.5, '[foam-skin]'),
    density: figure(1050, fromMemory),
    limits: [0.01, 0.2, 0.005, 0.1],
    bendRadiusMm: [figure(10, measureCoupon), figure(0.5, commonPractice)],
    laserKerf: figure(0.1, measureCoupon),
    laser: 'refused',
    laserReason: 'Polystyrene melts, catches fire and smokes heavily [laser-hazards].',
    notes: ['Used as a skin over foam.'],
  }),
  sheet({
    id: 'expanded-pvc-3',
    name: 'Expanded PVC sheet 3 mm',
    family: 'thermoplastic',
    thicknessMm: figure(3, 'nominal; measure your sheet'),
    density: figure(550, fromMemory),
    limits: [0.01, 0.2, 0.01, 0.1],
    bendRadiusMm: [figure(60, measureCoupon), figure(9, '[expanded-pvc]')],
    laserKerf: figure(0, measureCoupon),
    laser: 'refused',
    laserReason: 'PVC holds chlorine: burnt, it gives off hydrogen chloride, which harms lungs and machine [laser-hazards].',
    notes: ['Form at 121 to 177 °C, 30 to 50 s a millimetre [expanded-pvc].'],
  }),
  sheet({
    id: 'vinyl-1',
    name: 'Vinyl (PVC) leathercloth 1 mm',
    family: 'thermoplastic',
    thicknessMm: figure(1, 'nominal; measure your sheet'),
    density: figure(1200, fromMemory),
    limits: [0.03, 0.1, 0.01, 0.05],
    bendRadiusMm: [figure(1, commonPractice), figure(1, commonPractice)],
    laserKerf: figure(0, measureCoupon),
    laser: 'refused',
    laserReason: 'Vinyl is PVC and holds chlorine: burnt, it gives off hydrogen chloride, which harms lungs and machine [laser-hazards].',
    notes: [],
  }),
  sheet({
    id: 'card-250',
    name: 'Card 250 g/m² (0.35 mm)',
    family: 'card',
    thicknessMm: figure(0.35, fromMemory),
    density: figure(715, '250 g/m² over 0.35 mm'),
    limits: [0.005, 0.005, 0.005, 0.005],
    bendRadiusMm: [figure(3, measureCoupon), figure(3, measureCoupon)],
    laserKerf: figure(0.08, '[laser-kerfs]'),
    laser: 'allowed',
    laserReason: 'Card without a plastic coat is cut by lasers every day.',
    sheets: cardSheets,
    notes: ['Score every fold; fold along the grain.'],
  }),
  sheet({
    id: 'cardboard-2',
    name: 'Cardboard 2 mm',
    family: 'card',
    thicknessMm: figure(2, 'nominal; measure your sheet'),
    density: figure(600, fromMemory),
    limits: [0.005, 0.005, 0.005, 0.005],
    bendRadiusMm: [figure(40, measureCoupon), figure(40, measureCoupon)],
    laserKerf: figure(0.15, '[laser-kerfs]'),
    laser: 'allowed',
    laserReason: 'Card without a plastic coat is cut by lasers every day.',
    sheets: cardSheets,
    notes: ['Score or groove every bend.'],
  }),
];
