/*
 * Filling: the region around a point up to lines, borders of areas and open edges joins an area.
 */
import type { SurfacePoint } from '../mesh/surface-point.ts';
import { facesInside, localWeights } from './imprint.ts';
import type { Refinement } from './refinement.ts';

/**
 * Labels the connected faces around a point that have the same label now and no cut between them.
 * @param refinement is changed: it belongs to the caller
 */
export function fillRegion(refinement: Refinement, point: SurfacePoint, area: number): void {
  const { twin, cut, label } = refinement;
  let seed = -1;
  let most = -Infinity;
  for (const f of facesInside(refinement, point.face)) {
    const least = Math.min(...localWeights(refinement, point.face, f, point.weights[1], point.weights[2]));
    if (least > most) [seed, most] = [f, least];
  }
  const old = label[seed];
  if (seed === -1 || old === area) return;
  const stack = [seed];
  refinement.setLabel(seed, area);
  for (let f = stack.pop(); f !== undefined; f = stack.pop()) {
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      if (twin[h] === -1 || cut[h] !== 0) continue;
      const other = Math.floor(twin[h] / 3);
      if (label[other] !== old) continue;
      refinement.setLabel(other, area);
      stack.push(other);
    }
  }
}
