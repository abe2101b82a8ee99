/*
 * The table of acts.
 */
import type { Act } from './act.ts';
import { drawActs } from './draw-acts.ts';
import { editActs } from './edit-acts.ts';
import { goActs } from './go-acts.ts';
import { jobActs } from './job-acts.ts';
import { lookActs } from './look-acts.ts';

export const acts: readonly Act[] = [...jobActs, ...editActs, ...drawActs, ...goActs, ...lookActs];

export const runAct = (act: Act): void => {
  if (act.isReady?.() !== false) act.run();
};

export const actOf = (id: string): Act | undefined => acts.find((act) => act.id === id);
