/*
 * Values cross from the worker as copies, so an unchanged body or part arrives as a new object. These functions give the old object back
 * when the content is the same, so that the views rebuild only what changed.
 */
import type { FlatPart } from '../src/flatten/flat-part.ts';
import type { Patch } from '../src/patches/patch.ts';
import type { Surface } from '../src/standoff/surface.ts';
import type { StageName, StageValues } from '../worker/protocol.ts';

interface Numbers {
  readonly length: number;
  readonly [index: number]: number;
}

export function isSameNumbers(a: Numbers, b: Numbers): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The old patches where the hash is the same. */
export function keepPatches(old: readonly Patch[], fresh: readonly Patch[]): Patch[] {
  const known = new Map(old.map((patch) => [patch.hash, patch]));
  return fresh.map((patch) => known.get(patch.hash) ?? patch);
}

/** The old flat parts where patch and plane positions are the same. */
export function keepFlats(old: readonly FlatPart[], fresh: readonly FlatPart[]): FlatPart[] {
  const known = new Map(old.map((flat) => [flat.patch, flat]));
  return fresh.map((flat) => {
    const before = known.get(flat.patch);
    return before?.verdict === flat.verdict && isSameNumbers(before.positions, flat.positions) && isSameNumbers(before.sigma1, flat.sigma1)
      ? before
      : flat;
  });
}

function keepSurfaces(old: readonly Surface[], fresh: readonly Surface[]): Surface[] {
  return fresh.map((surface, i) => {
    const before = i < old.length ? old[i] : undefined;
    return before?.material === surface.material &&
      before.distanceMm === surface.distanceMm &&
      isSameNumbers(before.mesh.positions, surface.mesh.positions)
      ? before
      : surface;
  });
}

/** The value to show for a stage: parts of the old one where they are the same. */
export function keepUnchanged<Name extends StageName>(
  name: Name,
  old: StageValues[Name] | undefined,
  fresh: StageValues[Name],
): StageValues[Name] {
  if (old === undefined) return fresh;
  const keep: { readonly [N in StageName]?: (old: StageValues[N], fresh: StageValues[N]) => StageValues[N] } = {
    body: (a, b) => (a.hash === b.hash ? { ...b, mesh: a.mesh } : b),
    clearance: keepSurfaces,
    draw: (a, b) => ({ ...b, cut: { ...b.cut, patches: keepPatches(a.cut.patches, b.cut.patches) } }),
    'lay-flat': keepFlats,
  };
  return keep[name]?.(old, fresh) ?? fresh;
}
