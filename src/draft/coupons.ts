/*
 * A coupon sheet: what to cut from a new material to learn its figures. A stretch strip (cold and hot limits), a bend coupon (neutral factor and least
 * radius), a kerf square (kerf and shrink). The numbers measured are typed into the job's own materials.
 */
import type { Vec2 } from '../base/arrays.ts';
import { Failure } from '../base/failure.ts';
import type { Figure, Material } from '../materials/material.ts';
import { lineCurve, polylineCurve } from './curve.ts';
import type { Curve, Drawing, DrawingLabel, DrawingPath, LayerName } from './drawing.ts';
import { letterText, placeStrokes, textWidth } from './lettering.ts';

/** Gauge length on strips and side of the kerf square, mm: a difference in mm is a per cent. */
const gaugeMm = 100;
const stripMm = { length: 200, width: 25 } as const;
const letterMm = 3;
/** Longest line of words in the kerf square, mm. */
const lineMm = 90;

const rectangle = ([x, y]: Vec2, width: number, height: number): Curve =>
  polylineCurve(Float64Array.of(x, y, x + width, y, x + width, y + height, x, y + height), true);

/** The coupons of a material on one drawing, origin bottom left, 200 by 180 mm: fits A4. */
export function couponDrawing(material: Material): Drawing {
  const paths: DrawingPath[] = [];
  const labels: DrawingLabel[] = [];
  const draw = (layer: LayerName, curve: Curve): void => void paths.push({ layer, curve });
  const write = (text: string, at: Vec2): void => {
    for (const stroke of placeStrokes(letterText(text, letterMm).strokes, at, 0))
      paths.push({ layer: 'TEXT', curve: polylineCurve(Float64Array.from(stroke.flat()), false) });
    labels.push({ text, at, heightMm: letterMm, angle: 0 });
  };
  const gauge = ([x, y]: Vec2): void => {
    for (const end of [-gaugeMm / 2, gaugeMm / 2])
      draw('DRAWN', lineCurve([x + stripMm.length / 2 + end, y], [x + stripMm.length / 2 + end, y + stripMm.width]));
  };
  // Kerf square at the bottom, bend coupon and stretch strip above it.
  draw('CUT', rectangle([0, 0], gaugeMm, gaugeMm));
  wrapWords(material.name).forEach((line, i) => write(line, [5, 92 - 6 * i]));
  write('Kerf square', [5, 76]);
  write('wide __________ mm', [5, 68]);
  write('high __________ mm', [5, 60]);
  write('kerf = 100 - measured', [5, 48]);
  write('heat it, measure again:', [5, 36]);
  write('shrink = 1 - hot / cold', [5, 28]);
  write(`nominal ${material.thicknessMm.value} mm, real ________`, [5, 12]);
  const bend: Vec2 = [0, gaugeMm + 15];
  draw('CUT', rectangle(bend, stripMm.length, stripMm.width));
  gauge(bend);
  write('Bend coupon', [5, bend[1] + 15]);
  write('marks on both', [5, bend[1] + 9]);
  write('faces', [5, bend[1] + 3]);
  write('wrap round a tube of radius _____', [55, bend[1] + 17]);
  write('arcs: inside _____ outside _____', [55, bend[1] + 10.5]);
  write('least radius: cold ____ hot ____', [55, bend[1] + 4]);
  const stretch: Vec2 = [0, bend[1] + stripMm.width + 15];
  draw('CUT', rectangle(stretch, stripMm.length, stripMm.width));
  gauge(stretch);
  write('Stretch strip', [5, stretch[1] + 15]);
  write('100 between', [5, stretch[1] + 9]);
  write('the marks', [5, stretch[1] + 3]);
  write('cold, springs back up to _____', [55, stretch[1] + 15]);
  write('hot, without thinning up to _____', [55, stretch[1] + 4]);
  return { paths, labels };
}

