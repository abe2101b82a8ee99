import { describe, expect, it } from 'vitest';
import type { FlatPart } from '../../src/flatten/flat-part.ts';
import type { Patch } from '../../src/patches/patch.ts';
import { keepFlats, keepPatches, keepUnchanged } from '../../web/keep-unchanged.ts';

// Only what is compared; the rest of a patch and of a flat part does not matter here.
const patch = (hash: string): Patch => ({ hash }) as Patch;
const flat = (name: string, x: number): FlatPart =>
  ({ patch: name, verdict: 'cold', positions: Float64Array.from([0, 0, x, 0]), sigma1: Float64Array.from([1]) }) as unknown as FlatPart;

describe('values from the worker', () => {
  it('are the old objects where the content is the same, and the new ones where it is not [invariant]', () => {
    const old = [patch('a'), patch('b')];
    const kept = keepPatches(old, structuredClone([patch('b'), patch('c')]));
    expect(kept[0]).toBe(old[1]);
    expect(kept[1].hash).toBe('c');
    const flats = [flat('a', 1), flat('b', 2)];
    const next = keepFlats(flats, structuredClone([flat('a', 1), flat('b', 2.0001)]));
    expect(next[0]).toBe(flats[0]);
    expect(next[1]).not.toBe(flats[1]);
    expect(next[1].positions[2]).toBe(2.0001);
  });

  it('keep the body’s mesh but take its new measures [invariant]', () => {
    const old = { hash: 'h', mesh: { positions: 1 }, measures: [] };
    const fresh = { hash: 'h', mesh: { positions: 1 }, measures: [{ name: 'bust' }] };
    const kept = keepUnchanged('body', old as never, fresh as never) as unknown as typeof fresh;
    expect(kept.mesh).toBe(old.mesh);
    expect(kept.measures).toEqual([{ name: 'bust' }]);
  });
});
