/*
 * The table of mending steps, in the order in which they run.
 */
import { collapsedStep, duplicatesStep } from './bad-faces.ts';
import { orientStep } from './orient.ts';
import type { Step } from './step.ts';
import { straysStep } from './strays.ts';
import { weldStep } from './weld.ts';

export const mendSteps: readonly Step[] = [weldStep, collapsedStep, duplicatesStep, orientStep, straysStep];
