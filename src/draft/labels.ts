/*
 * Words on a part: the block that says what it is, with its up arrow, and a line beside each edge. Everything is single-stroke lettering that fits
 * inside the part, 8 to 3 mm high, clear of cut lines, notches and each other, or leads out with a line.
 */
import type { Vec2 } from '../base/arrays.ts';
import { atan2, cos, sin } from '../base/elementary.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import { boxOf } from '../plane/polygon.ts';
import { lineCurve, polylineCurve } from './curve.ts';
import type { DrawingLabel, DrawingPath } from './drawing.ts';
import type { Box, Place, Space } from './free-space.ts';
import { besideBoxes, deepPlaces, fitBox, isFree, meetsNothing } from './free-space.ts';
import { letterText, placeStrokes, textWidth } from './lettering.ts';
import { arrowCurves, arrowWidth } from './up-arrow.ts';

/** A line of words beside an edge. */
export interface EdgeWords {
  readonly text: string;
  /** Left out in silence where there is no room. */
  readonly optional: boolean;
  /** Dense points of the edge's stretch as drawn, with the unit direction into the part at each: candidates for the label's place, best first. */
  readonly places: readonly { readonly at: Vec2; readonly inward: Vec2 }[];
}

export interface LabelRequest {
  readonly part: string;
  /** Alternatives from full to short: the first that fits is written. Each is the same words in one or more layouts of lines. */
  readonly blocks: readonly (readonly (readonly string[])[])[];
  readonly edges: readonly EdgeWords[];
}

export interface PlacedLabels {
  readonly paths: readonly DrawingPath[];
  readonly labels: readonly DrawingLabel[];
  readonly findings: readonly Finding[];
}

const blockHeights = [8, 7, 6, 5, 4, 3.5, 3] as const;
const edgeHeights = [4, 3.5, 3] as const;
/** Base line to base line, as a multiple of the capital's height. */
const lineFeed = 1.7;
/** How far letters hang below the base line (g, commas) or accents stand above a capital, as a share of the capital's height. */
const overhang = 0.35;
/** Clear of cut lines and other marks, mm. */
const clearMm = 1.5;
/** Distances from the edge at which its words are tried, mm: close, beyond the ticks, further in. */
const edgeGaps = [2, 7, 12, 18] as const;

/**
 * Letters one part. The block is written as large as leaves room for the words beside the edges; if no size does, the one that leaves the fewest out.
 * The space's boxes grow by what is placed.
 */
export function placeLabels(request: LabelRequest, space: Space): PlacedLabels {
  const places = deepPlaces(space);
  let best: Attempt | undefined;
  for (const largest of blockHeights) {
    const attempt = attemptLabels(request, { ...space, boxes: [...space.boxes] }, places, largest);
    if (best === undefined || attempt.left.length < best.left.length) best = attempt;
    if (best.left.length === 0) break;
  }
  if (best === undefined) return { paths: [], labels: [], findings: [] };
  space.boxes.push(...best.boxes);
  const findings = best.left.map((text) =>
    finding(
      'note',
      'draft/no-room',
      `There is no room for "${text}" on part ${request.part}.`,
      { stage: 'draft', item: request.part },
      'Read it from the build sheet.',
    ),
  );
  if (best.replaced.length > 0)
    findings.push(
      finding(
        'note',
        'draft/letters',
        `The pen's alphabet has no ${best.replaced.join(' ')}: it is written with plain letters or as a box on part ${request.part}.`,
        { stage: 'draft', item: request.part },
        'The files keep the words as you typed them.',
      ),
    );
  return { paths: best.paths, labels: best.labels, findings };
}

interface Attempt {
  readonly paths: readonly DrawingPath[];
  readonly labels: readonly DrawingLabel[];
  readonly boxes: readonly Box[];
  /** Words that found no room. */
  readonly left: readonly string[];
  readonly replaced: readonly string[];
}

function attemptLabels(request: LabelRequest, space: Space, places: readonly Place[], largestMm: number): Attempt {
  const paths: DrawingPath[] = [];
  const labels: DrawingLabel[] = [];
  const left: string[] = [];
  const replaced = new Set<string>();
  const already = space.boxes.length;
  const { part } = request;
  const write = (text: string, at: Vec2, heightMm: number, angle: number): void => {
    const lettering = letterText(text, heightMm);
    lettering.replaced.forEach((character) => replaced.add(character));
    for (const stroke of placeStrokes(lettering.strokes, at, angle))
      paths.push({ layer: 'TEXT', curve: polylineCurve(Float64Array.from(stroke.flat()), false), part });
    labels.push({ text, at, heightMm, angle, part });
  };
  const block = placeBlock(request, space, places, largestMm);
  if (block === undefined) leadOut(request, space, places[0]?.at, write, paths);
  else {
    writeBlock(block, request, write, paths);
    space.boxes.push(...lineBoxes(block));
    if (!block.arrow) placeArrow(part, space, places, paths);
  }
  for (const edge of request.edges) {
    const placed = placeEdge(edge, space, places);
    if (placed === undefined) {
      if (!edge.optional) left.push(edge.text);
      continue;
    }
    write(edge.text, startOf(placed.box), placed.box.heightMm / (1 + overhang), placed.box.angle);
    space.boxes.push(placed.box);
    if (placed.leader === undefined) continue;
    paths.push({ layer: 'TEXT', curve: lineCurve(...placed.leader), part });
    const ray = lineBox(...placed.leader);
    if (ray !== undefined) space.boxes.push(ray);
  }
  return { paths, labels, boxes: space.boxes.slice(already), left, replaced: [...replaced] };
}

