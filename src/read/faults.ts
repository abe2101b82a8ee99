/*
 * The failures that several readers share, each said once. Every one names the file, the place (line or byte) and the way out.
 */
import { Failure } from '../base/failure.ts';
import type { Where } from '../base/failure.ts';

/** What a maker does about a file that the other program wrote badly. */
const exportAgain = 'Export the mesh again from the program that made it; if it was downloaded or copied, fetch it again.';

/** A place in a file: a line of a text file, or a byte of a binary one. */
export type FilePlace = { readonly line: number } | { readonly byte: number };

const placeText = (place: FilePlace): string => ('line' in place ? `line ${place.line}` : `byte ${place.byte}`);

/** The file stops in the middle. */
export function cutOff(file: string, what: string, place: FilePlace): Failure {
  const where: Where = { stage: 'read', file, ...place };
  return new Failure('read/cut-off', `"${file}" stops in the middle: ${what} (${placeText(place)}).`, where, exportAgain);
}

/** A word stands where a finite number should. */
export function notANumber(file: string, word: string, meaning: string, place: FilePlace): Failure {
  const where: Where = { stage: 'read', file, ...place };
  const isComma = /^[+-]?\d+,\d+/.test(word);
  const what = `"${file}" has "${word}" as ${meaning} in ${placeText(place)}, where a finite number must stand.`;
  const mend = isComma
    ? 'The file has decimal commas: export it again with decimal points (set the language of the exporting program to English).'
    : exportAgain;
  return new Failure('read/not-a-number', what, where, mend);
}

/** A face names a vertex that is not there. */
export function badIndex(file: string, index: number, vertexTotal: number, face: number, place: FilePlace | undefined): Failure {
  const where: Where = { stage: 'read', file, ...place, faces: [face] };
  const at = place === undefined ? '' : ` (${placeText(place)})`;
  return new Failure(
    'read/bad-index',
    `"${file}": face ${face + 1}${at} names vertex ${index}, but the file has ${vertexTotal} vertices.`,
    where,
    exportAgain,
  );
}

/** Vertices but no face. */
export function pointsOnly(file: string, vertexTotal: number): Failure {
  return new Failure(
    'read/points-only',
    `"${file}" holds ${vertexTotal} points and no faces: it is a point cloud, not a surface.`,
    { stage: 'read', file },
    'Let the scanning program make a mesh ("surface reconstruction") and export that as OBJ, PLY, STL or GLB.',
  );
}

/** Not a single vertex. */
export function noVertices(file: string, format: string): Failure {
  return new Failure(
    'read/no-vertices',
    `"${file}" was taken for ${format}, but there is not one vertex in it.`,
    { stage: 'read', file },
    'Check that this is the mesh itself (OBJ, GLB, glTF, PLY or STL) and not its material or picture file; then export it again.',
  );
}

/** The structure of the file is wrong in another way. */
export function malformed(file: string, what: string, place: FilePlace | undefined, cause?: unknown): Failure {
  const where: Where = { stage: 'read', file, ...place };
  const at = place === undefined ? '' : ` (${placeText(place)})`;
  return new Failure('read/malformed', `"${file}" is damaged: ${what}${at}.`, where, exportAgain, cause);
}
