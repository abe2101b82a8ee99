/*
 * The table of flattening methods: one line a file.
 */
import { Failure } from '../base/failure.ts';
import { spectral } from './spectral.ts';
import { conformal } from './conformal.ts';
import type { FlattenMethod } from './flatten-method.ts';
import { leastWorst } from './least-worst.ts';
import { shape } from './shape.ts';

export const flattenMethods: readonly FlattenMethod[] = [shape, leastWorst, conformal, spectral];

/**
 * The method of a name.
 * @throws flatten/unknown-method listing the names that exist
 */
export function methodOf(name: string): FlattenMethod {
  const method = flattenMethods.find((known) => known.name === name);
  if (method === undefined)
    throw new Failure(
      'flatten/unknown-method',
      `There is no way of laying flat called "${name}".`,
      { stage: 'flatten' },
      `Use one of ${flattenMethods.map((known) => known.name).join(', ')}.`,
    );
  return method;
}
