/*
 * Colours of strain: a diverging map that is even to the eye. Lightness and chroma change linearly from the middle to each end in Oklab
 * [ottosson2020], at one hue for stretch (orange) and one for squeeze (purple), so equal steps of strain are equal steps of colour and the
 * two arms are equally strong. Checked against the sRGB gamut in the tests; the ends stay apart for the common kinds of colour blindness.
 */

export type Rgb = readonly [number, number, number];

const middle = { lightness: 0.965, chroma: 0 } as const;
const end = { lightness: 0.53, chroma: 0.138 } as const;
const hue = { stretch: 50, squeeze: 300 } as const;

/**
 * Colour of a strain.
 * @param share strain over the end of the scale, −1 (squeezed) … 1 (stretched); beyond is clamped
 * @returns sRGB, 0…1
 */
export function strainColour(share: number): Rgb {
  const t = Math.min(1, Math.abs(share));
  const angle = ((share >= 0 ? hue.stretch : hue.squeeze) * Math.PI) / 180;
  const lightness = middle.lightness + t * (end.lightness - middle.lightness);
  const chroma = middle.chroma + t * (end.chroma - middle.chroma);
  return oklabToSrgb([lightness, chroma * Math.cos(angle), chroma * Math.sin(angle)]);
}

/** Colours of the scale from −1 to 1, r g b a … in 0…255, `size` of them: for the shader and for pictures. */
export function strainTable(size: number): Uint8Array {
  const table = new Uint8Array(4 * size);
  for (let i = 0; i < size; i++) {
    const rgb = strainColour((2 * i) / (size - 1) - 1);
    for (let k = 0; k < 3; k++) table[4 * i + k] = Math.round(255 * Math.min(1, Math.max(0, rgb[k])));
    table[4 * i + 3] = 255;
  }
  return table;
}

/** @source [ottosson2020] Oklab to linear sRGB, then the sRGB transfer curve. */
export function oklabToSrgb([lightness, a, b]: Rgb): Rgb {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    encode(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    encode(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    encode(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

const encode = (value: number): number => (value <= 0.0031308 ? 12.92 * value : 1.055 * Math.pow(value, 1 / 2.4) - 0.055);

/** `rgb(…)` as the browser writes it. */
export const cssColour = (rgb: Rgb): string => `rgb(${rgb.map((value) => Math.round(255 * Math.min(1, Math.max(0, value)))).join(' ')})`;

/**
 * End of the strain scale for a set of limits: the next round number above one and a half times the largest limit, so that the limit
 * mark always stands inside the scale.
 * @param limits ratios
 */
export function scaleEnd(limits: readonly number[]): number {
  const wanted = 1.5 * Math.max(0.01, ...limits);
  const steps = [0.02, 0.03, 0.05, 0.08, 0.1, 0.15, 0.2, 0.3, 0.5, 1];
  return steps.find((step) => step >= wanted - 1e-9) ?? 1;
}
