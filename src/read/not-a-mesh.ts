/*
 * Files that are often opened by mistake, known by their first bytes, each with its own way out.
 */
import { Failure } from '../base/failure.ts';
import { asciiText } from './text-scanner.ts';

interface Mistake {
  readonly isSeen: (bytes: Uint8Array, head: string) => boolean;
  readonly what: string;
  readonly mend: string;
}

const startsWith = (bytes: Uint8Array, ...signature: readonly number[]): boolean => signature.every((byte, i) => bytes[i] === byte);

const mistakes: readonly Mistake[] = [
  {
    isSeen: (_, head) => /^\s*<(!doctype html|html|head|body)/i.test(head),
    what: 'is a web page, not a mesh',
    mend: 'The download gave the page around the file: open that page, and use its own download button.',
  },
  {
    isSeen: (_, head) => /^\s*</.test(head),
    what: 'is XML, a format that Plastron does not read',
    mend: 'Export the mesh as OBJ or GLB.',
  },
  {
    isSeen: (bytes) => startsWith(bytes, 0x50, 0x4b, 3, 4),
    what: 'is a zip archive',
    mend: 'Unpack it and open the mesh inside (OBJ, GLB, PLY or STL).',
  },
  {
    isSeen: (bytes) => startsWith(bytes, 0x1f, 0x8b),
    what: 'is a gzip archive',
    mend: 'Unpack it and open the mesh inside (OBJ, GLB, PLY or STL).',
  },
  {
    isSeen: (bytes) => startsWith(bytes, 0x89, 0x50, 0x4e, 0x47) || startsWith(bytes, 0xff, 0xd8, 0xff),
    what: 'is a picture',
    mend: 'Open the mesh that the picture belongs to (OBJ, GLB, PLY or STL).',
  },
  {
    isSeen: (bytes) => startsWith(bytes, 0x25, 0x50, 0x44, 0x46),
    what: 'is a PDF document',
    mend: 'Open the mesh itself (OBJ, GLB, PLY or STL).',
  },
  {
    isSeen: (_, head) => /^\s*(newmtl|#.*mtl)/i.test(head),
    what: 'is a material list, not a mesh',
    mend: 'Open the OBJ file that it belongs to.',
  },
];

/** The Failure for a file that is plainly something else, or undefined. */
export function notAMesh(file: string, bytes: Uint8Array): Failure | undefined {
  const head = asciiText(bytes, 0, 200).replaceAll('?', ' ');
  const mistake = mistakes.find((known) => known.isSeen(bytes, head));
  if (mistake === undefined) return undefined;
  return new Failure('read/not-a-mesh', `"${file}" ${mistake.what}.`, { stage: 'read', file }, mistake.mend);
}
