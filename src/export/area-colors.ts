/*
 * Colours of areas and parts: the colour-blind-safe set of [okabe2008], in an order whose neighbours differ most; clay for the bare body.
 */
export type Rgb = readonly [number, number, number];

export const clay: Rgb = [201, 182, 164];

const palette: readonly Rgb[] = [
  [230, 159, 0],
  [86, 180, 233],
  [0, 158, 115],
  [204, 121, 167],
  [0, 114, 178],
  [213, 94, 0],
  [240, 228, 66],
];

/** The colour of the area or part of that number, from 0; after seven it begins again. */
export const areaColor = (index: number): Rgb => palette[index % palette.length];
