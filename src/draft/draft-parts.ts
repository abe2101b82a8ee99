/*
 * Drafting: from flattened patches to parts that can be cut, in order: prepare, fold, fair seam lines, cut lines, notches, walk, draw.
 * The two sides of a seam are drafted together.
 */
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import type { Run } from '../base/run.ts';
import { measureChain } from '../plane/chain.ts';
import { checkBends } from './bend-check.ts';
import { checkSkin } from './skin.ts';
import type { BevelStretch } from './bevel.ts';
import { bevelStretches, bladeLimit, reachOf } from './bevel.ts';
import type { DraftedPart, DraftedSeam } from './drafted-part.ts';
import type { PartSide, PartToDraw } from './draw-part.ts';
import { drawPart } from './draw-part.ts';
import type { FoldProfile } from './fold.ts';
import { flatFold, foldAlong, foldAtFraction } from './fold.ts';
import { assignCodes, codeText } from './notch-codes.ts';
import { countNotches, notchShares } from './notches.ts';
import type { FittedSide, UnitSide } from './outline.ts';
import { cutLoops, fitSeamLines } from './outline.ts';
import { mirrorDistance, pairToleranceMm } from './pairs.ts';
import type { DraftInput, Prepared, PreparedSeam } from './prepare.ts';
import { prepareParts } from './prepare.ts';
import { versionOf } from './version.ts';
import { judgeSeam, seamLimits, walkSeam } from './walk-seams.ts';

export type { DraftInput } from './prepare.ts';

export interface DraftResult {
  readonly parts: DraftedPart[];
  readonly seams: DraftedSeam[];
  readonly findings: readonly Finding[];
}

/** A seam with everything that its two sides share. */
interface SeamPlan extends PreparedSeam {
  readonly profile: FoldProfile;
  readonly stretches: readonly BevelStretch[];
  readonly code: readonly number[];
  readonly shares: readonly number[];
}

/**
 * Drafts all parts of a job.
 * @param input patches with their flattenings (a patch without one is left out), the seams that join them, and what the maker decided
 * @returns one part a flattened patch, in the order of the patches; one row a seam whose both parts are there
 * @throws materials/unknown; run/stopped
 */
export async function draftParts(input: DraftInput, run: Run): Promise<DraftResult> {
  run.report('draft', 0);
  const prepared = prepareParts(input);
  await run.breathe();
  const { plans, findings: codeFindings } = await planSeams(prepared, run);
  const units = unitsOf(prepared);
  const fitted = await fitAll(prepared, units, run);
  const sides = prepared.parts.map((_, part) => fitted[part].map((side, i) => partSide(prepared, plans, part, i, side)));
  run.report('draft', 0.6);
  const loops = cutLoops(
    sides.map((own) => own.map(({ fitted: side, allowanceMm, join, reach }) => ({ ...side, allowanceMm, join, reach }))),
    units,
  );
  await run.breathe();
  const seams = plans.map((plan) => draftSeam(prepared, plan, sides));
  const seamFindings = [...plans.flatMap((plan, i) => seamFindingsOf(prepared, plan, seams[i]))];
  const toDraw = prepared.parts.map((part, i): PartToDraw => ({
    part,
    sides: sides[i],
    loops: loops[i],
    version: versionOfPart(prepared, i, sides[i]),
    ...pairOf(prepared, i, loops),
    findings: [...checkBends(part), ...checkSkin(part), ...(loops[i].some(({ mended }) => mended) ? [mendedFinding(part.patch.id)] : [])],
  }));
  const parts: DraftedPart[] = [];
  for (const [i, part] of toDraw.entries()) {
    parts.push(drawPart(part, input));
    run.report('draft', 0.7 + (0.3 * (i + 1)) / toDraw.length);
    await run.breathe();
  }
  return { parts, seams, findings: [...prepared.findings, ...codeFindings, ...seamFindings] };
}

async function planSeams(prepared: Prepared, run: Run): Promise<{ readonly plans: SeamPlan[]; readonly findings: Finding[] }> {
  const { parts, seams } = prepared;
  const sidesOf = ({ first, second }: PreparedSeam) => [first, second].map(({ part, side }) => parts[part].flattened[side]);
  const counts = seams.map((seam) => countNotches(sidesOf(seam)));
  // By length on the surface, so that a fitting changes no other seam's code.
  const codes = assignCodes(seams.map(({ seam }, i) => ({ seam: seam.id, lengthMm: seam.surfaceMm, ...counts[i] })));
  const findings: Finding[] = [];
  const plans: SeamPlan[] = [];
  for (const seam of seams) {
    const [first, second] = [seam.first, seam.second].map(({ part, side }) => ({
      sheet: parts[part].sheet,
      side: parts[part].flattened[side],
    }));
    const { rule } = parts[seam.first.part];
    const profile = rule.on ? foldAlong(first, second) : flatFold;
    const code = codes.get(seam.seam.id);
    if (code === undefined)
      findings.push(
        finding(
          'warning',
          'draft/no-code-left',
          `Seam ${seam.seam.id} is too short for a notch code of its own: the codes that fit on it are taken.`,
          { stage: 'draft', item: seam.seam.id },
          'Join this seam by its letters, or merge some of the small seams.',
        ),
      );
    const stretches = rule.on ? bevelStretches(profile, rule.thicknessMm) : [];
    plans.push({ ...seam, profile, stretches, code: code ?? [], shares: notchShares(code?.length ?? 0) });
    await run.breathe();
  }
  return { plans, findings };
}

