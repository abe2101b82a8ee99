/*
 * The table of materials. A maker's own entry (a coupon's values, a sheet of their own) replaces the table's by its id.
 */
import { Failure } from '../base/failure.ts';
import { foams } from './foam.ts';
import { leathers } from './leather.ts';
import type { Material } from './material.ts';
import { sheets } from './sheet.ts';

export const materials: readonly Material[] = [...foams, ...leathers, ...sheets];

/**
 * The material of an id: the maker's own before the table's.
 * @param own the job's own materials
 * @throws materials/unknown
 */
export function materialOf(id: string, own: readonly Material[] = []): Material {
  const found = own.find((material) => material.id === id) ?? materials.find((material) => material.id === id);
  if (found === undefined) {
    const known = [...new Set([...own, ...materials].map((material) => material.id))].join(', ');
    throw new Failure(
      'materials/unknown',
      `There is no material "${id}".`,
      { item: id },
      `Use one of ${known}, or add your own to the job.`,
    );
  }
  return found;
}
