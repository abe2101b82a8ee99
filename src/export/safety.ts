/*
 * Cautions that the build sheet prints where they apply: short, in our own words, each with its source or 'common practice', and the month in
 * which they were put together. The product's own safety sheet, the workshop's rules and local law come first.
 */
import type { Material } from '../materials/material.ts';
import type { ExportOptions } from './exporter.ts';

export interface Caution {
  readonly title: string;
  readonly text: string;
  readonly source: string;
}

/** When these cautions were written. */
export const cautionsDate = '2026-11';

export const notProtective =
  'This pattern makes a costume. It is not personal protective equipment and has not been tested. It will not protect you against impact, blades, projectiles, heat or fire.';

export const comesFirst = 'The safety sheet of each product, the rules of your workshop and the law where you are come before these notes.';

const always: readonly Caution[] = [
  {
    title: 'Contact cement',
    text: 'Work outdoors or in forced airflow, with gloves, and a respirator for organic vapours where you cannot. No flame, spark or heat gun near open or drying cement: its vapour catches fire at room temperature. Close the tin.',
    source: 'safety sheets of contact adhesives, section 8',
  },
  {
    title: 'Sanding and rotary tools',
    text: 'Wear goggles and a dust mask of class P2, N95 or better, and draw the dust off: it spreads one to three metres.',
    source: 'common practice',
  },
  {
    title: 'Quick glue (cyanoacrylate)',
    text: 'Air the room and wear goggles. It bonds skin, and heats violently on cotton and wool; its accelerator burns.',
    source: 'common practice; irritation: reviews of ethyl cyanoacrylate',
  },
  {
    title: 'Paint and sealer from a can',
    text: 'Spray outdoors, in light coats, with a respirator for organic vapours.',
    source: 'safety sheets of spray coatings',
  },
  {
    title: 'Wearing it',
    text: 'Heat, sight, hearing and tripping: have someone with you, straps that open at once, and stay away from open flame, because foam burns.',
    source: 'common practice',
  },
];

const heat: Caution = {
  title: 'Heat gun',
  text: 'Keep it moving, stop when the surface turns glossy, stop at once if it smokes. Air the room, rest the gun on something that cannot burn. Never near cement.',
  source: 'common practice; the smoke of overheated EVA holds acetic acid [eva-breakdown]',
};

const knife: Caution = {
  title: 'Knives',
  text: 'Fresh blade, several light passes, cut away from you, a glove that resists cuts on the holding hand. Goggles too: a snapped blade flies.',
  source: 'common practice, reported accident',
};

const laser: Caution = {
  title: 'Laser',
  text: 'Cut before anything is glued or coated. Extraction and air assist on, never leave it alone, water or an extinguisher at hand. Ask whoever runs the laser about each material.',
  source: '[laser-hazards]',
};

const leather: Caution = {
  title: 'Hardening leather',
  text: 'Water of 80 degrees scalds: tongs and gloves. Dry slowly, no hotter than 50 to 70 degrees.',
  source: 'common practice',
};

const newFoam: Caution = {
  title: 'New foam',
  text: 'Air it for a day or two before you work it in a closed room.',
  source: 'common practice; formamide: Directive (EU) 2015/2115',
};

/** The cautions that apply to a job. */
export function cautionsFor(materials: readonly Material[], tool: ExportOptions['tool'], isFormedHot: boolean): readonly Caution[] {
  const has = (family: Material['family']): boolean => materials.some((material) => material.family === family);
  return [
    ...(tool === 'laser' ? [laser] : [knife]),
    ...(isFormedHot || has('thermoplastic') ? [heat] : []),
    ...(has('foam') ? [newFoam] : []),
    ...(has('leather') ? [leather] : []),
    ...always,
  ];
}
