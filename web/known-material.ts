/*
 * Materials by id, where an unknown one is no fault: a job may name what this table does not have.
 */
import { materialOf } from '../src/materials/index.ts';
import type { Material } from '../src/materials/material.ts';

export function knownMaterial(id: string, own: readonly Material[]): Material | undefined {
  try {
    return materialOf(id, own);
  } catch {
    return undefined;
  }
}
