/*
 * Colours of areas: the set of Okabe and Ito, which people with colour-blindness can tell apart [okabe2008], without black. Beyond seven
 * areas the set repeats with stripes; names stand beside every colour.
 */
const okabeIto = ['#56b4e9', '#e69f00', '#009e73', '#cc79a7', '#f0e442', '#0072b2', '#d55e00'] as const;

export const areaColour = (index: number): string => okabeIto[((index % okabeIto.length) + okabeIto.length) % okabeIto.length];

/** True where the colour repeats and needs its stripes. */
export const isStriped = (index: number): boolean => index >= okabeIto.length;

/** `#rrggbb` as r g b in 0…1. */
export function rgbOf(hex: string): readonly [number, number, number] {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}
