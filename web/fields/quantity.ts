/*
 * Numbers as people type them, with their unit, and as the page shows them. Inside: mm, ratios, degrees as given, counts.
 */

/** `places`: decimals shown. `units`: factor of each unit that may be typed, the first being the one shown. */
export interface Quantity {
  readonly units: Readonly<Record<string, number>>;
  readonly shown: string;
  readonly places: number;
  /** One press of an arrow key, and one pixel of a drag, in shown units. */
  readonly step: number;
}

const lengthUnits = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, inch: 25.4 } as const;

export const lengthMm: Quantity = { units: lengthUnits, shown: 'mm', places: 1, step: 1 };
export const lengthFine: Quantity = { units: lengthUnits, shown: 'mm', places: 2, step: 0.1 };
/** A ratio, shown in per cent. */
export const percent: Quantity = { units: { '%': 0.01 }, shown: '%', places: 1, step: 0.5 };
export const degrees: Quantity = { units: { '°': 1, deg: 1 }, shown: '°', places: 0, step: 1 };
export const count: Quantity = { units: { '': 1 }, shown: '', places: 0, step: 1 };
export const factor: Quantity = { units: { '×': 1, x: 1 }, shown: '×', places: 4, step: 0.001 };
export const density: Quantity = { units: { 'kg/m³': 1, 'kg/m3': 1 }, shown: 'kg/m³', places: 0, step: 5 };
export const plain: Quantity = { units: { '': 1 }, shown: '', places: 2, step: 0.05 };

/**
 * What was typed, in inner units; undefined if it is no number. Without a unit the shown unit is meant. A decimal comma and a fraction
 * ("3 1/2 in", "1/4") are taken; a sum of lengths ("1 m 20 cm") too.
 */
export function parseQuantity(text: string, quantity: Quantity): number | undefined {
  const clean = text
    .trim()
    .replace(/\u2212/g, '-')
    .replace(/(\d),(\d)/g, '$1.$2');
  if (clean === '') return undefined;
  const piece = /([+-]?)\s*(?:(\d+)\s+(\d+)\/(\d+)|(\d+)\/(\d+)|(\d+(?:\.\d*)?|\.\d+))\s*([^\d\s+-]*)/gy;
  let total = 0;
  let pieces = 0;
  let at = 0;
  let isNegative = false;
  while (at < clean.length) {
    piece.lastIndex = at;
    const match = piece.exec(clean);
    if (!match) return undefined;
    const [all, sign, whole, top, bottom, numerator, denominator, decimal, unit] = match;
    const size =
      whole !== undefined
        ? Number(whole) + Number(top) / Number(bottom)
        : numerator !== undefined
          ? Number(numerator) / Number(denominator)
          : Number(decimal);
    const scale = unit === '' ? shownFactor(quantity) : quantity.units[unit.toLowerCase()];
    if (scale === undefined || !Number.isFinite(size)) return undefined;
    if (pieces === 0) isNegative = sign === '-';
    else if (sign === '-' || unit === '') return undefined;
    total += size * scale;
    pieces++;
    at = piece.lastIndex;
    while (clean[at] === ' ') at++;
    if (all === '') return undefined;
  }
  return isNegative ? -total : total;
}

export const shownFactor = (quantity: Quantity): number => quantity.units[quantity.shown] ?? 1;

/** The number alone, in shown units, without trailing zeros beyond need. */
export function formatNumber(value: number, quantity: Quantity): string {
  const shown = value / shownFactor(quantity);
  const text = shown.toFixed(quantity.places);
  const trimmed = quantity.places > 0 ? text.replace(/\.?0+$/, '') : text;
  return (trimmed === '-0' ? '0' : trimmed).replace('-', '\u2212');
}

/** The number with its unit. */
export function formatQuantity(value: number, quantity: Quantity): string {
  const gap = quantity.shown === '' ? '' : quantity.shown === '°' ? '' : '\u202f';
  return quantity.shown === '×' ? `×${gap}${formatNumber(value, quantity)}` : `${formatNumber(value, quantity)}${gap}${quantity.shown}`;
}

export const showMm = (mm: number, places = 1): string => `${mm.toFixed(places).replace('-', '\u2212')}\u202fmm`;
export const showPercent = (ratio: number, places = 1): string => `${(100 * ratio).toFixed(places).replace('-', '\u2212')}\u202f%`;
export const showCm2 = (mm2: number): string => `${(mm2 / 100).toFixed(mm2 < 10_000 ? 1 : 0)}\u202fcm²`;
export const showDegrees = (value: number): string => `${(Math.round(value) + 0).toString().replace('-', '\u2212')}°`;

/** A file's size for people. */
export function showBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes}\u202fB`;
  return bytes < 1e6 ? `${(bytes / 1000).toFixed(0)}\u202fkB` : `${(bytes / 1e6).toFixed(1)}\u202fMB`;
}
