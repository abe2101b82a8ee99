/*
 * The stack of layers: how far each layer's neutral plane lies from the skin.
 */
import { Failure } from '../base/failure.ts';
import type { Material } from '../materials/material.ts';
import type { StandoffSettings } from './settings.ts';

/**
 * Distance of each layer's neutral plane from the skin, mm, inner to outer: clearance + padding + the layers below + neutral factor × own
 * thickness.
 * @throws standoff/no-layers, standoff/unknown-material
 */
export function layerDistances(settings: StandoffSettings, materials: readonly Material[]): number[] {
  if (settings.layers.length === 0)
    throw new Failure('standoff/no-layers', 'The job has no layer of material.', { stage: 'clearance' }, 'Add at least one layer.');
  let below = settings.clearanceMm + settings.paddingMm;
  return settings.layers.map((id) => {
    const material = materials.find((known) => known.id === id);
    if (material === undefined)
      throw new Failure(
        'standoff/unknown-material',
        `Layer "${id}" is not a known material.`,
        { stage: 'clearance', item: id },
        `Use one of ${materials.map((known) => known.id).join(', ')}.`,
      );
    const distance = below + material.neutralFactor.value * material.thicknessMm.value;
    below += material.thicknessMm.value;
    return distance;
  });
}