/** Words in lines that fit the kerf square. */
function wrapWords(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const longer = lines.length === 0 ? word : `${lines[lines.length - 1]} ${word}`;
    if (lines.length > 0 && textWidth(longer, letterMm) <= lineMm) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** A maker's measurements of the coupons. */
export interface CouponReadings {
  /** Thickness of the sheet, mm. */
  readonly thicknessMm?: number;

  /** Kerf square as cut, wide and high, mm. */
  readonly squareMm?: readonly [number, number];
  /** One side of the same square after heating, mm. */
  readonly heatedMm?: number;
  /** Bend coupon: arc between the marks on the inner and outer face, mm, wrapped on a tube. */
  readonly arcMm?: { readonly inner: number; readonly outer: number };
  /** Least radius of a tube round which the strip goes without a crease, mm. */
  readonly leastRadiusMm?: { readonly cold: number; readonly hot: number };
  /** Gauge length that the cold strip springs back from, and that the hot strip takes, mm. */
  readonly stretchedMm?: { readonly cold: number; readonly hot: number };
}

/**
 * What the readings say. Kerf is 100 less the mean side (each side loses half a kerf); shrink 1 − hot/cold. Marks 100 apart on both faces read
 * arcs L_i and L_o on the bend: the plane whose length stayed 100 lies at k = (100 − L_i)/(L_o − L_i) of the thickness from the inside.
 */
export function figuresFrom(readings: CouponReadings): {
  readonly kerfMm?: number;
  readonly shrink?: number;
  readonly neutralFactor?: number;
  readonly stretchCold?: number;
  readonly stretchHot?: number;
} {
  const { squareMm, heatedMm, arcMm, stretchedMm } = readings;
  const side = squareMm === undefined ? undefined : (squareMm[0] + squareMm[1]) / 2;
  return {
    ...(side === undefined ? {} : { kerfMm: gaugeMm - side }),
    ...(side === undefined || heatedMm === undefined ? {} : { shrink: 1 - heatedMm / side }),
    ...(arcMm === undefined || !(arcMm.outer > arcMm.inner)
      ? {}
      : { neutralFactor: (gaugeMm - arcMm.inner) / (arcMm.outer - arcMm.inner) }),
    ...(stretchedMm === undefined ? {} : { stretchCold: stretchedMm.cold / gaugeMm - 1, stretchHot: stretchedMm.hot / gaugeMm - 1 }),
  };
}

/** What a figure may be; a reading beyond it is a slip of the ruler or of the keyboard. */
const sensible: Readonly<Record<keyof ReturnType<typeof figuresFrom>, readonly [least: number, most: number]>> = {
  kerfMm: [0, 10],
  shrink: [-0.05, 0.5],
  neutralFactor: [0, 1],
  stretchCold: [0, 1],
  stretchHot: [0, 3],
};

const readingWords: Readonly<Record<keyof typeof sensible, string>> = {
  kerfMm: 'a kerf of',
  shrink: 'a shrink of',
  neutralFactor: 'a neutral factor of',
  stretchCold: 'a cold stretch of',
  stretchHot: 'a hot stretch of',
};

/**
 * The material with the figures that the readings give, and every other figure as it was: to be kept among the job's own materials.
 * @param tool the tool that cut the kerf square
 * @param source what stands as the source of the new figures
 * @throws draft/coupon-reading when a reading gives a figure that cannot be
 */
export function materialFromCoupon(
  material: Material,
  readings: CouponReadings,
  tool: keyof Material['kerfMm'],
  source = 'your own coupon',
): Material {
  const figures = figuresFrom(readings);
  for (const [name, value] of Object.entries(figures) as [keyof typeof figures, number][]) {
    const [least, most] = sensible[name];
    if (!(value >= least && value <= most)) throw wrongReading(material, `${readingWords[name]} ${value.toFixed(3)}`);
  }
  const { thicknessMm, leastRadiusMm } = readings;
  for (const value of [thicknessMm, leastRadiusMm?.cold, leastRadiusMm?.hot])
    if (value !== undefined && !(value > 0)) throw wrongReading(material, `a thickness or radius of ${value} mm`);
  const figure = (value: number): Figure => ({ value, source });
  const { kerfMm, ...plain } = figures;
  return {
    ...material,
    ...(Object.fromEntries(Object.entries(plain).map(([name, value]) => [name, figure(value)])) as Partial<Material>),
    ...(kerfMm === undefined ? {} : { kerfMm: { ...material.kerfMm, [tool]: figure(kerfMm) } }),
    ...(thicknessMm === undefined ? {} : { realThicknessMm: figure(thicknessMm) }),
    ...(leastRadiusMm === undefined ? {} : { bendRadiusColdMm: figure(leastRadiusMm.cold), bendRadiusHotMm: figure(leastRadiusMm.hot) }),
  };
}

function wrongReading(material: Material, gives: string): Failure {
  return new Failure(
    'draft/coupon-reading',
    `The readings of the coupon of ${material.name} give ${gives}, which cannot be.`,
    { stage: 'draft', item: material.id },
    'Measure again in millimetres: the square, its side after heating, the arcs between the marks, the stretched length of 100.',
  );
}