interface PlacedBlock {
  readonly lines: readonly string[];
  readonly heightMm: number;
  readonly box: Box;
  /** The arrow stands left of the words; a turned block has none, the arrow then stands where it finds room. */
  readonly arrow: boolean;
}

/** Upright words of at least this height are preferred to larger ones that are turned, mm. */
const uprightMm = 4;

/** The fullest block that fits: upright and large first, then turned, then small. */
function placeBlock(request: LabelRequest, space: Space, places: readonly Place[], largestMm: number): PlacedBlock | undefined {
  const upright = (layouts: readonly (readonly string[])[], heights: readonly number[]): PlacedBlock | undefined => {
    for (const heightMm of heights)
      for (const lines of layouts) {
        const { widthMm, heightMm: high } = blockSize(lines, heightMm);
        const size = { widthMm: widthMm + arrowWidth(heightMm), heightMm: Math.max(high, arrowLeast * heightMm) };
        const box = fitBox(space, places, size, [0], clearMm);
        if (box !== undefined) return { lines, heightMm, box, arrow: true };
      }
    return undefined;
  };
  const turned = (layouts: readonly (readonly string[])[], heights: readonly number[]): PlacedBlock | undefined => {
    for (const heightMm of heights)
      for (const lines of layouts) {
        const box = fitBox(space, places, blockSize(lines, heightMm), turns, clearMm);
        if (box !== undefined) return { lines, heightMm, box, arrow: false };
      }
    return undefined;
  };
  const allowed = blockHeights.filter((height) => height <= largestMm);
  const large = allowed.filter((height) => height >= uprightMm);
  const small = allowed.filter((height) => height < uprightMm);
  for (const layouts of request.blocks) {
    const found = upright(layouts, large) ?? turned(layouts, large) ?? upright(layouts, small) ?? turned(layouts, small);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The boxes of a block's lines and of its arrow: the ragged room beside short lines stays free. */
function lineBoxes({ lines, heightMm, box, arrow }: PlacedBlock): Box[] {
  const [c, s] = [cos(box.angle), sin(box.angle)];
  const indent = arrow ? arrowWidth(heightMm) : 0;
  const textHeight = heightMm * (1 + lineFeed * (lines.length - 1));
  const at = (x: number, y: number): Vec2 => [box.centre[0] + c * x - s * y, box.centre[1] + s * x + c * y];
  const boxes = lines.map((line, i): Box => {
    const widthMm = textWidth(line, heightMm);
    const middle = textHeight / 2 - heightMm * (0.5 + lineFeed * i);
    return {
      centre: at(indent + (widthMm - box.widthMm) / 2, middle),
      widthMm,
      heightMm: (1 + 2 * overhang) * heightMm,
      angle: box.angle,
    };
  });
  if (arrow) boxes.push({ centre: at((indent - box.widthMm) / 2, 0), widthMm: indent, heightMm: box.heightMm, angle: box.angle });
  return boxes;
}

/** Angles of a block that does not fit upright. */
const turns = [Math.PI / 2, Math.PI / 4, -Math.PI / 4] as const;
/** Shortest arrow beside a block, as a multiple of the capital's height. */
const arrowLeast = 3;

function blockSize(lines: readonly string[], heightMm: number): Pick<Box, 'widthMm' | 'heightMm'> {
  return {
    widthMm: Math.max(...lines.map((line) => textWidth(line, heightMm))),
    heightMm: heightMm * (1 + lineFeed * (lines.length - 1) + 2 * overhang),
  };
}

/** Lengths of an arrow that stands alone, mm. */
const loneArrows = [30, 20, 12] as const;

/** An arrow of its own, where a turned block has taken the middle. */
function placeArrow(part: string, space: Space, bare: readonly Place[], pathsInto: DrawingPath[]): void {
  const places = besideBoxes(bare, space.boxes);
  for (const length of loneArrows) {
    const box = fitBox(space, places, { widthMm: arrowWidth(uprightMm), heightMm: length }, [0], clearMm);
    if (box === undefined) continue;
    const { curves } = arrowCurves([box.centre[0], box.centre[1] - length / 2], length, uprightMm);
    for (const curve of curves) pathsInto.push({ layer: 'ARROW', curve, part });
    space.boxes.push(box);
    return;
  }
}

function writeBlock(
  { lines, heightMm, box, arrow }: PlacedBlock,
  request: LabelRequest,
  write: (text: string, at: Vec2, heightMm: number, angle: number) => void,
  pathsInto: DrawingPath[],
): void {
  const [c, s] = [cos(box.angle), sin(box.angle)];
  const indent = arrow ? arrowWidth(heightMm) : 0;
  const textHeight = heightMm * (1 + lineFeed * (lines.length - 1));
  const at = (x: number, y: number): Vec2 => [box.centre[0] + c * x - s * y, box.centre[1] + s * x + c * y];
  lines.forEach((line, i) => {
    const top = textHeight / 2 - heightMm * (1 + lineFeed * i);
    write(line, at(indent - box.widthMm / 2, top), heightMm, box.angle);
  });
  if (!arrow) return;
  const foot: Vec2 = [box.centre[0] - box.widthMm / 2 + arrowWidth(heightMm) / 3, box.centre[1] - box.heightMm / 2];
  const { curves } = arrowCurves(foot, box.heightMm, heightMm);
  for (const curve of curves) pathsInto.push({ layer: 'ARROW', curve, part: request.part });
}

/** Start of the base line of one line of words in a box: letters that hang below it stay inside the box. */
function startOf({ centre, widthMm, heightMm, angle }: Box): Vec2 {
  const [c, s] = [cos(angle), sin(angle)];
  const down = heightMm / 2 - (overhang * heightMm) / (1 + overhang);
  return [centre[0] - (c * widthMm) / 2 + s * down, centre[1] - (s * widthMm) / 2 - c * down];
}

function placeEdge(
  edge: EdgeWords,
  space: Space,
  bare: readonly Place[],
): { readonly box: Box; readonly leader?: readonly [Vec2, Vec2] } | undefined {
  for (const heightMm of edgeHeights) {
    const widthMm = textWidth(edge.text, heightMm);
    for (const gap of edgeGaps)
      for (const { at, inward } of edge.places) {
        const high = heightMm * (1 + overhang);
        const depth = gap + high / 2;
        const box: Box = {
          centre: [at[0] + depth * inward[0], at[1] + depth * inward[1]],
          widthMm,
          heightMm: high,
          angle: readable(inward),
        };
        if (isFree(space, box, clearMm / 2)) return { box };
      }
  }
  return edge.optional ? undefined : placeLed(edge, space, bare);
}

/** Anywhere inside, with a line to the edge. */
function placeLed(
  edge: EdgeWords,
  space: Space,
  bare: readonly Place[],
): { readonly box: Box; readonly leader: readonly [Vec2, Vec2] } | undefined {
  if (edge.places.length === 0) return undefined;
  const heightMm = edgeHeights[edgeHeights.length - 1];
  const widthMm = textWidth(edge.text, heightMm);
  const { at, inward } = edge.places[0];
  const tip: Vec2 = [at[0] + inward[0], at[1] + inward[1]];
  const near = besideBoxes(bare, space.boxes)
    .filter(({ depthMm }) => depthMm > heightMm / 2)
    .map((place) => ({ ...place, away: Math.hypot(place.at[0] - at[0], place.at[1] - at[1]) }))
    .sort((p, q) => p.away - q.away);
  for (const place of near) {
    const box: Box = { centre: place.at, widthMm, heightMm: heightMm * (1 + overhang), angle: 0 };
    if (!isFree(space, box, clearMm / 2)) continue;
    const leader = leaderTo(box, tip);
    const ray = lineBox(leader[0], leader[1]);
    if (ray === undefined || meetsNothing(space, ray, 0)) return { box, leader };
  }
  return undefined;
}

/** From the nearest end of a box's middle line to a point. */
function leaderTo(box: Box, tip: Vec2): readonly [Vec2, Vec2] {
  const side = tip[0] < box.centre[0] ? -1 : 1;
  return [[box.centre[0] + side * (box.widthMm / 2 + 0.75), box.centre[1]], tip];
}

/** A thin box along a line, a little short of its ends. */
function lineBox(from: Vec2, to: Vec2): Box | undefined {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length < 1) return undefined;
  return {
    centre: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2],
    widthMm: length - 1,
    heightMm: 0.1,
    angle: atan2(to[1] - from[1], to[0] - from[0]),
  };
}

/** Angle of words along an edge such that they are not upside down. */
function readable(inward: Vec2): number {
  const angle = atan2(-inward[0], inward[1]);
  if (angle > Math.PI / 2 + 0.01) return angle - Math.PI;
  return angle <= -Math.PI / 2 + 0.01 ? angle + Math.PI : angle;
}

/** The shortest block outside the part, right of it, with a line to its middle. */
function leadOut(
  request: LabelRequest,
  space: Space,
  deep: Vec2 | undefined,
  write: (text: string, at: Vec2, heightMm: number, angle: number) => void,
  pathsInto: DrawingPath[],
): void {
  const [lines] = request.blocks[request.blocks.length - 1];
  const heightMm = blockHeights[blockHeights.length - 1];
  const { max } = boxOf(space.outer);
  const deepest = deep ?? [space.outer[0], space.outer[1]];
  const start: Vec2 = [max[0] + 3, deepest[1]];
  lines.forEach((line, i) => write(line, [start[0], start[1] - heightMm / 2 - i * lineFeed * heightMm], heightMm, 0));
  pathsInto.push({ layer: 'TEXT', curve: lineCurve([start[0] - 1, start[1]], deepest), part: request.part });
}
