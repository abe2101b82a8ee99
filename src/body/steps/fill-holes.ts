/*
 * Holes: small ones are filled by themselves, larger ones up to the size that the maker gives; openings for neck, arms, waist and legs are
 * named and left.
 */
import { finding } from '../../base/failure.ts';
import type { Finding } from '../../base/failure.ts';
import { buildMesh } from '../../mesh/build.ts';
import type { Repair } from '../body.ts';
import { fillHoles } from '../fill-holes.ts';
import { borderWords, listBorders } from '../holes.ts';
import type { Border } from '../holes.ts';
import { unchanged } from './step.ts';
import type { Step } from './step.ts';

/** Holes up to this width are filled unasked, mm: gaps between a few faces. */
const smallHoleMm = 10;
/** Width up to which holes are filled where the maker agrees without a number, mm. */
const agreedHoleMm = 80;

/** Openings that a finding names. */
const mostNamed = 6;

export const fillHolesStep: Step = {
  name: 'fill-holes',
  isDefault: true,
  mend: async (triangles, { asked, up, isRefused }, run) => {
    const mesh = buildMesh(triangles.positions, triangles.faces);
    if (mesh.twin.every((twin) => twin !== -1)) return unchanged(triangles);
    const borders = listBorders(mesh, up);
    const limit = asked.length === 0 ? smallHoleMm : Math.max(...asked.map((entry) => entry.maxMm ?? agreedHoleMm));
    const holes = borders.filter((border) => border.kind === 'hole');
    const chosen = holes.filter((hole) => hole.diameterMm <= limit);
    const { triangles: filled, filled: count } = await fillHoles(
      mesh,
      chosen.map((hole) => hole.halfEdges),
      run,
    );
    const repairs: Repair[] = [];
    if (count > 0) {
      const largestMm = Math.max(...chosen.map((hole) => hole.diameterMm));
      const what = `${count} holes of at most ${largestMm.toFixed(0)} mm were filled fair with their surroundings.`;
      repairs.push({ step: 'fill-holes', what, count, largestMm, done: true });
    }
    const left = isRefused ? holes : holes.filter((hole) => hole.diameterMm > limit);
    return { triangles: filled, repairs, findings: [...holeFindings(left, chosen.length - count), ...openingFindings(borders)] };
  },
};

function holeFindings(left: readonly Border[], failed: number): Finding[] {
  const findings: Finding[] = [];
  if (left.length > 0) {
    const sizes = left.slice(0, 8).map((hole) => `${hole.diameterMm.toFixed(0)} mm`);
    findings.push(
      finding(
        'warning',
        'body/holes',
        `${left.length} holes are open: ${sizes.join(', ')}${left.length > 8 ? ' …' : ''} wide.`,
        { stage: 'body', at: [...left[0].middle] },
        `Fill them by the step "fill-holes" with a width of ${Math.ceil(left[0].diameterMm)} mm, or leave those that no part will cover.`,
      ),
    );
  }
  if (failed > 0)
    findings.push(
      finding(
        'warning',
        'body/holes-not-filled',
        `${failed} holes could not be filled: their borders touch themselves.`,
        { stage: 'body' },
        'Weld the mesh within a small distance first (step "weld"), or leave them.',
      ),
    );
  return findings;
}

function openingFindings(borders: readonly Border[]): Finding[] {
  const openings = borders.filter((border) => border.kind !== 'hole' && border.kind !== 'rim');
  if (openings.length === 0) return [];
  const more = openings.length > mostNamed ? ` and ${openings.length - mostNamed} more` : '';
  const list = openings
    .slice(0, mostNamed)
    .map((border) => `${borderWords[border.kind]} (${border.lengthMm.toFixed(0)} mm around)`)
    .join(', ');
  return [
    finding(
      'note',
      'body/openings',
      `Left open on purpose: ${list}${more}.`,
      { stage: 'body' },
      'Nothing to do; a plane can cut a border straight.',
    ),
  ];
}
