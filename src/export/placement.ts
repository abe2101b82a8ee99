/*
 * Where a part lies on its sheet, as one motion of the plane: mirror x (if so), turn counter-clockwise about the part's origin, move
 * (contract). Quarter turns are exact; letters are carried, never mirrored.
 */
import type { Vec2 } from '../base/arrays.ts';
import { cos, sin } from '../base/elementary.ts';
import type { Drawing, DrawingLabel, DrawingPath } from '../draft/drawing.ts';
import type { PlacedPart } from '../nest/sheet.ts';
import { toRadians } from '../units/angle.ts';
import { mapCurve } from '../draft/curve.ts';
import { groupLetters, type LabelLetters } from './letters.ts';

/** x′ = a·x + c·y + e, y′ = b·x + d·y + f. */
export interface Motion {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

const quarterTurns: readonly Vec2[] = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
];

/** The motion of a placement. */
export function motionOf(placed: Pick<PlacedPart, 'xMm' | 'yMm' | 'angleDeg' | 'mirrored'>): Motion {
  const turn = ((placed.angleDeg % 360) + 360) % 360;
  const angle = toRadians(turn);
  const [cosine, sine] = turn % 90 === 0 ? quarterTurns[turn / 90] : [cos(angle), sin(angle)];
  const flip = placed.mirrored ? -1 : 1;
  return { a: flip * cosine, b: flip * sine, c: -sine, d: cosine, e: placed.xMm, f: placed.yMm };
}

/** A point taken through a motion. */
export const moved = (motion: Motion, [x, y]: Vec2): Vec2 => [
  motion.a * x + motion.c * y + motion.e,
  motion.b * x + motion.d * y + motion.f,
];

/**
 * A part's drawing where its placement puts it. Under a mirroring the lines are mirrored, and each label keeps its place but is
 * lettered from its mirrored end, so that it still reads from left to right.
 */
export function placeDrawing(drawing: Drawing, placed: PlacedPart): Drawing {
  const motion = motionOf(placed);
  const move = (point: Vec2): Vec2 => moved(motion, point);
  if (!placed.mirrored)
    return {
      paths: drawing.paths.map((path) => ({ ...path, curve: mapCurve(path.curve, move) })),
      labels: drawing.labels.map((label) => ({ ...label, at: move(label.at), angle: label.angle + toRadians(placed.angleDeg) })),
    };
  const letters = groupLetters(drawing);
  const carried = letters.labels.map((group) => carryLabel(group, motion, toRadians(placed.angleDeg)));
  return {
    paths: [...letters.others.map((path) => ({ ...path, curve: mapCurve(path.curve, move) })), ...carried.flatMap((group) => group.paths)],
    labels: carried.map((group) => group.label),
  };
}

/** A label and its strokes under a mirroring motion: its box is mirrored, its letters are not. */
function carryLabel(group: LabelLetters, motion: Motion, turn: number): { label: DrawingLabel; paths: readonly DrawingPath[] } {
  const { label, widthMm } = group;
  const along: Vec2 = [cos(label.angle), sin(label.angle)];
  const at = moved(motion, [label.at[0] + widthMm * along[0], label.at[1] + widthMm * along[1]]);
  const angle = turn - label.angle;
  const out: Vec2 = [cos(angle), sin(angle)];
  const carry = ([x, y]: Vec2): Vec2 => {
    const [dx, dy] = [x - label.at[0], y - label.at[1]];
    const u = dx * along[0] + dy * along[1];
    const v = dy * along[0] - dx * along[1];
    return [at[0] + u * out[0] - v * out[1], at[1] + u * out[1] + v * out[0]];
  };
  return { label: { ...label, at, angle }, paths: group.paths.map((path) => ({ ...path, curve: mapCurve(path.curve, carry) })) };
}
