/*
 * What readers deliver: triangles as the file had them, in the file's own unit and axes, nothing welded, nothing mended.
 */
import type { F64, U32, U8 } from '../base/arrays.ts';
import type { LengthUnit } from '../units/length.ts';
import type { Finding } from '../base/failure.ts';

/** A file as it came from disk or from the page. */
export interface SourceFile {
  readonly name: string;
  readonly bytes: U8;
}

export interface TriangleSoup {
  /** File units; shape 3·n. */
  readonly positions: F64;
  /** Every index below n; shape 3·m. */
  readonly faces: U32;
  /** What the format itself fixes (glTF: metres), else 'unknown'. */
  readonly unit: LengthUnit | 'unknown';
  /** RGB 0…255 a vertex where the file has colours; shape 3·n. */
  readonly colors?: U8;
  /** 'obj', 'gltf', 'ply' or 'stl'. */
  readonly format: string;
  readonly findings: readonly Finding[];
}
