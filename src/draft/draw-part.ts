/*
 * One part as a drawing: cut lines, bevel lines, notches, carried marks and words on their layers; mirrored once where the inner face is traced.
 */
import type { F64, Vec2 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import type { MeasuredChain } from '../plane/chain.ts';
import { alongChain } from '../plane/chain.ts';
import { fitTogether } from '../plane/curve-fit.ts';
import { offsetFitMm } from '../base/tolerance.ts';
import { boxOf, signedArea } from '../plane/polygon.ts';
import { arcLengths, reversed } from '../plane/polyline.ts';
import type { BevelStretch, Reach } from './bevel.ts';
import { bevelWords } from './bevel.ts';
import { carriedLines, fittingCurves, planePlace } from './carried-marks.ts';
import { flattenCurve, mapCurve, segmentsOf } from './curve.ts';
import { curveTemplates } from './curve-templates.ts';
import type { Curve, DrawingPath, LayerName } from './drawing.ts';
import type { DraftedBevel, DraftedNotch, DraftedPart, DraftedSide } from './drafted-part.ts';
import type { Space } from './free-space.ts';
import type { EdgeWords } from './labels.ts';
import { placeLabels } from './labels.ts';
import type { CutLoop, FittedSide } from './outline.ts';
import { drawNotch } from './notches.ts';
import type { DraftInput, PreparedPart } from './prepare.ts';

/** What a part's side needs of its seam. Shares run in the seam's direction. */
interface SideSeam {
  readonly id: string;
  readonly against: boolean;
  readonly mateId: string;
  readonly code: readonly number[];
  /** Shares at which the notches stand. */
  readonly shares: readonly number[];
  readonly stretches: readonly BevelStretch[];
}

export interface PartSide {
  readonly fitted: FittedSide;
  readonly measured: MeasuredChain;
  readonly allowanceMm: number;
  readonly join: 'butt' | 'lap' | 'tab';
  /** By share in border direction. */
  readonly reach: (share: number) => Reach;
  readonly seam?: SideSeam;
}

/** A part that is ready to be drawn. */
export interface PartToDraw {
  readonly part: PreparedPart;
  readonly sides: readonly PartSide[];
  readonly loops: readonly CutLoop[];
  readonly version: string;
  readonly pairLetter?: string;
  readonly mirrorOf?: string;
  readonly findings: readonly Finding[];
}

/** Follows the curve on CUT this closely, mm. */
const outlineToleranceMm = 0.004;

/** Draws a part. */
export function drawPart({ part, sides, loops, version, pairLetter, mirrorOf, findings }: PartToDraw, input: DraftInput): DraftedPart {
  const mirrored = input.settings.tracedFace === 'inner';
  const toFile = frameOf(loops[0].polygon, mirrored);
  const id = part.patch.id;
  const paths: DrawingPath[] = [];
  const draw = (layer: LayerName, curve: Curve): void => void paths.push({ layer, curve: mapCurve(curve, toFile), part: id });
  loops.forEach(({ curve }, i) => draw(i === 0 ? 'CUT' : 'CUT_INSIDE', curve));
  // The seam line inside an allowance: where a lap ends, where tabs are folded.
  for (const { fitted, allowanceMm, join } of sides)
    if (allowanceMm > 0) draw(join === 'tab' ? 'SCORE' : 'DRAWN', chainCurve(fitted.fit.chain));
  const bevels = sides.flatMap((side) => drawBevels(side, draw));
  const notches = sides.flatMap((side) => drawNotches(side, input, draw));
  for (const { layer, curve } of carriedLines(part.patch, positionsOf(part), input.lines)) draw(layer, curve);
  for (const point of part.patch.points)
    for (const curve of fittingCurves(point.kind, planePlace(part.patch, positionsOf(part), point.face, point.weights)))
      draw('DRAWN', curve);
  const polygons = loops.map(({ curve }, i) => orient(flattenCurve(mapCurve(curve, toFile), outlineToleranceMm), i === 0));
  const space: Space = { outer: polygons[0], holes: polygons.slice(1), lines: drawnLines(paths), boxes: [] };
  const words = placeLabels(
    { part: id, blocks: blocksOf(part, input, version, pairLetter), edges: sides.flatMap((side) => edgeWords(side, toFile)) },
    space,
  );
  const { patch, flat } = part;
  return {
    id,
    letter: part.letter,
    name: patch.name,
    side: patch.side,
    ...(patch.pair === undefined ? {} : { pair: patch.pair }),
    area: patch.area,
    layer: patch.layer,
    material: part.material.id,
    count: 1,
    faces: patch.mesh.faces.length / 3,
    areaMm2: polygons.reduce((sum, polygon) => sum + signedArea(polygon), 0),
    surfaceAreaMm2: flat.summary.surfaceAreaMm2,
    summary: flat.summary,
    strain: {
      stretch: flat.summary.stretch,
      squeeze: flat.summary.squeeze,
      worstAt: flat.summary.worstAt,
      ...(flat.summary.atTips === undefined ? {} : { atTips: flat.summary.atTips }),
    },
    verdict: flat.verdict,
    forming: patch.forming,
    outline: polygons[0],
    holes: polygons.slice(1),
    sides: sides.map((side) => draftedSide(side, toFile)),
    notches: notches.map((notch) => ({ ...notch, at: toFile(notch.at) })),
    bevels,
    drawing: { paths: [...paths, ...words.paths], labels: words.labels },
    templates: curveTemplates(part),
    mirrored,
    version,
    ...(mirrorOf === undefined ? {} : { mirrorOf }),
    findings: [...findings, ...words.findings],
  };
}

const positionsOf = (part: PreparedPart): F64 => part.sheet.positions;

/** From the outside view to the file: mirrored if the inner face is traced, box corner at the origin. */
function frameOf(polygon: F64, mirrored: boolean): (point: Vec2) => Vec2 {
  const { min, max } = boxOf(polygon);
  return mirrored ? ([x, y]) => [max[0] - x, y - min[1]] : ([x, y]) => [x - min[0], y - min[1]];
}

function orient(polygon: F64, isOutline: boolean): F64 {
  return signedArea(polygon) > 0 === isOutline ? polygon : reversed(polygon);
}

function draftedSide({ fitted, measured, allowanceMm }: PartSide, toFile: (point: Vec2) => Vec2): DraftedSide {
  const { side } = fitted;
  const line = mapCurve(
    { start: [fitted.fit.chain[0], fitted.fit.chain[1]], segments: segmentsOf(fitted.fit.chain), closed: false },
    toFile,
  );
  return {
    id: side.id,
    ...(side.seam === undefined ? {} : { seam: side.seam }),
    kind: side.kind,
    lengthMm: measured.lengthMm,
    allowanceMm,
    seamLine: flattenCurve(line, outlineToleranceMm),
  };
}

function drawNotches(side: PartSide, input: DraftInput, draw: (layer: LayerName, curve: Curve) => void): DraftedNotch[] {
  const { seam, measured, allowanceMm } = side;
  if (seam === undefined) return [];
  return seam.shares.map((share, i) => {
    const own = seam.against ? 1 - share : share;
    const reach = side.reach(own);
    // Tabs leave no whole strip to cut notches into: their ticks stand on the seam line.
    const strip = side.join === 'tab' ? 0 : allowanceMm;
    const cutMm = reach.cut + strip;
    const tracedMm = strip > 0 ? cutMm : input.settings.tracedFace === 'inner' ? reach.inner : reach.outer;
    const notch = drawNotch(measured, own, seam.code[i], { cutMm, tracedMm, allowanceMm: strip }, input.settings.notch);
    for (const curve of notch.curves) draw('NOTCH', curve);
    return { seam: seam.id, at: notch.at, alongMm: share * measured.lengthMm, code: seam.code.join('-'), ticks: seam.code[i] };
  });
}

const chainCurve = (chain: F64): Curve => ({ start: [chain[0], chain[1]], segments: segmentsOf(chain), closed: false });

/** Distance between two points of a drawn face line, mm. */
const faceLineMm = 2;

function drawBevels(side: PartSide, draw: (layer: LayerName, curve: Curve) => void): DraftedBevel[] {
  const { seam, measured, fitted, allowanceMm } = side;
  if (seam === undefined || allowanceMm > 0) return [];
  return seam.stretches.map((stretch) => {
    const [from, to] = seam.against ? [1 - stretch.to, 1 - stretch.from] : [stretch.from, stretch.to];
    for (const face of ['outer', 'inner'] as const) {
      const count = Math.max(2, Math.ceil(((to - from) * measured.lengthMm) / faceLineMm));
      const points: number[] = [];
      for (let i = 0; i <= count; i++) {
        const share = from + (i / count) * (to - from);
        const { at, direction } = alongChain(measured, share * measured.lengthMm);
        const distance = side.reach(share)[face];
        points.push(at[0] + distance * direction[1], at[1] - distance * direction[0]);
      }
      draw(face === 'outer' ? 'BEVEL_OUTER' : 'BEVEL_INNER', smoothCurve(Float64Array.from(points)));
    }
    return {
      side: fitted.side.id,
      seam: seam.id,
      fromMm: from * measured.lengthMm,
      toMm: to * measured.lengthMm,
      leastDeg: stretch.leastDeg,
      mostDeg: stretch.mostDeg,
      loses: stretch.mostDeg > 0 ? 'inner' : 'outer',
    };
  });
}

function edgeWords(side: PartSide, toFile: (point: Vec2) => Vec2): EdgeWords[] {
  const { seam, fitted } = side;
  const { kind, id } = fitted.side;
  const edges: EdgeWords[] = [];
  if (seam !== undefined) edges.push({ text: `${id} to ${seam.mateId}`, optional: false, places: placesBetween(side, 0, 1, toFile) });
  else if (kind === 'border') edges.push({ text: `${id} finished edge`, optional: true, places: placesBetween(side, 0, 1, toFile) });
  else edges.push({ text: `${id} open edge`, optional: true, places: placesBetween(side, 0, 1, toFile) });
  if (seam !== undefined && side.allowanceMm === 0)
    for (const stretch of seam.stretches) {
      const [from, to] = seam.against ? [1 - stretch.to, 1 - stretch.from] : [stretch.from, stretch.to];
      edges.push({ text: bevelWords(stretch), optional: false, places: placesBetween(side, from, to, toFile) });
    }
  return edges;
}

/** Places tried along an edge, middle first. */
const placeShares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];