/** Mates together, every other side alone. */
function unitsOf({ parts, seams }: Prepared): UnitSide[][] {
  const units: UnitSide[][] = seams.map(({ first, second }) => [first, second]);
  const paired = new Set(units.flat().map(({ part, side }) => `${part}/${side}`));
  parts.forEach(({ borders }, part) =>
    borders.forEach((_, side) => {
      if (!paired.has(`${part}/${side}`)) units.push([{ part, side, against: false }]);
    }),
  );
  return units;
}

async function fitAll({ parts }: Prepared, units: readonly (readonly UnitSide[])[], run: Run): Promise<FittedSide[][]> {
  const fitted: FittedSide[][] = parts.map(() => []);
  for (const [i, unit] of units.entries()) {
    const fits = fitSeamLines(unit.map(({ part, side, against }) => ({ side: parts[part].borders[side], against })));
    unit.forEach(({ part, side }, k) => (fitted[part][side] = fits[k]));
    run.report('draft', 0.2 + (0.4 * (i + 1)) / units.length);
    await run.breathe();
  }
  return fitted;
}

function partSide(prepared: Prepared, plans: readonly SeamPlan[], part: number, side: number, fitted: FittedSide): PartSide {
  const { rule, allowances, joins } = prepared.parts[part];
  const plan = plans.find(({ first, second }) => [first, second].some((end) => end.part === part && end.side === side));
  const common = { fitted, measured: measureChain(fitted.fit), allowanceMm: allowances[side], join: joins[side] ?? ('butt' as const) };
  if (plan === undefined) return { ...common, reach: () => reachOf(0, rule) };
  const against = plan.second.part === part && plan.second.side === side;
  const mate = against ? plan.first : plan.second;
  return {
    ...common,
    reach: (share) => reachOf(foldAtFraction(plan.profile, against ? 1 - share : share), rule),
    seam: {
      id: plan.seam.id,
      against,
      mateId: prepared.parts[mate.part].borders[mate.side].id,
      code: plan.code,
      shares: plan.shares,
      stretches: plan.stretches,
    },
  };
}

function draftSeam({ parts }: Prepared, plan: SeamPlan, sides: readonly (readonly PartSide[])[]): DraftedSeam {
  const ends = [plan.first, plan.second] as const;
  const lengths = ends.map(({ part, side }) => sides[part][side].measured.lengthMm);
  const lengthsMm = [lengths[0], lengths[1]] as const;
  const walk = walkSeam(
    lengthsMm,
    plan.shares.map((share) => [share * lengthsMm[0], share * lengthsMm[1]]),
  );
  const bevels = [...plan.profile.folds].map((fold) => (fold * 90) / Math.PI);
  const idOf = ({ part, side }: UnitSide): string => parts[part].borders[side].id;
  return {
    id: plan.seam.id,
    kind: plan.seam.kind,
    line: plan.seam.line,
    sides: [idOf(plan.first), idOf(plan.second)],
    parts: [parts[plan.first.part].patch.id, parts[plan.second.part].patch.id],
    lengthsMm,
    differenceMm: walk.differenceMm,
    surfaceMm: plan.seam.surfaceMm,
    bevelDeg: { min: Math.min(...bevels), max: Math.max(...bevels) },
    code: codeText(plan.code),
    stretchesMm: walk.stretches,
    refused: Math.abs(walk.differenceMm) - plan.easeMm > seamLimits.refuseMm,
  };
}

function seamFindingsOf({ parts }: Prepared, plan: SeamPlan, seam: DraftedSeam): Finding[] {
  const findings = judgeSeam({
    id: seam.id,
    sides: seam.sides,
    walk: { lengthsMm: seam.lengthsMm, differenceMm: seam.differenceMm, stretches: seam.stretchesMm },
    easeMm: plan.easeMm,
  });
  const steepest = Math.max(Math.abs(seam.bevelDeg.min), Math.abs(seam.bevelDeg.max));
  const limitDeg = (bladeLimit * 180) / Math.PI;
  if (parts[plan.first.part].rule.on && steepest > limitDeg)
    findings.push(
      finding(
        'warning',
        'draft/bevel-too-steep',
        `Along seam ${seam.id} each edge leans ${steepest.toFixed(0)}° from square; a blade guide holds ${limitDeg}°.`,
        { stage: 'draft', item: seam.id },
        'Sand the bevel, or cut it in two passes.',
      ),
    );
  return findings;
}

function versionOfPart({ parts }: Prepared, index: number, sides: readonly PartSide[]): string {
  const part = parts[index];
  const reaches = sides.map(({ reach, allowanceMm }) =>
    Float64Array.from([0, 0.25, 0.5, 0.75, 1], (share) => reach(share).cut + allowanceMm),
  );
  const words = sides.flatMap(({ seam, fitted, join }) => [
    fitted.side.id,
    fitted.side.kind,
    seam?.mateId ?? '',
    join,
    codeText(seam?.code ?? []),
  ]);
  return versionOf([...part.borders.map(({ points }) => points), ...reaches], [part.patch.name, part.material.id, ...words]);
}

function pairOf(
  { parts }: Prepared,
  index: number,
  loops: readonly (readonly { readonly polygon: Parameters<typeof mirrorDistance>[0] }[])[],
) {
  const { pair } = parts[index].patch;
  const mate = parts.findIndex(({ patch }) => patch.id === pair);
  if (pair === undefined || mate < 0 || mirrorDistance(loops[index][0].polygon, loops[mate][0].polygon) > pairToleranceMm) return {};
  return { pairLetter: parts[mate].letter, ...(mate < index ? { mirrorOf: pair } : {}) };
}

function mendedFinding(item: string): Finding {
  return finding(
    'warning',
    'draft/outline-mended',
    `The cut line of part ${item} crossed itself where bevel or allowance is wider than a bay is deep; the crossing was cut off.`,
    { stage: 'draft', item },
    'Look at that place on the part; use a smaller allowance if it lost something that you need.',
  );
}
