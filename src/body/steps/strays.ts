/*
 * Drop stray components: crumbs by themselves, larger parts where the maker gives a size.
 */
import { finding } from '../../base/failure.ts';
import type { Finding } from '../../base/failure.ts';
import type { Repair } from '../body.ts';
import { findStrays, measureComponents } from '../strays.ts';
import { compactTriangles } from '../triangles.ts';
import { unchanged } from './step.ts';
import type { Step } from './step.ts';

export const straysStep: Step = {
  name: 'strays',
  isDefault: true,
  mend: async (triangles, { asked }) => {
    const { labels, sizes } = measureComponents(triangles);
    if (sizes.length < 2) return unchanged(triangles);
    const limits = asked.flatMap((entry) => entry.maxMm ?? []);
    const isStray = findStrays(sizes, limits.length > 0 ? Math.max(...limits) : undefined);
    const count = isStray.filter(Boolean).length;
    const isDropped = Uint8Array.from(labels, (c) => (isStray[c] ? 1 : 0));
    const kept = sizes.filter((_, c) => !isStray[c]);
    const repairs: Repair[] = [];
    const findings: Finding[] = [];
    if (count > 0) {
      const largest = Math.max(...sizes.filter((_, c) => isStray[c]).map((size) => size.diagonalMm));
      const what = `${count} loose parts of at most ${largest.toFixed(1)} mm were dropped.`;
      repairs.push({ step: 'strays', what, count, largestMm: largest, done: true });
    }
    if (kept.length > 1) {
      const list = [...kept].sort((a, b) => b.areaMm2 - a.areaMm2).slice(1, 6);
      findings.push(
        finding(
          'warning',
          'body/several-parts',
          `The mesh has ${kept.length} separate parts; the smaller ones are ${list.map((size) => `${size.diagonalMm.toFixed(0)} mm`).join(', ')} across.`,
          { stage: 'body' },
          `Drop those that do not belong to the body: step "strays" with a size above ${Math.ceil(list[0].diagonalMm)} mm drops them all.`,
        ),
      );
    }
    return { triangles: count > 0 ? compactTriangles(triangles, isDropped) : triangles, repairs, findings };
  },
};
