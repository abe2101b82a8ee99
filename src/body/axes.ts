/*
 * Up and front: letters of the file's axes and the directions that they stand for.
 */
import type { Vec3 } from '../base/arrays.ts';
import { finding } from '../base/failure.ts';
import type { Finding } from '../base/failure.ts';
import type { Axis } from './body.ts';

/** Unit direction of an axis. */
export function directionOf(axis: Axis): Vec3 {
  const sign = axis.startsWith('-') ? -1 : 1;
  const letter = axis.endsWith('x') ? 0 : axis.endsWith('y') ? 1 : 2;
  return [letter === 0 ? sign : 0, letter === 1 ? sign : 0, letter === 2 ? sign : 0];
}

/** Height of a point along an axis. */
export function alongAxis(axis: Axis, x: number, y: number, z: number): number {
  const [a, b, c] = directionOf(axis);
  return a * x + b * y + c * z;
}

/** The wearer's left: up × front. */
export function leftOf(up: Axis, front: Axis): Vec3 {
  const [ux, uy, uz] = directionOf(up);
  const [fx, fy, fz] = directionOf(front);
  // Adding 0 turns −0 into 0.
  return [uy * fz - uz * fy + 0, uz * fx - ux * fz + 0, ux * fy - uy * fx + 0];
}

/** z counts as up only where it is longer than y by this factor: a bust is about as deep as it is high. */
const clearlyTaller = 1.3;

/**
 * Up and front as chosen, or as proposed from the sides of the box around the mesh: y up unless z is clearly the tallest side, front by the
 * habit of programs with that up axis (y up: z; z up: −y).
 */
export function chooseAxes(
  size: Vec3,
  up: Axis | undefined,
  front: Axis | undefined,
): { readonly up: Axis; readonly front: Axis; readonly findings: readonly Finding[] } {
  const proposedUp: Axis = up ?? (size[2] > clearlyTaller * size[1] && size[2] > size[0] ? 'z' : 'y');
  const habit: Axis = proposedUp.endsWith('y') ? 'z' : proposedUp.endsWith('z') ? '-y' : 'z';
  const proposedFront: Axis = front ?? habit;
  if (up !== undefined && front !== undefined) return { up, front, findings: clash(up, front) };
  const what = `Up was taken as ${proposedUp} and front as ${proposedFront}.`;
  const mend = 'Look at the body: if it lies, or turns its back, choose the other axis.';
  const note = finding('note', 'body/guessed-axes', what, { stage: 'body' }, mend);
  return { up: proposedUp, front: proposedFront, findings: [note, ...clash(proposedUp, proposedFront)] };
}

function clash(up: Axis, front: Axis): Finding[] {
  if (up.at(-1) !== front.at(-1)) return [];
  const what = `Up (${up}) and front (${front}) lie along the same line, so left and right are not defined.`;
  return [finding('severe', 'body/axes-clash', what, { stage: 'body' }, 'Choose another front axis.')];
}