function placesBetween(side: PartSide, from: number, to: number, toFile: (point: Vec2) => Vec2): EdgeWords['places'] {
  return placeShares.map((part) => {
    const share = from + part * (to - from);
    const { at, direction } = alongChain(side.measured, share * side.measured.lengthMm);
    const { outer, inner } = side.reach(share);
    const depth = Math.min(outer, inner);
    const inside: Vec2 = [at[0] + depth * direction[1], at[1] - depth * direction[0]];
    const [start, further] = [toFile(inside), toFile([inside[0] - direction[1], inside[1] + direction[0]])];
    return { at: start, inward: [further[0] - start[0], further[1] - start[1]] as const };
  });
}

function drawnLines(paths: readonly DrawingPath[]): Float64Array[] {
  return paths.filter(({ layer }) => layer !== 'CUT' && layer !== 'CUT_INSIDE').map(({ curve }) => flattenCurve(curve, 0.2));
}

const sideWords = { L: 'left', R: 'right', C: 'middle' } as const;

/** Words of a part's block, from full to short, each wide and narrow. */
function blocksOf(part: PreparedPart, input: DraftInput, version: string, pairLetter: string | undefined): string[][][] {
  const { patch, letter, material } = part;
  const face = `${input.settings.tracedFace === 'inner' ? 'inside' : 'outside'} up`;
  const arrow = part.heading === 'up' ? [] : ['arrow to the front'];
  const title = `${letter}  ${patch.name}`;
  const side = sideWords[patch.side];
  const pair = pairLetter === undefined ? ['cut 1'] : ['cut one left, one right', `mirror of ${pairLetter}`];
  const job = [`${input.jobName},`, `${input.date}, version ${version}`];
  return [
    [
      [title, [side, ...pair].join(', '), [material.name, face, ...arrow].join(', '), job.join(' '), patch.id],
      [title, side, ...pair, material.name, face, ...arrow, ...job, patch.id],
    ],
    [
      [title, [side, pair[0]].join(', '), [material.id, face].join(', '), `version ${version}`],
      [title, side, ...pair, material.id, face, `version ${version}`],
    ],
    [
      [title, `${side}, ${face}`],
      [title, side, face],
    ],
    [[`${letter} ${side}`], [letter, side]],
    [[letter]],
  ];
}

function smoothCurve(points: F64): Curve {
  const lengths = arcLengths(points);
  const total = lengths[lengths.length - 1];
  const [fit] = fitTogether([{ points, fractions: lengths.map((length) => length / total) }], { toleranceMm: offsetFitMm });
  return chainCurve(fit.chain);
}
