/*
 * Foams. EVA in the thicknesses that are sold, and the foams that a maker may meet instead of it. No published strain limit of costume foam
 * was found, so limits are starting values to be replaced by a coupon's. Keys: [laser-kerfs] table of cut widths by material, [bend-allowance]
 * flat length of a bend, [laser-hazards] lists of materials that must not meet a laser, [eva-breakdown] what heated EVA gives off.
 */
import type { Figure, Material, SheetSize } from './material.ts';
import { commonPractice, fromMemory, measureCoupon } from './material.ts';

const figure = (value: number, source: string): Figure => ({ value, source });

const evaSheets: readonly SheetSize[] = [
  { name: 'tile', widthMm: 600, heightMm: 600, source: commonPractice },
  { name: 'tile, 24 in', widthMm: 610, heightMm: 610, source: '[tile-armour]' },
  { name: 'sheet, 20 x 40 in', widthMm: 508, heightMm: 1016, source: '[foam-project]' },
  { name: 'sheet, 1 m', widthMm: 1000, heightMm: 1000, source: commonPractice },
  { name: 'sheet, 1 x 2 m', widthMm: 1000, heightMm: 2000, source: commonPractice },
];

const noLaserYet =
  'EVA holds no chlorine or nitrogen [eva-breakdown], but its edge melts and can flame, and many workshops forbid foam: ask the operator, use extraction and air assist, never leave it.';

/** Least inner bend radius of a sheet whose outer fibre may stretch by ε: R = t·(1 − ε)/(2·ε); 10 % gives 4.5 t, 20 % gives 2 t. */
const bendRadius = (thicknessMm: number, strain: number): number => (thicknessMm * (1 - strain)) / (2 * strain);

/** Width of a laser cut in EVA: 0.5 mm at 5 mm to 1.0 mm at 10 mm in the table [laser-kerfs]; thinner sheets are not in it. */
const evaLaserKerf = (thicknessMm: number): Figure =>
  thicknessMm >= 5 ? figure(thicknessMm / 10, '[laser-kerfs]') : figure(0.3, measureCoupon);

interface FoamEntry {
  readonly id: string;
  readonly name: string;
  readonly thicknessMm: number;
  readonly density: Figure;
  readonly laser: Material['laser'];
  readonly laserReason: string;
  readonly laserKerf: Figure;
  readonly sheets?: readonly SheetSize[];
  readonly notes: readonly string[];
}

function foam(entry: FoamEntry): Material {
  const t = entry.thicknessMm;
  return {
    id: entry.id,
    name: entry.name,
    family: 'foam',
    thicknessMm: figure(t, 'nominal; measure your sheet'),
    density: entry.density,
    // Bending without buckling puts the neutral plane in the middle; closed-cell foam that buckles inside moves it outward.
    neutralFactor: figure(0.5, measureCoupon),
    stretchCold: figure(0.03, measureCoupon),
    stretchHot: figure(0.1, measureCoupon),
    squeezeCold: figure(0.02, measureCoupon),
    squeezeHot: figure(0.05, measureCoupon),
    bendRadiusColdMm: figure(bendRadius(t, 0.1), commonPractice),
    bendRadiusHotMm: figure(bendRadius(t, 0.2), commonPractice),
    stripMm: figure(Math.max(5, 2 * t), commonPractice),
    kerfMm: { hand: figure(0, commonPractice), knife: figure(0, commonPractice), laser: entry.laserKerf },
    shrink: figure(0, measureCoupon),
    laser: entry.laser,
    laserReason: entry.laserReason,
    ...(entry.sheets === undefined ? {} : { sheets: entry.sheets }),
    notes: entry.notes,
  };
}

const eva = (thicknessMm: number): Material =>
  foam({
    id: `eva-${thicknessMm}`,
    name: `EVA foam ${thicknessMm} mm`,
    thicknessMm,
    density: figure(120, fromMemory),
    laser: 'ask',
    laserReason: noLaserYet,
    laserKerf: evaLaserKerf(thicknessMm),
    sheets: evaSheets,
    notes: ['Air new foam for a day or two before working it in a closed room.'],
  });

const crossLinked = (thicknessMm: number): Material =>
  foam({
    id: `pe-${thicknessMm}`,
    name: `Cross-linked polyethylene foam ${thicknessMm} mm`,
    thicknessMm,
    density: figure(35, fromMemory),
    laser: 'ask',
    laserReason: 'Polyethylene foam melts and can flame: ask the operator.',
    laserKerf: figure(0.8, measureCoupon),
    notes: ['Softer than EVA: its edges dent under a strap.'],
  });

export const foams: readonly Material[] = [
  ...[2, 3, 4, 5, 6, 8, 10].map(eva),
  crossLinked(5),
  crossLinked(10),
  foam({
    id: 'pu-10',
    name: 'Polyurethane upholstery foam 10 mm',
    thicknessMm: 10,
    density: figure(30, fromMemory),
    laser: 'refused',
    laserReason: 'Polyurethane holds nitrogen: burnt, it gives off hydrogen cyanide, and the foam catches fire [laser-hazards].',
    laserKerf: figure(0, measureCoupon),
    notes: [],
  }),
  foam({
    id: 'neoprene-3',
    name: 'Neoprene foam 3 mm',
    thicknessMm: 3,
    density: figure(180, fromMemory),
    laser: 'refused',
    laserReason: 'Neoprene holds chlorine: burnt, it gives off hydrogen chloride [laser-hazards].',
    laserKerf: figure(0, measureCoupon),
    notes: [],
  }),
  foam({
    id: 'unknown-foam-6',
    name: 'Foam of unknown kind 6 mm',
    thicknessMm: 6,
    density: figure(100, measureCoupon),
    laser: 'refused',
    laserReason: 'Nobody knows what this foam gives off: it may hold chlorine. Get its data sheet first.',
    laserKerf: figure(0, measureCoupon),
    notes: ['Find out what it is before heating it.'],
  }),
];
