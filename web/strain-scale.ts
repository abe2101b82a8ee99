/*
 * The scale of the strain colours: its end and its limit marks follow from the material of the parts on show.
 */
import { computed } from '@preact/signals';
import type { Material } from '../src/materials/material.ts';
import { materialOf } from '../src/materials/index.ts';
import { scaleEnd } from './colours/strain-map.ts';
import { cut, job, selection } from './state.ts';

/** Material of the chosen part, else of the innermost layer. */
export const shownSheet = computed<Material | undefined>(() => {
  const open = job.value;
  if (!open) return undefined;
  const part = selection.value?.kind === 'part' ? selection.value.id : undefined;
  const id = cut.value?.patches.find((patch) => patch.id === part)?.material ?? open.standoff.layers[0];
  try {
    return materialOf(id, open.materials);
  } catch {
    return undefined;
  }
});

/** Ratio at the ends of the scale. */
export const strainEnd = computed(() => {
  const sheet = shownSheet.value;
  return sheet ? scaleEnd([sheet.stretchHot.value, sheet.squeezeHot.value]) : 0.15;
});
