/*
 * Mates meet: the two sides of every seam brought to the same length in the plane, stretch by stretch, all patches that seams connect at
 * once. Neither side is held to its length in space: a cap's free rim is 1.156 times too long at 60°, and forcing it back costs the inside
 * 18 % of its width. The seams' stiffness is raised until the rule of the contract is met; what remains is a finding (ease).
 */
import type { F64 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { seamRule, seamStiffness } from '../base/tolerance.ts';
import type { Material } from '../materials/material.ts';
import type { Patch, Seam } from '../patches/patch.ts';
import type { FlatPart } from './flat-part.ts';
import { describeFlat } from './flatten-patch.ts';
import { createBarrier } from './contacts.ts';
import { searchJoint } from './joint-search.ts';
import type { JointSystem } from './joint-system.ts';
import { complianceDiagonal, jointStep, linearise, mismatches } from './joint-system.ts';
import { prepareNewton } from './newton.ts';
import type { SeamDifference, SeamStretch } from './seam-stretches.ts';
import { seamDifferences, seamStretches } from './seam-stretches.ts';

/**
 * Brings the sides of all seams to equal length.
 * @param flats flattened patches; patches without one are left out with their seams
 * @param patches their patches, mm, in any order
 * @param materials table to judge the strain by, looked up by `patch.material`
 * @returns the parts in the order of `flats`; one that no seam had to change is the same object. Findings `flatten/seam-differs` on the
 * part of a seam's first side where more than the aim remains.
 * @throws run/stopped, linalg/*
 * @source [zhang2018] boundary lengths as a term beside the distortion; the elimination through C H⁻¹ Cᵀ is ours
 */
export async function matchSeams(
  flats: readonly FlatPart[],
  patches: readonly Patch[],
  seams: readonly Seam[],
  materials: readonly Material[],
  run: Run,
): Promise<FlatPart[]> {
  const patchOf = new Map(patches.map((patch) => [patch.id, patch]));
  const result = new Map(flats.map((flat) => [flat.patch, flat]));
  const known = flats.map((flat) => patchOf.get(flat.patch)).filter((patch) => patch !== undefined);
  for (const group of connectedGroups(known, seams)) {
    await run.breathe();
    const groupFlats = group.map((patch) => result.get(patch.id)).filter((flat) => flat !== undefined);
    const matched = await matchGroup(group, groupFlats, seams, materials, run);
    for (const flat of matched) result.set(flat.patch, flat);
  }
  return flats.map((flat) => result.get(flat.patch) ?? flat);
}

/** Patches that seams join, directly or through others; groups in the order of their first patch. */
function connectedGroups(patches: readonly Patch[], seams: readonly Seam[]): Patch[][] {
  const label = new Map(patches.map((patch, i) => [patch.id, i]));
  let hasChanged = true;
  while (hasChanged) {
    hasChanged = false;
    for (const { sides } of seams) {
      const [one, other] = [label.get(sides[0].patch), label.get(sides[1].patch)];
      if (one === undefined || other === undefined || one === other) continue;
      label.set(sides[0].patch, Math.min(one, other));
      label.set(sides[1].patch, Math.min(one, other));
      hasChanged = true;
    }
  }
  const groups = new Map<number, Patch[]>();
  for (const patch of patches) {
    const key = label.get(patch.id) ?? -1;
    groups.set(key, [...(groups.get(key) ?? []), patch]);
  }
  return [...groups.values()];
}

async function matchGroup(
  patches: readonly Patch[],
  flats: readonly FlatPart[],
  seams: readonly Seam[],
  materials: readonly Material[],
  run: Run,
): Promise<FlatPart[]> {
  const stretches = seamStretches(patches, seams);
  const before = flats.map((flat) => flat.positions);
  if (stretches.length === 0) return [...flats];
  const isMovable = flats.every((flat) => flat.summary.flips === 0 && flat.summary.method === 'shape');
  const differences = seamDifferences(stretches, before);
  const areMet = differences.every((difference) => meetsAim(difference));
  const planes = isMovable && !areMet ? await equalise(patches, stretches, before, run) : before;
  const remaining = findRemaining(patches, seams, seamDifferences(stretches, planes));
  return flats.map((flat, p) => {
    const own = remaining.get(p) ?? [];
    if (planes[p] === before[p]) return own.length === 0 ? flat : { ...flat, findings: [...flat.findings, ...own] };
    const material = materials.find((candidate) => candidate.id === patches[p].material);
    if (material === undefined) throw new RangeError(`material ${patches[p].material} of patch ${patches[p].id} is not in the table`);
    return describeFlat(patches[p], material, planes[p], { ...flat.summary, findings: own });
  });
}

function meetsAim({ lengthsMm, worstStretchMm }: SeamDifference): boolean {
  const aim = Math.max(seamRule.aimMm, seamRule.aimShare * Math.min(...lengthsMm));
  return Math.abs(lengthsMm[0] - lengthsMm[1]) <= aim && worstStretchMm <= seamRule.stretchAimMm;
}

/**
 * Gauss–Newton on the joint energy, the seams' softness lowered from a tenth of the parts' own compliance until mates meet with room to
 * spare (a tenth of the aim) or the stiffest is reached.
 */
async function equalise(
  patches: readonly Patch[],
  stretches: readonly SeamStretch[],
  start: readonly F64[],
  run: Run,
): Promise<readonly F64[]> {
  const systems = [];
  for (const patch of patches) systems.push(await prepareNewton(patch.mesh, run));
  const barriers = patches.map((patch, p) => createBarrier(patch.mesh, start[p]));
  const system: JointSystem = { systems, barriers, stretches };
  const scale = systems.reduce((sum, { area }) => sum + 4 * area, 0);
  let planes = start;
  let softness: Float64Array | undefined;
  for (let stepCount = 0; stepCount < seamStiffness.stepLimit; stepCount++) {
    const linearised = await linearise(system, planes, { isProjected: true, ...(softness === undefined ? {} : { softness }) }, run);
    softness ??= complianceDiagonal(linearised, stretches.length).map((compliance) => compliance * seamStiffness.first);
    const step = jointStep(system, linearised, softness);
    const moved = searchJoint(system, planes, step, softness);
    if (moved !== undefined) planes = moved.planes;
    const isSettled = moved === undefined || -step.slope <= seamStiffness.settled * scale;
    if (!isSettled) continue;
    const worst = mismatches(stretches, planes).reduce((most, c) => Math.max(most, Math.abs(c)), 0);
    if (worst <= seamRule.stretchAimMm * seamStiffness.room || softness[0] <= 0) break;
    if (stepCount >= seamStiffness.stepLimit / 2) break;
    softness = softness.map((value) => value * seamStiffness.factor);
  }
  for (const { solver } of systems) solver.dispose();
  return planes;
}

/** Findings of seams that miss the aim, by the index of the first side's patch. */
function findRemaining(patches: readonly Patch[], seams: readonly Seam[], differences: readonly SeamDifference[]): Map<number, Finding[]> {
  const findings = new Map<number, Finding[]>();
  for (const difference of differences) {
    if (meetsAim(difference)) continue;
    const seam = seams[difference.seam];
    const owner = patches.findIndex((patch) => patch.id === seam.sides[0].patch);
    findings.set(owner, [...(findings.get(owner) ?? []), seamDiffers(seam, difference)]);
  }
  return findings;
}

function seamDiffers(seam: Seam, { lengthsMm, worstStretchMm }: SeamDifference): Finding {
  const difference = Math.abs(lengthsMm[0] - lengthsMm[1]);
  const isRefused = difference > seamRule.refuseMm;
  const isWarned = difference > seamRule.warnMm || worstStretchMm > seamRule.stretchWarnMm;
  const [longer, shorter] = lengthsMm[0] >= lengthsMm[1] ? seam.sides : [seam.sides[1], seam.sides[0]];
  return finding(
    isRefused ? 'severe' : isWarned ? 'warning' : 'note',
    'flatten/seam-differs',
    `Matching edges of seam ${seam.id} differ by ${difference.toFixed(1)} mm (${lengthsMm.map((length) => length.toFixed(1)).join(' and ')} mm; by up to ${worstStretchMm.toFixed(1)} mm between notches).`,
    { stage: 'flatten', item: seam.id },
    isRefused
      ? `Draw a further seam or dart beside it, or declare the difference as ease.`
      : `Ease the edge of ${longer.patch} into that of ${shorter.patch} between the notches.`,
  );
}
