/*
 * Cover skins: a thin sheet over the base cannot be squeezed, it wrinkles. Where the flattening asks a skin to shrink by more than it takes, the part
 * says so.
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import { faceAreas } from '../mesh/measure.ts';
import type { PreparedPart } from './prepare.ts';

/** A sheet over another layer that is no thicker than this is a skin, mm. Common practice: trim and skins are 2 mm at most. */
const skinMm = 2;

/** Smallest area that shows, mm². */
const leastMm2 = 100;

/** Where a cover skin will wrinkle; nothing for other layers. */
export function checkSkin({ patch, flat, material, rule }: Pick<PreparedPart, 'patch' | 'flat' | 'material' | 'rule'>): Finding[] {
  if (patch.layer === 0 || rule.thicknessMm > skinMm) return [];
  const limit = material.squeezeCold.value;
  const areas = faceAreas(patch.mesh);
  const squeezed: { readonly f: number; readonly squeeze: number }[] = [];
  let areaMm2 = 0;
  for (let f = 0; f < areas.length; f++) {
    // The sheet's strain is 1/σ − 1: below nought it must shrink.
    const squeeze = 1 - 1 / flat.sigma1[f];
    if (!(squeeze > limit)) continue;
    squeezed.push({ f, squeeze });
    areaMm2 += areas[f];
  }
  if (areaMm2 < leastMm2) return [];
  squeezed.sort((a, b) => b.squeeze - a.squeeze || a.f - b.f);
  const percent = (100 * squeezed[0].squeeze).toFixed(0);
  return [
    finding(
      'warning',
      'draft/skin-wrinkles',
      `The cover skin ${patch.id} must shrink by up to ${percent} % over ${(areaMm2 / 100).toFixed(0)} cm²: it will wrinkle there.`,
      { stage: 'draft', item: patch.id, faces: squeezed.slice(0, 20).map(({ f }) => f) },
      'Put a seam or dart through that place, or pull the skin on hot.',
    ),
  ];
}
