/*
 * The contract of a mesh reader: one file format, one record, one line in `index.ts`.
 */
import type { Run } from '../base/run.ts';
import type { SourceFile, TriangleSoup } from './triangle-soup.ts';

export interface MeshReader {
  /** Name of the format as `TriangleSoup.format` carries it. */
  readonly format: string;
  /** The format's name in the maker's words. */
  readonly title: string;
  /** Extensions that belong to the format, lower case, without the dot. */
  readonly extensions: readonly string[];
  /** True if the bytes themselves show that the file is of this format. Must never throw. */
  readonly recognises: (bytes: Uint8Array) => boolean;
  /** The triangles of the file. Throws a Failure of `read/…` that says what is wrong, at which line or byte, and how to mend it. */
  readonly read: (file: SourceFile, bytes: Uint8Array, run: Run) => Promise<TriangleSoup>;
}
