/*
 * The table of mending steps, in the order in which they run.
 */
import { collapsedStep, duplicatesStep } from './bad-faces.ts';
import { cutArmsStep, webStep } from './arms.ts';
import { cutAboveStep, cutBelowStep, cutPartStep, cutStep } from './cut.ts';
import { fillHolesStep } from './fill-holes.ts';
import { floorStep } from './floor.ts';
import { orientStep } from './orient.ts';
import { remeshStep, simplifyStep } from './remesh.ts';
import { smoothStep } from './smooth.ts';
import type { Step } from './step.ts';
import { straysStep } from './strays.ts';
import { weldStep } from './weld.ts';

export const mendSteps: readonly Step[] = [
  weldStep,
  collapsedStep,
  duplicatesStep,
  orientStep,
  straysStep,
  floorStep,
  cutStep,
  cutPartStep,
  // Above first: both heights count from the lowest vertex of the scan.
  cutAboveStep,
  cutBelowStep,
  webStep,
  cutArmsStep,
  fillHolesStep,
  simplifyStep,
  smoothStep,
  remeshStep,
];
